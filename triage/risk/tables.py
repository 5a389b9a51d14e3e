"""Reads the tables that ship with the risk room, and matches words as people write them."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files

OTHER = "other"
"""The row for everything a table does not name."""


def plain(text: str) -> str:
    """Return a word as it is compared: lower case, single spaces, no underscores or hyphens."""
    return " ".join(text.replace("_", " ").replace("-", " ").casefold().split())


@cache
def packaged(name: str) -> tuple[dict[str, str], ...]:
    """Return the rows of a packaged table, as text."""
    text = files("triage.risk").joinpath("data", name).read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@cache
def synonyms(name: str, key: str) -> dict[str, str]:
    """Return every word of a packaged table's ``key`` and ``also`` columns -> the row's key."""
    found: dict[str, str] = {}
    for row in packaged(name):
        for word in (row[key], *row["also"].split(";")):
            if word:
                found.setdefault(plain(word), row[key])
    return found


def row_for(name: str, key: str, word: str) -> dict[str, str]:
    """Return the packaged row a word belongs to: itself, one of its other names, else ``other``."""
    wanted = synonyms(name, key).get(plain(word), OTHER)
    return next(row for row in packaged(name) if row[key] == wanted)


def known(name: str, key: str, word: str) -> bool:
    """Return whether a packaged table names this word."""
    return plain(word) in synonyms(name, key)
