"""The tables of a collection folder, declared once: columns, which are needed, how cells are read, defaults.

Readers, checks, documentation and tests all use these declarations.
"""

from __future__ import annotations

from triage import records
from triage.records.vocabulary import HazardState, Limited, Mounting, RuleKind, TreatmentKind
from triage.survey import fields as f
from triage.survey.declaring import Column, Prefix, Table
from triage.survey.fields import DATE, GRADE, ID, NOT_NEGATIVE, PERCENT, POSITIVE, TEXT, choice, number


def _id(name: str) -> Column:
    return Column(name, ID, needed=True)


def _text(name: str) -> Column:
    return Column(name, TEXT, default="", blank="")


_ENDS = (
    Column("from", f.MONTH, becomes="from_month", blank="the whole horizon"),
    Column("to", f.MONTH, becomes="to_month", blank="the whole horizon"),
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
    records.Hall,
    (
        _id("hall_id"),
        _text("name"),
        Column("floor_m2", NOT_NEGATIVE),
        Column("clear_m2", NOT_NEGATIVE, default=0.0, blank="0"),
        Column("most_away", f.COUNT, blank="no limit"),
        *_DOORS,
        *_SHAPE,
    ),
    key=("hall_id",),
    limits=True,
    keeps=True,
    meanwhile="Until then the cell counts as blank.",
)
OBJECTS = Table(
    "objects",
    records.MuseumObject,
    (
        _id("object_id"),
        _text("name"),
        _text("category"),
        Column("hall_id", ID, blank="in store"),
        Column(
            "mounting",
            choice(Mounting),
            blank="floor, or store where no hall is given",
            if_faulty=Mounting.HUNG,
        ),
        Column("length_m", NOT_NEGATIVE, blank="not checked"),
        Column("span_m", NOT_NEGATIVE, blank="not checked"),
        Column("height_m", NOT_NEGATIVE, blank="not checked"),
        Column("mass_kg", NOT_NEGATIVE, blank="not checked"),
        Column("display_m2", NOT_NEGATIVE, default=0.0, blank="0"),
        Column("significance", number(0, 100), default=50.0, blank="50"),
        Column("x_m", f.NUMBER),
        Column("y_m", f.NUMBER),
        Column("turned_deg", f.NUMBER),
        Column("in_the_way", f.IDS, default=(), blank="nothing"),
        Column("away_points", f.COUNT, blank="significance / 20 rounded up, 0 in store"),
    ),
    key=("object_id",),
    needed=True,
    keeps=True,
    meanwhile="Until then the cell counts as unknown, and no treatment of this object is planned.",
)
ELEMENTS = Table(
    "elements",
    records.Element,
    (
        _id("object_id"),
        _id("element_id"),
        _text("kind"),
        _text("material"),
        Column("share", f.SHARE, blank="equal"),
        Column("safety", f.YES_NO, default=False, blank="no", if_faulty=True),
    ),
    key=("object_id", "element_id"),
    needed=True,
    keeps=True,
    meanwhile="Until then the share counts as blank, safety as yes.",
)
ROUNDS = Table(
    "rounds",
    records.Round,
    (_id("round_id"), Column("date", DATE, needed=True), Column("assessor", TEXT)),
    key=("round_id",),
    needed=True,
)
GRADES = Table(
    "grades",
    records.Grade,
    (
        _id("round_id"),
        _id("object_id"),
        _id("element_id"),
        Column("grade", GRADE, blank="looked for, could not be seen"),
        _text("note"),
    ),
    key=("round_id", "object_id", "element_id"),
    needed=True,
    twice="Delete the row that is wrong; a second assessor's grades are a round of their own.",
)
FINDINGS = Table(
    "findings",
    records.ConditionFinding,
    (
        _id("finding_id"),
        _id("round_id"),
        _id("object_id"),
        Column("element_id", ID, blank="the whole object"),
        _text("cause"),
        Column("severity", f.whole(1, 3), default=2, blank="2"),
        Column("extent_pct", PERCENT),
        _text("note"),
        Column("ended_on", DATE, blank="goes on"),
        Column("began_on", DATE, blank="the round's date"),
    ),
    key=("finding_id",),
)
TREATED = Table(
    "treated",
    records.Treated,
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
    records.Climate,
    (
        _id("hall_id"),
        Column("year", f.YEAR, needed=True),
        Column("light_klux_h", NOT_NEGATIVE),
        Column("temperature_c", number(-60, 70)),
        Column("humidity_pct", PERCENT),
        Column("humidity_swing_pct", PERCENT),
    ),
    key=("hall_id", "year"),
)
MATERIALS = Table(
    "materials",
    records.Material,
    (
        Column("material", TEXT, needed=True),
        Column("years_1_to_2", POSITIVE, blank="the built-in value"),
        Column("years_2_to_3", POSITIVE, blank="the built-in value"),
        Column("years_3_to_4", POSITIVE, blank="the built-in value"),
        Column("spread", number(1, above=True), default=2.5, blank="2.5"),
    ),
    key=("material",),
    prefix=Prefix("x_", POSITIVE, "factors", "cause"),
)
HAZARDS = Table(
    "hazards",
    records.Hazard,
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
    records.Treatment,
    (
        _id("treatment_id"),
        _id("object_id"),
        _text("title"),
        Column("kind", choice(TreatmentKind), default=TreatmentKind.WORKSHOP, blank="workshop"),
        Column("cost", NOT_NEGATIVE, default=0.0, blank="0"),
        Column("ends_causes", f.WORDS, default=(), blank="none"),
        Column("slows_to", POSITIVE, default=1.0, blank="1"),
        Column("not_before", f.MONTH_OR_AHEAD, blank="the first month"),
        Column("not_after", f.MONTH_OR_AHEAD, blank="the last month"),
        _text("template"),
    ),
    key=("treatment_id",),
)
EFFECTS = Table(
    "treatment_effects",
    records.Effect,
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
    records.Stage,
    (
        _id("treatment_id"),
        Column("stage", f.FROM_ONE, needed=True),
        _text("title"),
        Column("months", f.whole(1, 1200), needed=True),
        Column("place", TEXT, blank="needs no floor"),
        Column("area_m2", NOT_NEGATIVE, default=0.0, blank="0"),
        Column("width_m", NOT_NEGATIVE, blank="not checked"),
        Column("height_m", NOT_NEGATIVE, blank="not checked"),
        Column("most_wait", f.COUNT, default=0, blank="0"),
        Column("away", f.YES_NO, default=False, blank="no"),
    ),
    key=("treatment_id", "stage"),
    prefix=Prefix("hours_", NOT_NEGATIVE, "hours", "trade"),
)
SPACES = Table(
    "spaces",
    records.Space,
    (
        _id("space_id"),
        _text("name"),
        Column("kind", TEXT, needed=True),
        Column("area_m2", NOT_NEGATIVE, needed=True),
        Column("slots", f.COUNT, blank="no limit"),
        *_DOORS,
        *_SHAPE,
    ),
    key=("space_id",),
    limits=True,
)
TRADES = Table(
    "trades",
    records.Trade,
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
    records.Availability,
    (
        Column("what", choice(Limited), needed=True),
        Column("id", ID, default="", blank="allowed for closed only"),
        *_ENDS,
        Column("amount", NOT_NEGATIVE, blank="allowed for closed only"),
    ),
    limits=True,
)
DISPLAY_RULES = Table(
    "display_rules",
    records.DisplayRule,
    (
        _id("rule_id"),
        Column("rule", choice(RuleKind), needed=True),
        Column("objects", f.IDS, needed=True),
        Column("number", f.COUNT, blank="1 for not_together, not read for on_show"),
        *_ENDS,
        _text("note"),
    ),
    key=("rule_id",),
    limits=True,
)
BUDGET = Table(
    "budget",
    records.Budget,
    (Column("year", f.YEAR, needed=True), Column("amount", NOT_NEGATIVE, blank="no limit")),
    key=("year",),
    limits=True,
)
RUNNING = Table(
    "running",
    records.Running,
    (
        _id("object_id"),
        _id("treatment_id"),
        Column("stage", f.FROM_ONE, needed=True),
        Column("months_left", f.whole(0, 1200), needed=True),
        Column("space_id", ID, blank="none, or not known"),
    ),
    key=("object_id",),
    prefix=Prefix("hours_left_", NOT_NEGATIVE, "hours_left", "trade"),
    limits=True,
)
MOVES = Table(
    "moves",
    records.Move,
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
