"""The commands: each calls one use case, writes its files and prints its answer."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from triage import workflow
from triage.cli_output import Console, Exit
from triage.errors import UnusableInput
from triage.files import must_be_writable, write_text
from triage.planning.outcome import Ending, Outcome
from triage.planning.reading import outcome_json, problem_json
from triage.reports import text
from triage.reports.explain_text import explain_text
from triage.reports.forecast_table import forecast_csv
from triage.reports.gallery import gallery_rows, untreated_rows
from triage.reports.notes import note_rows
from triage.reports.plain import plain
from triage.reports.queue import queue_rows, running_rows
from triage.reports.safety import safety_rows
from triage.reports.standing import standing
from triage.reports.study import Study

Command = Callable[[argparse.Namespace, Console], Exit]


def check(args: argparse.Namespace, console: Console) -> Exit:
    """List every fault of a collection."""
    intake = workflow.check(args.folder)
    value = {
        "faults": [fault.model_dump(mode="json") for fault in intake.faults],
        "counts": plain(dict(intake.counts)),
    }
    console.answer(text.check_text(intake, str(args.folder)), value)
    return Exit.FOUND if intake.errors else Exit.DONE


def forecast(args: argparse.Namespace, console: Console) -> Exit:
    """Write the forecast of every element."""
    must_be_writable(args.out)
    table = workflow.forecast_table(args.folder, console.say)
    write_text(args.out, forecast_csv(table.rows))
    value = {"out": str(args.out), "elements": len(table.forecast.elements), "rows": len(table.rows)}
    value |= {"notes": list(table.forecast.notes), "set_aside": [f.sentence() for f in table.intake.errors]}
    console.answer(text.forecast_text(table, str(args.out)), value)
    return Exit.DONE


def plan(args: argparse.Namespace, console: Console) -> Exit:
    """Do the main job: read, forecast, plan, check, write and print."""
    for path in filter(None, (args.out, args.problem)):
        must_be_writable(path)
    if args.problem is not None and args.problem.resolve() == args.out.resolve():
        raise UnusableInput(f"--out and --problem both name {args.out}. Give each a file of its own.")
    prepared = workflow.prepare(args.folder, console.say)
    problem = prepared.assembled.problem
    if args.problem is not None:
        write_text(args.problem, problem_json(problem))
    made = replace(prepared, outcome=workflow.search(problem, args.seconds, console.say))
    assert made.outcome is not None
    write_text(args.out, outcome_json(made.outcome))
    console.answer(text.plan_text(made), plan_value(made))
    return exit_of(made.outcome)


def solve(args: argparse.Namespace, console: Console) -> Exit:
    """Plan a problem file and write the outcome."""
    must_be_writable(args.out)
    outcome = workflow.solve_file(args.problem, args.seconds, console.say)
    write_text(args.out, outcome_json(outcome))
    console.answer(text.outcome_text(outcome), outcome.model_dump(mode="json"))
    return exit_of(outcome)


def verify(args: argparse.Namespace, console: Console) -> Exit:
    """Check a plan and name every broken rule."""
    verdict = workflow.verify_file(args.problem, args.plan)
    value = {
        "sound": verdict.has_plan and not verdict.broken,
        "has_plan": verdict.has_plan,
        "broken": [v.model_dump(mode="json") for v in verdict.broken],
    }
    console.answer(text.verdict_text(verdict.broken, has_plan=verdict.has_plan), value)
    if verdict.broken:
        return Exit.FOUND
    return Exit.DONE if verdict.has_plan else Exit.NO_PLAN


def explain(args: argparse.Namespace, console: Console) -> Exit:
    """Explain one object's place in the plan."""
    made = workflow.with_plan(workflow.prepare(args.folder, console.say), args.plan)
    page = workflow.explain(made, args.object_id)
    console.answer(explain_text(made, page), plain(page))
    return Exit.DONE if made.outcome is not None and made.outcome.plan is not None else Exit.NO_PLAN


def plan_value(made: Study) -> dict[str, Any]:
    """Return a study's plan for programs, in the order people read it."""
    assert made.outcome is not None
    return {
        "safety": plain(safety_rows(made)),
        "standing": standing(made.outcome),
        "queue": plain(queue_rows(made)),
        "galleries": plain(gallery_rows(made)),
        "running": plain(running_rows(made)),
        "untreated": plain(untreated_rows(made)) if made.outcome.plan is not None else [],
        "notes": plain(note_rows(made)),
        "outcome": made.outcome.model_dump(mode="json"),
    }


def exit_of(outcome: Outcome) -> Exit:
    """Return the exit code of an outcome that was written."""
    if outcome.ending is Ending.CANCELLED:
        return Exit.CANCELLED
    return Exit.NO_PLAN if outcome.plan is None else Exit.DONE
