"""Cross-references: every id a row names must be declared somewhere.

A row that names an id nobody declares is a fault, once. A row that names a faulty row waits for it, silently.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from triage.records.vocabulary import HALL_PLACE, Limited
from triage.survey.delimited import normal
from triage.survey.register import Key, Register, kinds_of, register_of
from triage.survey.sheet import Row, Sheet

KINDS = "kinds"
_LIMITED = {Limited.TRADE: "trades", Limited.SPACE: "spaces", Limited.SLOTS: "spaces", Limited.HALL: "halls"}
_NOUNS = {
    "halls": "hall",
    "objects": "object",
    "elements": "element",
    "rounds": "round",
    "treatments": "treatment",
    "spaces": "space",
    "trades": "trade",
    KINDS: "kind of space",
}


@dataclass(frozen=True, slots=True)
class Mention:
    """One id that a row names: in which column, of which register, under which key."""

    column: str
    register: str
    key: Key


Registers = dict[str, Register]
Finder = Callable[[Row, Registers], Iterator[Mention]]


def registers_of(sheets: dict[str, Sheet]) -> Registers:
    """Return every register but running work's, which nothing names; keys that stand twice become faults.

    Which rows of running work repeat others is looked at once it is known whose work they are.
    """
    found = {name: register_of(sheet) for name, sheet in sheets.items() if name != "running"}
    found[KINDS] = kinds_of(sheets["spaces"])
    halls = sheets["halls"]
    found["halls"].implied = halls.readable and not halls.rows
    return found


# --- what each table names ---


def _names(column: str, register: str) -> Finder:
    def find(row: Row, registers: Registers) -> Iterator[Mention]:
        value = row.values.get(column)
        if value and column not in row.bad:
            yield Mention(column, register, value)

    return find


def _element(row: Row, registers: Registers) -> Iterator[Mention]:
    obj, element = row.values.get("object_id"), row.values.get("element_id")
    if obj and element and registers["objects"].find(obj) is not None:
        yield Mention("element_id", "elements", (obj, element))


def _element_treated(row: Row, registers: Registers) -> Iterator[Mention]:
    treatment = registers["treatments"].known.get(row.values.get("treatment_id"))
    element = row.values.get("element_id")
    obj = treatment.values.get("object_id") if treatment is not None else None
    if obj and element and registers["objects"].find(obj) is not None:
        yield Mention("element_id", "elements", (obj, element))


def _in_the_way(row: Row, registers: Registers) -> Iterator[Mention]:
    for other in row.values.get("in_the_way") or ():
        yield Mention("in_the_way", "objects", other)


def _promised(row: Row, registers: Registers) -> Iterator[Mention]:
    for other in row.values.get("objects") or ():
        yield Mention("objects", "objects", other)


def _limited(row: Row, registers: Registers) -> Iterator[Mention]:
    register = _LIMITED.get(row.values.get("what", ""))
    if register and row.values.get("id"):
        yield Mention("id", register, row.values["id"])


def _place(row: Row, registers: Registers) -> Iterator[Mention]:
    place = row.values.get("place")
    if place and place != HALL_PLACE:
        yield Mention("place", KINDS, place)


_OBJECT = _names("object_id", "objects")
_HALL = _names("hall_id", "halls")
_TREATMENT = _names("treatment_id", "treatments")
_ROUND = _names("round_id", "rounds")
FINDERS: dict[str, tuple[Finder, ...]] = {
    "objects": (_HALL, _in_the_way),
    "elements": (_OBJECT,),
    "grades": (_ROUND, _OBJECT, _element),
    "findings": (_ROUND, _OBJECT, _element),
    "treated": (_OBJECT, _element),
    "environment": (_HALL,),
    "hazards": (_OBJECT,),
    "treatments": (_OBJECT,),
    "treatment_effects": (_TREATMENT, _element_treated),
    "stages": (_TREATMENT, _place),
    "availability": (_limited,),
    "display_rules": (_promised,),
    "running": (_OBJECT, _TREATMENT, _names("space_id", "spaces")),
    "moves": (_OBJECT, _HALL),
}
"""Table -> what its rows name; parents stand before those that name them."""


# --- the verdict ---


def check_links(sheets: dict[str, Sheet], registers: Registers) -> None:
    """Fault every id nobody declares; let rows wait for the faulty rows they name."""
    _adopt_lost(sheets, registers)
    for name, finders in FINDERS.items():
        sheet = sheets[name]
        empty: dict[str, list[tuple[Row, Mention]]] = defaultdict(list)
        for row in sheet.rows:
            for finder in finders:
                for mention in finder(row, registers):
                    _judge(sheet, row, mention, registers, empty)
        for parent, rows in empty.items():
            _say_empty(sheet, parent, rows)


def _adopt_lost(sheets: dict[str, Sheet], registers: Registers) -> None:
    """Find ids nobody has and give them to rows whose key was lost; elements last, as they need objects."""
    for wave in ({"halls", "objects", "rounds", "treatments", "spaces", "trades", KINDS}, {"elements"}):
        if "elements" in wave:
            _add_misplaced(sheets["elements"], registers)
        if not any(registers[w].stray for w in wave):
            continue
        unknown: dict[str, Counter[Key]] = defaultdict(Counter)
        for name, finders in FINDERS.items():
            for row in sheets[name].rows:
                for finder in finders:
                    for mention in finder(row, registers):
                        if mention.register in wave and mention.key not in registers[mention.register].known:
                            unknown[mention.register][mention.key] += 1
        if "trades" in wave:
            unknown["trades"].update(_unknown_columns(sheets, registers["trades"]))
        for parent, counted in unknown.items():
            registers[parent].adopt(counted)


def _unknown_columns(sheets: dict[str, Sheet], trades: Register) -> Counter[Key]:
    """Return the trades nobody has that columns of hours are about, and how often, as written."""
    alike = {normal(str(t)) for t in trades.known}
    found: Counter[Key] = Counter()
    for sheet in (sheets["stages"], sheets["running"]):
        for trade in (t for t in sheet.families if normal(t) not in alike):
            found[trade] += 1 + sum(bool(row.family.get(trade)) for row in sheet.rows)
    return found


def _add_misplaced(elements: Sheet, registers: Registers) -> None:
    """An element under an object nobody has may be the one that grades of another object name."""
    for row in elements.rows:
        obj, element = row.values.get("object_id"), row.values.get("element_id")
        if obj and element and registers["objects"].find(obj) is None:
            registers["elements"].stray.append((row, (None, element), 1))


def _judge(
    sheet: Sheet,
    row: Row,
    mention: Mention,
    registers: Registers,
    empty: dict[str, list[tuple[Row, Mention]]],
) -> None:
    register = registers[mention.register]
    parent = register.find(mention.key)
    if parent is not None:
        if not parent.usable or (parent.held and sheet.table.name == "treatments"):
            _wait(sheet, row, mention, parent)
    elif register.implied:
        return
    elif not register.known:
        empty[mention.register].append((row, mention))
    else:
        _refuse(sheet, row, mention, register)


def _wait(sheet: Sheet, row: Row, mention: Mention, parent: Row) -> None:
    declared = sheet.table.by_name[mention.column]
    if sheet.table.keeps and not declared.needed:
        _drop_mention(sheet, row, mention)
    elif row.waits_for is None and parent is not row:
        row.waits_for = parent


def _drop_mention(sheet: Sheet, row: Row, mention: Mention) -> None:
    """Take one name out of a cell of a row that is kept: one of a list, or the whole cell."""
    value: Any = row.values.get(mention.column)
    sheet.lose(row, mention.column)
    if isinstance(value, tuple):
        row.values[mention.column] = tuple(v for v in value if v != mention.key)


def _refuse(sheet: Sheet, row: Row, mention: Mention, register: Register) -> None:
    noun = _NOUNS[mention.register]
    if isinstance(mention.key, tuple):
        obj, seen = mention.key
        mend = f"{_elements_mend(register, obj)}, or add the element to elements."
        rule = f"Object {obj!r} has no element of this id."
    else:
        seen = str(mention.key)
        where = "spaces" if mention.register == KINDS else mention.register
        rule = (
            "Nobody has a space of this kind." if mention.register == KINDS else f"There is no such {noun}."
        )
        mend = f"Write the id of a row of {where}, or add it there.{register.hint(seen)}"
        if mention.register == KINDS:
            mend = f"Write a kind that stands in spaces, {HALL_PLACE!r} or nothing.{register.hint(seen)}"
    _drop_mention(sheet, row, mention)
    kept = sheet.table.keeps and not sheet.table.by_name[mention.column].needed
    mend = f"{mend} {sheet.table.meanwhile}" if kept else mend
    sheet.say(row, mention.column, rule, mend, value=seen)


def _elements_mend(register: Register, obj: str) -> str:
    known = register.seconds_of(obj)
    listed = ", ".join(known[:8]) + (", ..." if len(known) > 8 else "")
    return f"Write one of its elements ({listed})" if known else "Write an element it has"


def _say_empty(sheet: Sheet, parent: str, rows: list[tuple[Row, Mention]]) -> None:
    """Say once that rows name what a whole table should declare and does not."""
    row, mention = rows[0]
    where = "spaces" if parent == KINDS else parent
    more = f" {len(rows) - 1} more rows do so too." if len(rows) > 1 else ""
    sheet.say(
        row,
        mention.column,
        f"The row names a {_NOUNS[parent]}, but {where} is missing or has no rows.{more}",
        f"Add {where}, or clear the column.",
    )
    for other, named in rows:
        if sheet.table.keeps and not sheet.table.by_name[named.column].needed:
            sheet.lose(other, named.column)
        elif other is row:
            other.aside = True
        elif other.waits_for is None:
            other.waits_for = row
