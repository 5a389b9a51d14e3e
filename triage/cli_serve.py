"""``triage serve``: the dashboard, on this machine only."""

from __future__ import annotations

import argparse

from triage.cli_output import Console, Exit
from triage.workflow import check


def serve(args: argparse.Namespace, console: Console) -> Exit:
    """Serve the dashboard until Ctrl-C; the screens load before the plan is there."""
    # imported here, so that the other commands need not wait for the dashboard's libraries
    from dashboard.app import serve as serve_app
    from triage.wiring import FolderSource

    check(args.folder)
    source = FolderSource(args.folder, args.plan, args.seconds)
    console.say("Press Ctrl-C to stop.")
    try:
        serve_app(source, args.port)
    finally:
        source.cancel()
    return Exit.DONE
