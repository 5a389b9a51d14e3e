"""What the commands print: answers on stdout, progress and refusals on stderr."""

from __future__ import annotations

import io
import json
import sys
from enum import IntEnum
from typing import Any

from triage.errors import JsonFault, UnusableInput


class Exit(IntEnum):
    """How a command ended."""

    DONE = 0
    FOUND = 1
    """Faults or broken rules."""
    UNUSABLE = 2
    NO_PLAN = 3
    CANCELLED = 130


UNPRINTABLE = {
    code: "\N{REPLACEMENT CHARACTER}" for code in (*range(32), *range(127, 160)) if code not in (9, 10)
}
"""Control characters in a museum's texts must not steer the terminal."""


class Console:
    """Standard output for answers, standard error for everything else.

    A character the terminal cannot show is written as its escape, never an error.
    """

    def __init__(self, *, as_json: bool) -> None:
        self.as_json = as_json
        for stream in (sys.stdout, sys.stderr):
            if isinstance(stream, io.TextIOWrapper):
                stream.reconfigure(errors="backslashreplace")

    def answer(self, text: str, value: Any) -> None:
        """Print the answer: as text for people, or the value as JSON for programs."""
        if self.as_json:
            print(json.dumps(value, indent=2, ensure_ascii=False))
        else:
            print(text.translate(UNPRINTABLE))

    def say(self, sentence: str) -> None:
        """Tell whoever waits how far the work is."""
        print(sentence.translate(UNPRINTABLE), file=sys.stderr, flush=True)

    def refuse(self, error: UnusableInput) -> None:
        """Say why the input cannot be used, with every fault."""
        if self.as_json:
            faults = [fault.model_dump(mode="json") for fault in error.faults or (_whole_file(error),)]
            print(json.dumps({"faults": faults}, indent=2, ensure_ascii=False))
        self.say(str(error))
        if not self.as_json:
            for fault in error.faults:
                self.say(f"  {fault.sentence()}")


def _whole_file(error: UnusableInput) -> JsonFault:
    """Return a refusal without faults as one fault of the whole input."""
    rule, _, mend = str(error).partition(". ")
    return JsonFault(path="", value="", rule=f"{rule.rstrip('.')}.", mend=mend)
