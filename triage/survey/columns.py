"""The tables of a collection folder, declared once: columns, which are needed, how cells are read, defaults.

Readers, checks, documentation and tests all use these declarations.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from triage.records import (
    Availability,
    Budget,
    Climate,
    ConditionFinding,
    DisplayRule,
    Effect,
    Element,
    Grade,
    Hall,
    Hazard,
    Material,
    Move,
    MuseumObject,
    Round,
    Running,
    Space,
    Stage,
    Trade,
    Treated,
    Treatment,
)
from triage.records.base import Record
from triage.records.vocabulary import HazardState, Limited, Mounting, RuleKind, TreatmentKind
from triage.survey.fields import (
    COUNT,
    DATE,
    FROM_ONE,
    GRADE,
    ID,
    IDS,
    MONTH,
    MONTH_OR_AHEAD,
    NOT_NEGATIVE,
    NUMBER,
    PERCENT,
    POSITIVE,
    TEXT,
    WORDS,
    YEAR,
    YES_NO,
    Field,
    choice,
    number,
    whole,
)


class _AsDefault:
    """Marks a column whose faulty cell is read as blank."""


AS_DEFAULT = _AsDefault()


@dataclass(frozen=True)
class Column:
    """One column: its name, how a cell is read, whether it is needed, and what blank means.

    ``becomes`` names the record's field where it differs from the column.
    ``if_faulty`` is the value taken for a faulty cell in a table that keeps such rows (``Table.keeps``).
    """

    name: str
    field: Field
    needed: bool = False
    default: Any = None
    blank: str = "unknown"
    becomes: str = ""
    if_faulty: Any = AS_DEFAULT

    @property
    def record_field(self) -> str:
        """The field of the record this column fills."""
        return self.becomes or self.name


@dataclass(frozen=True)
class Prefix:
    """A family of columns ``<prefix><name>``: the name (a trade, a cause) is part of the header."""

    prefix: str
    field: Field
    record_field: str
    what: str


@dataclass(frozen=True)
class Table:
    """One file of the folder (or sheet of the workbook).

    ``key`` tells rows apart; two rows with one key are a fault. ``limits`` marks promises, limits and running
    work: leaving out a row would loosen the plan. ``keeps``: a fault in a cell that is not needed costs the
    cell and not the row, so that what depends on the row is not lost.
    """

    name: str
    record: type[Record] | None
    columns: tuple[Column, ...]
    key: tuple[str, ...] = ()
    prefix: Prefix | None = None
    needed: bool = False
    limits: bool = False
    keeps: bool = False
    by_name: dict[str, Column] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "by_name", {c.name: c for c in self.columns})

    @property
    def file(self) -> str:
        """The file's name in a folder."""
        return f"{self.name}.csv"


def _id(name: str) -> Column:
    return Column(name, ID, needed=True)


def _text(name: str) -> Column:
    return Column(name, TEXT, default="", blank="")


def _ends(becomes: str = "") -> tuple[Column, Column]:
    blank = "the whole horizon"
    return (
        Column("from", MONTH, becomes="from_month", blank=blank),
        Column("to", MONTH, becomes="to_month", blank=blank),
    )


_DOORS = (
    Column("door_width_m", POSITIVE, blank="not checked"),
    Column("door_height_m", POSITIVE, blank="not checked"),
)
_SHAPE = (
    Column("length_m", POSITIVE, blank="shape assumed"),
    Column("width_m", POSITIVE, blank="shape assumed"),
)

