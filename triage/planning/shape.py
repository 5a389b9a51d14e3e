"""The shape of a JSON file, said as data, so that every departure from it is found in one pass.

A shape looks at a value and adds a :class:`~triage.errors.JsonFault` for each thing wrong with it,
at its JSON pointer (RFC 6901). Text is read with :func:`parse`, which also meets what JSON forbids:
repeated names, NaN and numbers too long to keep whole (RFC 8259, RFC 7493).
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Protocol, TypeGuard

from triage.errors import JsonFault, UnusableInput

LARGEST = 2**53 - 1
"""Whole numbers beyond this are not exchanged exactly between programs (RFC 7493, 2.2)."""
SHOWN = 60


class Faults(list[JsonFault]):
    """The faults found so far."""

    def add(self, path: str, value: Any, rule: str, mend: str) -> None:
        """Add one fault; the value is shown as JSON, cut to a length people can read."""
        self.append(JsonFault(path=path, value=shown(value), rule=rule, mend=mend))


class NotANumber:
    """Stands for NaN or an infinity, which JSON does not have."""

    def __init__(self, text: str) -> None:
        self.text = text


class Repeating(dict[str, Any]):
    """A JSON object in which some names stood twice."""

    repeated: tuple[str, ...] = ()


def shown(value: Any) -> str:
    """Return a JSON value as short text."""
    if isinstance(value, NotANumber):
        return value.text
    text = json.dumps(value, ensure_ascii=False, default=lambda odd: odd.text)
    text = text.encode("utf-8", "backslashreplace").decode("utf-8")
    return text if len(text) <= SHOWN else f"{text[: SHOWN - 3]}..."


def pointer(path: str, step: str | int) -> str:
    """Return the JSON pointer one step further down."""
    return f"{path}/{str(step).replace('~', '~0').replace('/', '~1')}"


def parse(text: str, faults: Faults) -> Any:
    """Return the JSON value of a text; repeated names and numbers that are none are faults.

    Raises
    ------
    UnusableInput
        If the text is not JSON at all.
    """
    try:
        value = json.loads(text.removeprefix("\ufeff"), object_pairs_hook=_pairs, parse_constant=NotANumber)
        _look_for_oddities(value, "", faults)
    except (ValueError, RecursionError) as error:
        where = (
            f"line {error.lineno}, column {error.colno}" if isinstance(error, json.JSONDecodeError) else ""
        )
        fault = JsonFault(
            path="",
            value=where or type(error).__name__,
            rule=f"The file is not JSON that can be read: {_reason(error)}.",
            mend="Write the file as JSON (RFC 8259); see the contract of the planning problem.",
        )
        raise UnusableInput("The file is not JSON.", [fault]) from error
    return value


def _reason(error: Exception) -> str:
    if isinstance(error, json.JSONDecodeError):
        return error.msg.lower()
    return "nested too deep" if isinstance(error, RecursionError) else "a number in it is too long"


def _pairs(pairs: list[tuple[str, Any]]) -> Repeating:
    made = Repeating(pairs)
    if len(made) < len(pairs):
        names = [name for name, _ in pairs]
        made.repeated = tuple(sorted({name for name in names if names.count(name) > 1}))
    return made


def _look_for_oddities(value: Any, path: str, faults: Faults) -> None:
    if isinstance(value, Repeating):
        for name in value.repeated:
            faults.add(
                pointer(path, name), value[name], "A name stands twice in one object.", "Keep one of the two."
            )
        for name, item in value.items():
            if not _is_plain(item):
                _look_for_oddities(item, pointer(path, name), faults)
    elif isinstance(value, list):
        for index, item in enumerate(value):
            if not _is_plain(item):
                _look_for_oddities(item, pointer(path, index), faults)
    elif isinstance(value, NotANumber):
        faults.add(path, value, "JSON has no such number.", "Write a whole number.")


def _is_plain(value: Any) -> bool:
    return isinstance(value, int | str | float) or value is None


class Shape(Protocol):
    """Something that can look at a value and say what is wrong with it."""

    def look(self, value: Any, path: str, faults: Faults) -> None:
        """Add a fault for everything about the value that departs from this shape."""


def is_whole(value: Any) -> TypeGuard[int]:
    """Return True for a whole number (true and false are none)."""
    return isinstance(value, int) and not isinstance(value, bool)


@dataclass(frozen=True)
class WholeNumber:
    """A whole number, not below ``least`` nor above ``most``."""

    least: int | None = 0
    most: int | None = None
    mend: str = ""

    def look(self, value: Any, path: str, faults: Faults) -> None:
        """See :class:`Shape`."""
        if isinstance(value, NotANumber):
            return
        if not is_whole(value):
            faults.add(
                path, value, "A whole number is asked for.", self.mend or "Write a number without a point."
            )
        elif abs(value) > LARGEST:
            faults.add(path, value, f"Numbers go up to {LARGEST} at most.", "Write a smaller number.")
        elif self.least is not None and value < self.least:
            mend = self.mend or f"Write {self.least} or more."
            faults.add(path, value, f"The number may not be below {self.least}.", mend)
        elif self.most is not None and value > self.most:
            mend = self.mend or f"Write {self.most} or less."
            faults.add(path, value, f"The number may not be above {self.most}.", mend)


@dataclass(frozen=True)
class Number:
    """Any finite number."""

    def look(self, value: Any, path: str, faults: Faults) -> None:
        """See :class:`Shape`."""
        if isinstance(value, NotANumber):
            return
        if isinstance(value, bool) or not isinstance(value, int | float) or abs(value) > LARGEST:
            faults.add(path, value, "A finite number is asked for.", "Write a number.")


@dataclass(frozen=True)
class Text:
    """Text, perhaps one of a few words or of a certain form."""

    words: tuple[str, ...] = ()
    form: Callable[[str], object] | None = None
    form_name: str = ""

    def look(self, value: Any, path: str, faults: Faults) -> None:
        """See :class:`Shape`."""
        if not isinstance(value, str):
            faults.add(path, value, "Text is asked for.", "Write it in double quotes.")
        elif any("\ud800" <= sign <= "\udfff" for sign in value):
            faults.add(path, value, "The text holds half a character.", "Write whole Unicode characters.")
        elif self.words and value not in self.words:
            faults.add(path, value, "The word is not known here.", f"Write one of: {', '.join(self.words)}.")
        elif self.form is not None:
            try:
                self.form(value)
            except ValueError:
                faults.add(path, value, f"It is not {self.form_name}.", f"Write {self.form_name}.")


@dataclass(frozen=True)
class Flag:
    """True or false."""

    def look(self, value: Any, path: str, faults: Faults) -> None:
        """See :class:`Shape`."""
        if not isinstance(value, bool):
            faults.add(path, value, "true or false is asked for.", "Write true or false without quotes.")


@dataclass(frozen=True)
class Anything:
    """A value that is not read."""

    def look(self, value: Any, path: str, faults: Faults) -> None:
        """See :class:`Shape`."""


@dataclass(frozen=True)
class Either:
    """A value of the first shape that fits; faults are those of the last."""

    shapes: tuple[Shape, ...]

    def look(self, value: Any, path: str, faults: Faults) -> None:
        """See :class:`Shape`."""
        tried = Faults()
        for shape in self.shapes:
            tried = Faults()
            shape.look(value, path, tried)
            if not tried:
                return
        faults.extend(tried)


@dataclass(frozen=True)
class Maybe:
    """Null, or a value of a shape."""

    shape: Shape

    def look(self, value: Any, path: str, faults: Faults) -> None:
        """See :class:`Shape`."""
        if value is not None:
            self.shape.look(value, path, faults)


@dataclass(frozen=True)
class ListOf:
    """A list of values of one shape, of a set length where one is given."""

    shape: Shape
    length: int | None = None
    of_what: str = ""

    def look(self, value: Any, path: str, faults: Faults) -> None:
        """See :class:`Shape`."""
        if not isinstance(value, list):
            faults.add(path, value, "A list is asked for.", "Write the values in square brackets.")
            return
        if self.length is not None and len(value) != self.length:
            rule = f"The list has {len(value)} values, not {self.length}{self.of_what}."
            faults.add(path, value, rule, f"Give {self.length} values.")
        for index, item in enumerate(value):
            self.shape.look(item, pointer(path, index), faults)


@dataclass(frozen=True)
class MapOf:
    """An object whose names are free and whose values have one shape."""

    shape: Shape

    def look(self, value: Any, path: str, faults: Faults) -> None:
        """See :class:`Shape`."""
        if not isinstance(value, dict):
            faults.add(path, value, "An object is asked for.", "Write names and values in curly brackets.")
            return
        for name, item in value.items():
            self.shape.look(item, pointer(path, name), faults)


@dataclass(frozen=True)
class Record:
    """An object with named fields; others are refused unless ``unread`` accepts their name."""

    fields: Mapping[str, Shape]
    optional: Mapping[str, Shape] = field(default_factory=dict)
    unread: Callable[[str], bool] | None = None

    def look(self, value: Any, path: str, faults: Faults) -> None:
        """See :class:`Shape`."""
        if not isinstance(value, dict):
            faults.add(path, value, "An object is asked for.", "Write names and values in curly brackets.")
            return
        for name in self.fields:
            if name not in value:
                faults.add(path, value, f"The field {name} is missing.", f"Add the field {name}.")
        for name, item in value.items():
            shape = self.fields.get(name) or self.optional.get(name)
            if shape is not None:
                shape.look(item, pointer(path, name), faults)
            elif self.unread is None or not self.unread(name):
                known = ", ".join([*self.fields, *self.optional])
                faults.add(
                    pointer(path, name), item, f"The field {name} is unknown.", f"Known here: {known}."
                )


def records(value: Any, name: str) -> Iterable[tuple[str, dict[str, Any]]]:
    """Yield pointer and object of each object in the list ``value[name]``; what is neither is passed over."""
    items = value.get(name) if isinstance(value, dict) else None
    for index, item in enumerate(items if isinstance(items, list) else ()):
        if isinstance(item, dict):
            yield f"/{name}/{index}", item
