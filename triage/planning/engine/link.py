"""The child's line to its parent."""

from __future__ import annotations

import contextlib
import os
import queue
import shutil
import threading
from typing import BinaryIO

import psutil

from triage.planning.engine.wire import Message, read, write


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
        leave(self._folder)


def leave(folder: str) -> None:
    """End what was started here, remove the folder, stop: the parent is gone."""
    for one in psutil.Process().children(recursive=True):
        with contextlib.suppress(psutil.NoSuchProcess):
            one.kill()
    shutil.rmtree(folder, ignore_errors=True)
    os._exit(1)