SETTINGS = Table(
    "settings",
    None,
    (Column("name", TEXT, needed=True), Column("value", TEXT, default="", blank="the default")),
    key=("name",),
    needed=True,
    limits=True,
)
HALLS = Table(
    "halls",
    Hall,
    (
        _id("hall_id"),
        _text("name"),
        Column("floor_m2", NOT_NEGATIVE),
        Column("clear_m2", NOT_NEGATIVE, default=0.0, blank="0"),
        Column("most_away", COUNT, blank="no limit"),
        *_DOORS,
        *_SHAPE,
    ),
    key=("hall_id",),
    limits=True,
    keeps=True,
)
OBJECTS = Table(
    "objects",
    MuseumObject,
    (
        _id("object_id"),
        _text("name"),
        _text("category"),
        Column("hall_id", ID, blank="in store"),
        Column(
            "mounting",
            choice(Mounting),
            blank="floor; store where no hall is given",
            if_faulty=Mounting.HUNG,
        ),
        Column("length_m", NOT_NEGATIVE, blank="not checked"),
        Column("span_m", NOT_NEGATIVE, blank="not checked"),
        Column("height_m", NOT_NEGATIVE, blank="not checked"),
        Column("mass_kg", NOT_NEGATIVE, blank="not checked"),
        Column("display_m2", NOT_NEGATIVE, default=0.0, blank="0"),
        Column("significance", number(0, 100), default=50.0, blank="50"),
        Column("x_m", NUMBER),
        Column("y_m", NUMBER),
        Column("turned_deg", NUMBER),
        Column("in_the_way", IDS, default=(), blank="nothing"),
        Column("away_points", COUNT, blank="significance / 20 rounded up, 0 in store"),
    ),
    key=("object_id",),
    needed=True,
    keeps=True,
)
ELEMENTS = Table(
    "elements",
    Element,
    (
        _id("object_id"),
        _id("element_id"),
        _text("kind"),
        _text("material"),
        Column("share", NOT_NEGATIVE, blank="equal"),
        Column("safety", YES_NO, default=False, blank="no", if_faulty=True),
    ),
    key=("object_id", "element_id"),
    needed=True,
    keeps=True,
)
ROUNDS = Table(
    "rounds",
    Round,
    (_id("round_id"), Column("date", DATE, needed=True), Column("assessor", TEXT)),
    key=("round_id",),
    needed=True,
)
GRADES = Table(
    "grades",
    Grade,
    (
        _id("round_id"),
        _id("object_id"),
        _id("element_id"),
        Column("grade", GRADE, blank="looked for, could not be seen"),
        _text("note"),
    ),
    key=("round_id", "object_id", "element_id"),
    needed=True,
)
FINDINGS = Table(
    "findings",
    ConditionFinding,
    (
        _id("finding_id"),
        _id("round_id"),
        _id("object_id"),
        Column("element_id", ID, blank="the whole object"),
        _text("cause"),
        Column("severity", whole(1, 3), default=2, blank="2"),
        Column("extent_pct", PERCENT),
        _text("note"),
        Column("ended_on", DATE, blank="goes on"),
        Column("began_on", DATE, blank="the round's date"),
    ),
    key=("finding_id",),
)
TREATED = Table(
    "treated",
    Treated,
    (
        Column("date", DATE, needed=True),
        _id("object_id"),
        Column("element_id", ID, blank="all elements"),
        Column("grade_after", GRADE, needed=True),
        _text("note"),
    ),
)
ENVIRONMENT = Table(
    "environment",
    Climate,
    (
        _id("hall_id"),
        Column("year", YEAR, needed=True),
        Column("light_klux_h", NOT_NEGATIVE),
        Column("temperature_c", number(-60, 70)),
        Column("humidity_pct", PERCENT),
        Column("humidity_swing_pct", PERCENT),
    ),
    key=("hall_id", "year"),
)
MATERIALS = Table(
    "materials",
    Material,
    (
        Column("material", TEXT, needed=True),
        Column("years_1_to_2", POSITIVE, needed=True),
        Column("years_2_to_3", POSITIVE, needed=True),
        Column("years_3_to_4", POSITIVE, needed=True),
        Column("spread", number(1, above=True), default=2.5, blank="2.5"),
    ),
    key=("material",),
    prefix=Prefix("x_", POSITIVE, "factors", "cause"),
)
HAZARDS = Table(
    "hazards",
    Hazard,
    (
        _id("object_id"),
        Column("hazard", TEXT, needed=True),
        _text("note"),
        Column("state", choice(HazardState), default=HazardState.SUSPECTED, blank="suspected"),
        _text("by"),
        Column("date", DATE),
    ),
)
TREATMENTS = Table(
    "treatments",
    Treatment,
    (
        _id("treatment_id"),
        _id("object_id"),
        _text("title"),
        Column("kind", choice(TreatmentKind), default=TreatmentKind.WORKSHOP, blank="workshop"),
        Column("cost", NOT_NEGATIVE, default=0.0, blank="0"),
        Column("ends_causes", WORDS, default=(), blank="none"),
        Column("slows_to", POSITIVE, default=1.0, blank="1"),
        Column("not_before", MONTH_OR_AHEAD, blank="the first month"),
        Column("not_after", MONTH_OR_AHEAD, blank="the last month"),
        _text("template"),
    ),
    key=("treatment_id",),
)
EFFECTS = Table(
    "treatment_effects",
    Effect,
    (
        _id("treatment_id"),
        _id("element_id"),
        Column("grade_after", GRADE, blank="unchanged"),
        Column("original_kept_pct", PERCENT, blank="the default of the element's kind, shown as assumed"),
    ),
    key=("treatment_id", "element_id"),
)
STAGES = Table(
    "stages",
    Stage,
    (
        _id("treatment_id"),
        Column("stage", FROM_ONE, needed=True),
        _text("title"),
        Column("months", whole(1, 1200), needed=True),
        Column("place", TEXT, blank="needs no floor"),
        Column("area_m2", NOT_NEGATIVE, default=0.0, blank="0"),
        Column("width_m", NOT_NEGATIVE, blank="not checked"),
        Column("height_m", NOT_NEGATIVE, blank="not checked"),
        Column("most_wait", COUNT, default=0, blank="0"),
        Column("away", YES_NO, default=False, blank="no"),
    ),
    key=("treatment_id", "stage"),
    prefix=Prefix("hours_", NOT_NEGATIVE, "hours", "trade"),
)
SPACES = Table(
    "spaces",
    Space,
    (
        _id("space_id"),
        _text("name"),
        Column("kind", TEXT, needed=True),
        Column("area_m2", NOT_NEGATIVE, needed=True),
        Column("slots", COUNT, blank="no limit"),
        *_DOORS,
        *_SHAPE,
    ),
    key=("space_id",),
    limits=True,
)
TRADES = Table(
    "trades",
    Trade,
    (
        _id("trade"),
        Column("hours_per_month", NOT_NEGATIVE, needed=True),
        Column("overtime_hours", NOT_NEGATIVE, default=0.0, blank="0"),
    ),
    key=("trade",),
    limits=True,
)
AVAILABILITY = Table(
    "availability",
    Availability,
    (
        Column("what", choice(Limited), needed=True),
        Column("id", ID, default="", blank="allowed for closed only"),
        *_ends(),
        Column("amount", NOT_NEGATIVE, blank="allowed for closed only"),
    ),
    limits=True,
)
DISPLAY_RULES = Table(
    "display_rules",
    DisplayRule,
    (
        _id("rule_id"),
        Column("rule", choice(RuleKind), needed=True),
        Column("objects", IDS, needed=True),
        Column("number", COUNT, blank="1 for not_together; not read for on_show"),
        *_ends(),
        _text("note"),
    ),
    key=("rule_id",),
    limits=True,
)
BUDGET = Table(
    "budget",
    Budget,
    (Column("year", YEAR, needed=True), Column("amount", NOT_NEGATIVE, blank="no limit")),
    key=("year",),
    limits=True,
)
RUNNING = Table(
    "running",
    Running,
    (
        _id("object_id"),
        _id("treatment_id"),
        Column("stage", FROM_ONE, needed=True),
        Column("months_left", whole(0, 1200), needed=True),
        Column("space_id", ID, blank="none, or not known"),
    ),
    key=("object_id",),
    prefix=Prefix("hours_left_", NOT_NEGATIVE, "hours_left", "trade"),
    limits=True,
)
MOVES = Table(
    "moves",
    Move,
    (_id("object_id"), Column("date", DATE, needed=True), Column("hall_id", ID, blank="in store")),
    key=("object_id", "date"),
)

TABLES: dict[str, Table] = {
    t.name: t
    for t in (
        SETTINGS, HALLS, OBJECTS, ELEMENTS, ROUNDS, GRADES, FINDINGS, TREATED, ENVIRONMENT, MATERIALS,
        HAZARDS, TREATMENTS, EFFECTS, STAGES, SPACES, TRADES, AVAILABILITY, DISPLAY_RULES, BUDGET, RUNNING,
        MOVES,
    )
}  # fmt: skip
"""Every table of a collection, in the order in which faults are reported."""

NEEDED = tuple(t.name for t in TABLES.values() if t.needed)
