"""Child processes that can be watched and killed, and that leave nothing behind.

A child is a fresh interpreter (never a fork, so it may be started from a thread or a server) that reads its
task from its standard input and writes messages to its standard output. It ends by itself when its parent
is gone.
"""

from __future__ import annotations

import contextlib
import os
import queue
import subprocess
import sys
import threading
from pathlib import Path
from typing import BinaryIO, cast

import psutil

import triage
from triage.planning.engine.wire import Message, Task, read, write

_ROOT = Path(triage.__file__).resolve().parents[1]
_START = "import sys; sys.path.insert(0, {root!r}); from triage.planning.engine.child import main; main()"


class Child:
    """One child process and the thread that collects what it says.

    Parameters
    ----------
    number
        Tells children apart in ``inbox``.
    task
        What it is to do.
    inbox
        Gets (number, message) for every message, and (number, None) when the child has ended.
    """

    def __init__(self, number: int, task: Task, inbox: queue.Queue[tuple[int, Message | None]]) -> None:
        self.number = number
        environment = {**os.environ, "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
        self._process = subprocess.Popen(
            [sys.executable, "-P", "-c", _START.format(root=str(_ROOT)), task.folder],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=environment,
            start_new_session=True,
        )
        self._lock = threading.Lock()
        self._reader = threading.Thread(target=self._collect, args=(inbox,), daemon=True)
        self._reader.start()
        self._writer = threading.Thread(target=self.tell, args=(task,), daemon=True)
        self._writer.start()

    @property
    def pid(self) -> int:
        """Process id."""
        return self._process.pid

    def tell(self, message: object) -> None:
        """Send a message; a child that is gone does not hear it."""
        with self._lock, contextlib.suppress(OSError, ValueError):
            write(cast("BinaryIO", self._process.stdin), message)

    def kill(self) -> None:
        """End the process and everything it started, at once."""
        with contextlib.suppress(psutil.NoSuchProcess):
            tree = psutil.Process(self.pid).children(recursive=True)
            self._process.kill()
            for one in tree:
                with contextlib.suppress(psutil.NoSuchProcess):
                    one.kill()
        self._process.wait()
        self._writer.join()
        self._reader.join()
        for stream in (self._process.stdin, self._process.stdout):
            if stream is not None:
                with contextlib.suppress(OSError):
                    stream.close()

    def _collect(self, inbox: queue.Queue[tuple[int, Message | None]]) -> None:
        stream = cast("BinaryIO", self._process.stdout)
        while (message := read(stream)) is not None:
            inbox.put((self.number, cast("Message", message)))
        inbox.put((self.number, None))
