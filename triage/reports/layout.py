"""Lines of text: headings, wrapped paragraphs, labels in a column."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

WIDTH = 100
LABEL = 13
"""Columns a label takes, its indent not counted."""
INDENT = "    "


def heading(text: str) -> str:
    """Return a heading with a rule under it."""
    return f"{text.upper()}\n{'-' * len(text)}"


def paragraph(text: str) -> str:
    """Return a text wrapped to the width; empty stays empty."""
    return textwrap.fill(text, WIDTH)


def columns(lead: str, text: str) -> str:
    """Return a text wrapped beside a lead."""
    return textwrap.fill(text, WIDTH, initial_indent=f"{lead}  ", subsequent_indent=" " * (len(lead) + 2))


def labelled(label: str, text: str) -> str:
    """Return a label and its text, wrapped beside it."""
    return columns(f"{INDENT}{label:<{LABEL - 2}}", text)


def bullets(texts: Sequence[str]) -> str:
    """Return texts as a list, wrapped."""
    return "\n".join(textwrap.fill(t, WIDTH, initial_indent="- ", subsequent_indent="  ") for t in texts)
