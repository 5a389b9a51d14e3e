"""The child's side: take the task, do it, say what is found."""

from __future__ import annotations

import os
import sys

from triage.planning.engine.link import Link, leave
from triage.planning.engine.wire import Finished, Task, Trouble, read
from triage.planning.engine.worker import work


def main() -> None:
    """Read the task from standard input, do it, and tell standard output."""
    source = os.fdopen(os.dup(0), "rb")
    target = os.fdopen(os.dup(1), "wb")
    with open(os.devnull, "r+b") as nowhere:  # solvers may print: keep them off the line
        os.dup2(nowhere.fileno(), 0)
        os.dup2(nowhere.fileno(), 1)
    task = read(source)
    folder = sys.argv[1]
    if not isinstance(task, Task):
        leave(folder)
        return
    link = Link(source, target, folder)
    try:
        work(task, link)
    except MemoryError:
        link.say(Trouble(missing=False, text="out of memory"))
    else:
        link.say(Finished())
    os._exit(0)
