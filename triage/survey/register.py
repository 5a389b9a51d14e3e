"""Who is who: the keys each table declares, keys used twice, and whose rows stand behind an unknown id.

A row that cannot be used still declares its key, so rows that name it wait for it without a fault of their
own. Where a key itself is faulty, the rows that name the lost id must not be blamed either: an id nobody has
is then taken to be that row's, the most often named first (:meth:`Register.adopt`).
"""

from __future__ import annotations

import difflib
from collections import Counter
from collections.abc import Hashable, Iterable
from dataclasses import dataclass, field

from triage.survey.sheet import Row, Sheet

_MOST_COMPARED = 3000
_MOST_HINTS = 200
_MOST_STRAY = 300
Key = Hashable


@dataclass
class Register:
    """The rows of one table by key."""

    name: str
    known: dict[Key, Row] = field(default_factory=dict)
    stray: list[tuple[Row, tuple[object, ...], int]] = field(default_factory=list)
    """(row, the parts of its key that could be read, times an unknown id must be named to be its own)."""
    readable: bool = True
    implied: bool = False
    """The table is absent: what others name is taken to be there, with nothing known of it."""
    root: Row = field(init=False)
    hints: dict[Key, str] = field(default_factory=dict)
    second_parts: dict[str, list[str]] = field(default_factory=dict)
    """First part of a key of two -> its second parts, filled when first asked for."""

    def __post_init__(self) -> None:
        self.root = Row(self.name, 0, {}, [], {}, aside=True)

    def find(self, key: Key) -> Row | None:
        """Return the row that declares a key (usable or not), or None."""
        found = self.known.get(key)
        return self.root if found is None and not self.readable else found

    def adopt(self, unknown: Counter[Key]) -> None:
        """Give ids nobody has to the rows whose key was lost, the most often named first.

        Rows that fit few ids choose first. Where very many keys were lost, no id can be called unknown.
        """
        if len(self.stray) > _MOST_STRAY:
            self.readable = False
            return
        left = dict(unknown.most_common(_MOST_COMPARED))
        fits = [
            (row, [k for k, n in left.items() if n >= least and _fits(k, parts)])
            for row, parts, least in self.stray
        ]
        for row, keys in sorted(fits, key=lambda f: len(f[1])):
            key = next((k for k in keys if k in left), None)
            if key is not None:
                self.known[key] = row
                del left[key]

    def seconds_of(self, first: str) -> list[str]:
        """Return the second parts of keys of two, such as the elements of an object."""
        if not self.second_parts:
            for key in self.known:
                if isinstance(key, tuple):
                    self.second_parts.setdefault(key[0], []).append(key[1])
        return self.second_parts.get(first, [])

    def hint(self, key: str) -> str:
        """Return ``Did you mean ...?`` where a known id is close, else an empty text."""
        if key not in self.hints:
            close: list[str] = []
            if len(self.known) <= _MOST_COMPARED and len(self.hints) < _MOST_HINTS:
                names = [k if isinstance(k, str) else str(k) for k in self.known]
                by_folded = {n.casefold(): n for n in names}
                close = difflib.get_close_matches(key.casefold(), by_folded, n=1, cutoff=0.7)
                close = [by_folded[c] for c in close]
            self.hints[key] = f" Did you mean {close[0]!r}?" if close else ""
        return self.hints[key]


def _fits(key: Key, parts: tuple[object, ...]) -> bool:
    have = key if isinstance(key, tuple) else (key,)
    return all(part is None or part == h for part, h in zip(parts, have, strict=True))


def key_of(row: Row, columns: tuple[str, ...]) -> Key | None:
    """Return a row's key; None if a part of it could not be read."""
    values = row.values
    if len(columns) == 1:
        return values.get(columns[0])
    parts = tuple(values.get(c) for c in columns)
    return None if None in parts else parts


def register_of(sheet: Sheet) -> Register:
    """Return a sheet's register; a row whose key another row has already is a fault."""
    table = sheet.table
    register = Register(table.name, readable=sheet.readable)
    for row in sheet.rows if table.key else ():
        key = key_of(row, table.key)
        if key is None:
            register.stray.append((row, tuple(row.values.get(c) for c in table.key), 1))
            continue
        first = register.known.setdefault(key, row)
        if first is not row:
            _refuse_second(sheet, first, row)
            if first.cells != row.cells:
                parts = (*(row.values.get(c) for c in table.key[:-1]), None)
                register.stray.append((row, parts, 2))
    return register


def _refuse_second(sheet: Sheet, first: Row, row: Row) -> None:
    columns = sheet.table.key
    what = ", ".join(columns[:-1]) + (" and " if columns[1:] else "") + columns[-1]
    exact = first.cells == row.cells
    row.bad = row.bad | {columns[-1]}
    row.aside = True
    sheet.say(
        row,
        columns[-1],
        f"This repeats row {first.line}." if exact else f"Row {first.line} has this {what} already.",
        sheet.table.twice or f"Delete the row that is wrong, or correct its {columns[-1]}.",
        value=" / ".join(sheet.text(row, c) for c in columns),
    )


def kinds_of(spaces: Sheet) -> Register:
    """Return the kinds of space somebody has; a kind is usable if a usable space is of it."""
    register = Register("spaces", readable=spaces.readable)
    for row in spaces.rows:
        kind = row.values.get("kind")
        if kind is None:
            register.stray.append((row, (None,), 1))
        elif kind not in register.known or row.usable:
            register.known[kind] = row
    return register


def loosening_roots(waiting: Iterable[Row]) -> set[tuple[str, int]]:
    """Return (table, line) of the faulty rows that these rows wait for; line 0 is the whole table."""
    roots = set()
    for row in waiting:
        root: Row = row
        while root.waits_for is not None:
            root = root.waits_for
        roots.add((root.table, root.line))
    return roots
