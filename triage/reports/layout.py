"""Lines of text: headings, wrapped paragraphs, labels in a column."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from triage.reports.words import NO_BREAK, held

WIDTH = 100
LABEL = 13
"""Columns a label takes, its indent not counted."""
INDENT = "    "


def heading(text: str) -> str:
    """Return a heading with a rule under it."""
    return f"{text.upper()}\n{'-' * len(text)}"


def paragraph(text: str) -> str:
    """Return a text wrapped to the width; empty stays empty."""
    return _filled(text)


def columns(lead: str, text: str) -> str:
    """Return a text wrapped beside a lead."""
    return _filled(text, f"{lead}  ", " " * (len(lead) + 2))


def labelled(label: str, text: str) -> str:
    """Return a label and its text, wrapped beside it."""
    return columns(f"{INDENT}{label:<{LABEL - 2}}", text)


def bullets(texts: Sequence[str]) -> str:
    """Return texts as a list, wrapped."""
    return "\n".join(_filled(t, "- ", "  ") for t in texts)


def _filled(text: str, first: str = "", rest: str = "") -> str:
    """Return a text wrapped to the width; a number and its unit stay on one line, by plain blanks."""
    return textwrap.fill(held(text), WIDTH, initial_indent=first, subsequent_indent=rest).replace(
        NO_BREAK, " "
    )
