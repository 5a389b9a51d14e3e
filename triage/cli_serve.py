"""``triage serve``: the dashboard, on this machine only."""

from __future__ import annotations

import argparse

from triage.cli_output import Console, Exit
from triage.errors import UnusableInput
from triage.files import read_text
from triage.workflow import check


def serve(args: argparse.Namespace, console: Console) -> Exit:
    """Serve the dashboard until Ctrl-C; the screens load before the plan is there."""
    # imported here, so that the other commands need not wait for the dashboard's libraries
    from dashboard.app import serve as serve_app
    from triage.wiring import FolderSource

    check(args.folder)
    if args.plan is not None:
        read_text(args.plan)
    source = FolderSource(args.folder, args.plan, args.seconds)
    console.say(f"Open http://127.0.0.1:{args.port}/ in a browser on this machine. Press Ctrl-C to stop.")
    try:
        serve_app(source, args.port)
    except OSError as error:
        raise UnusableInput(
            f"Port {args.port} cannot be used: {error.strerror}. Choose another with --port."
        ) from None
    finally:
        source.close()
    return Exit.DONE
