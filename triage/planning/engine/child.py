"""The child's side: take the task, do it, say what is found."""

from __future__ import annotations

import contextlib
import os
import queue
import shutil
import sys
import threading
from typing import BinaryIO

import psutil

from triage.planning.engine.wire import Finished, Message, Task, Trouble, read, write


class Link:
    """The child's line to its parent."""

    def __init__(self, source: BinaryIO, target: BinaryIO, folder: str) -> None:
        self._source, self._target, self._folder = source, target, folder
        self._inbox: queue.Queue[Message] = queue.Queue()
        threading.Thread(target=self._listen, daemon=True).start()

    def say(self, message: Message) -> None:
        """Send a message to the parent."""
        write(self._target, message)

    def heard(self) -> list[Message]:
        """Return the messages that came in since the last call."""
        messages = []
        with contextlib.suppress(queue.Empty):
            while True:
                messages.append(self._inbox.get_nowait())
        return messages

    def _listen(self) -> None:
        while (message := read(self._source)) is not None:
            self._inbox.put(message)  # type: ignore[arg-type]  # the parent relays messages only
        _leave(self._folder)


def _leave(folder: str) -> None:
    """The parent is gone: end what was started here, remove the folder, stop."""
    for one in psutil.Process().children(recursive=True):
        with contextlib.suppress(psutil.NoSuchProcess):
            one.kill()
    shutil.rmtree(folder, ignore_errors=True)
    os._exit(1)


def main() -> None:
    """Read the task from standard input, do it, and tell standard output."""
    source = os.fdopen(os.dup(0), "rb")
    target = os.fdopen(os.dup(1), "wb")
    with open(os.devnull, "r+b") as nowhere:  # solvers may print: keep them off the line
        os.dup2(nowhere.fileno(), 0)
        os.dup2(nowhere.fileno(), 1)
    task = read(source)
    if not isinstance(task, Task):
        sys.exit(1)
    link = Link(source, target, task.folder)
    try:
        from triage.planning.engine.worker import work

        work(task, link)
    except MemoryError:
        link.say(Trouble(missing=False, text="out of memory"))
    else:
        link.say(Finished())
    os._exit(0)
