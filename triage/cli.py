"""The command line: ``triage COMMAND``; parsing here, the commands in ``cli_commands``.

Exit codes: 0 done, 1 faults or broken rules found, 2 input cannot be used, 3 no plan (the outcome is
written), 130 cancelled.
"""

from __future__ import annotations

import argparse
import os
import signal
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

from triage import cli_commands as commands
from triage.cli_output import Console, Exit
from triage.cli_serve import serve
from triage.errors import Cancelled, UnusableInput
from triage.workflow import SECONDS

FOLDER = "a folder of CSV files, or one XLSX workbook with a sheet per table"


def parser() -> argparse.ArgumentParser:
    """Return the parser of every command."""
    top = argparse.ArgumentParser(
        prog="triage",
        description="Decides from walk-through condition grades which large museum object comes off display "
        "next, when, and into which restoration bay.",
        epilog="Exit codes: 0 done, 1 faults or broken rules found, 2 input cannot be used, 3 no plan (the "
        "outcome is written), 130 cancelled. Proposals only: never a permission to lift, open or enter.",
    )
    sub = top.add_subparsers(dest="command", required=True, metavar="COMMAND")
    _folder_commands(sub)
    _file_commands(sub)
    return top


Commands = argparse._SubParsersAction


def _folder_commands(sub: Commands[argparse.ArgumentParser]) -> None:
    check = _command(sub, "check", commands.check, "list every fault of a collection, with place and mend")
    check.add_argument("folder", type=Path, metavar="FOLDER", help=FOLDER)

    forecast = _command(
        sub, "forecast", commands.forecast, "write the true grade of every element, years ahead"
    )
    forecast.add_argument("folder", type=Path, metavar="FOLDER", help=FOLDER)
    forecast.add_argument("--out", type=Path, required=True, metavar="F.csv", help="where the table goes")

    plan = _command(sub, "plan", commands.plan, "the main job: the queue, the galleries, and why")
    plan.add_argument("folder", type=Path, metavar="FOLDER", help=FOLDER)
    plan.add_argument("--out", type=Path, required=True, metavar="PLAN.json", help="where the outcome goes")
    plan.add_argument("--problem", type=Path, metavar="PROBLEM.json", help="write the planning problem too")
    _seconds(plan)

    explain = _command(
        sub, "explain", commands.explain, "why this object, why not sooner, what waiting costs"
    )
    explain.add_argument("folder", type=Path, metavar="FOLDER", help=FOLDER)
    explain.add_argument("--plan", type=Path, required=True, metavar="PLAN.json", help="a plan or an outcome")
    explain.add_argument("object_id", metavar="OBJECT_ID", help="an object of the collection")

    dashboard = _command(sub, "serve", serve, "the dashboard, on this machine only", machine=False)
    dashboard.add_argument("folder", type=Path, metavar="FOLDER", help=FOLDER)
    dashboard.add_argument(
        "--plan", type=Path, metavar="PLAN.json", help="show this plan instead of making one"
    )
    dashboard.add_argument("--port", type=_port, default=8050, help="port on 127.0.0.1 (default 8050)")
    _seconds(dashboard)


def _file_commands(sub: Commands[argparse.ArgumentParser]) -> None:
    solve = _command(sub, "solve", commands.solve, "plan a problem file made by another program")
    solve.add_argument("problem", type=Path, metavar="PROBLEM.json", help="a planning problem")
    solve.add_argument(
        "--out", type=Path, required=True, metavar="OUTCOME.json", help="where the outcome goes"
    )
    _seconds(solve)

    verify = _command(
        sub, "verify", commands.verify, "recompute a plan from nothing and name every broken rule"
    )
    verify.add_argument("problem", type=Path, metavar="PROBLEM.json", help="the planning problem")
    verify.add_argument("plan", type=Path, metavar="PLAN_OR_OUTCOME.json", help="a plan or an outcome")


def _command(
    sub: Commands[argparse.ArgumentParser],
    name: str,
    run: commands.Command,
    text: str,
    *,
    machine: bool = True,
) -> argparse.ArgumentParser:
    found = sub.add_parser(name, help=text, description=f"{text[0].upper()}{text[1:]}.")
    found.set_defaults(run=run, json=False)
    if machine:
        found.add_argument("--json", action="store_true", help="print the answer as JSON, for programs")
    return found


def _seconds(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--seconds",
        type=_positive,
        default=SECONDS,
        metavar="N",
        help=f"how long the search for a plan may take (default {SECONDS:g})",
    )


def _positive(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = 0.0
    if not 0 < value < float("inf"):
        raise argparse.ArgumentTypeError(f"{text!r} is not a number of seconds above 0")
    return value


def _port(text: str) -> int:
    if not text.isdigit() or not 1 <= int(text) <= 65535:
        raise argparse.ArgumentTypeError(f"{text!r} is not a port from 1 to 65535")
    return int(text)


@contextmanager
def _ending_like_ctrl_c() -> Iterator[None]:
    """Treat a request to end (SIGTERM) like Ctrl-C meanwhile, so that the best plan found is kept."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGTERM, _ended)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)


def _ended(_signal: int, _frame: FrameType | None) -> None:
    raise KeyboardInterrupt


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; nobody ever meets a traceback for bad input."""
    args = parser().parse_args(argv)
    console = Console(as_json=args.json)
    try:
        with _ending_like_ctrl_c():
            code: Exit = args.run(args, console)
        sys.stdout.flush()
    except UnusableInput as error:
        console.refuse(error)
        return Exit.UNUSABLE
    except (KeyboardInterrupt, Cancelled):
        console.say("Cancelled.")
        return Exit.CANCELLED
    except BrokenPipeError:
        # whoever read our output has gone (`| head`): not a failure, and nothing more can be said there
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return Exit.DONE
    return code
