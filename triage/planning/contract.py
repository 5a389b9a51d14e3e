"""The shapes of the contract files: planning problem, plan and outcome."""

from __future__ import annotations

from triage.planning.outcome import Ending
from triage.planning.shape import (
    Anything,
    Either,
    Flag,
    ListOf,
    MapOf,
    Maybe,
    Number,
    Record,
    Shape,
    Text,
    WholeNumber,
)
from triage.units import month_no

LONGEST = 6000
"""Months of the longest horizon read (500 years); a longer one is taken for a slip."""

NEED = WholeNumber()
POINTS = WholeNumber(least=None)
TEXT = Text()
VERSION = Either((TEXT, WholeNumber(least=None)))
MONTH_TEXT = Text(form=month_no, form_name="a month written YYYY-MM")
HORIZON = WholeNumber(least=1, most=LONGEST)
RULE_KINDS = ("at_least", "on_show", "not_together")

PLACED = Record({"start": POINTS, "space_id": Maybe(TEXT)})
JOB = Record({"object_id": TEXT, "treatment_id": TEXT, "stages": ListOf(PLACED)})
POINT_FIELDS = ("loss", "away", "overtime", "moves", "total")
PLAN = Record(
    {
        "schema_version": VERSION,
        "problem_digest": TEXT,
        "jobs": ListOf(JOB),
        "points": Record(dict.fromkeys(POINT_FIELDS, POINTS)),
    },
    optional={"first_month": TEXT},
)
FORMER_PLAN = Record(
    {"jobs": ListOf(JOB)},
    optional={
        "schema_version": Anything(),
        "problem_digest": Anything(),
        "points": Anything(),
        "first_month": Anything(),
    },
)
CONFLICT = Record(
    {"rule": NEED, "text": TEXT},
    optional={"ids": ListOf(TEXT), "from_month": Maybe(POINTS), "to_month": Maybe(POINTS)},
)
OUTCOME = Record(
    {
        "schema_version": VERSION,
        "problem_digest": TEXT,
        "ending": Text(words=tuple(ending.value for ending in Ending)),
        "plan": Maybe(PLAN),
        "made_by": Maybe(Text(words=("integer_program", "greedy"))),
        "never": POINTS,
        "bound": Maybe(POINTS),
        "gap": Maybe(Number()),
        "seconds": Number(),
        "solver": TEXT,
        "message": TEXT,
    },
    optional={"conflicts": ListOf(CONFLICT)},
)
STAGE = Record(
    {
        "months": HORIZON,
        "hours": MapOf(ListOf(NEED)),
        "place": Maybe(TEXT),
        "area_m2": NEED,
        "width_cm": NEED,
        "height_cm": NEED,
        "most_wait": NEED,
        "away": Flag(),
    }
)
OBJECT = Record(
    {
        "object_id": TEXT,
        "hall_id": Maybe(TEXT),
        "display_m2": NEED,
        "hung": Flag(),
        "loss_if_never": POINTS,
        "away_points": NEED,
    }
)
RULE = Record(
    {
        "rule_id": TEXT,
        "kind": Text(words=RULE_KINDS),
        "object_ids": ListOf(TEXT),
        "from_month": NEED,
        "to_month": NEED,
    },
    optional={"number": Maybe(POINTS)},
)
BUDGET = Record({"from_month": NEED, "to_month": NEED, "amount": NEED})
BASELINE = Record({"plan": FORMER_PLAN, "frozen_until": NEED, "move_points": NEED, "drop_points": NEED})


def problem_shape(months: int | None) -> Record:
    """Return the shape of a planning problem of so many months (None: lengths are not looked at)."""
    last = None if months is None else months - 1
    month = WholeNumber(least=0, most=last)
    a_month = ListOf(NEED, months, ", one a month")
    losses = ListOf(POINTS, None if months is None else months + 1, ", one for each end from 0 to months")
    trade: dict[str, Shape] = {
        "trade_id": TEXT,
        "hours": a_month,
        "overtime_most": a_month,
        "overtime_points": NEED,
    }
    space: dict[str, Shape] = {
        "space_id": TEXT,
        "kind": TEXT,
        "area_m2": a_month,
        "slots": a_month,
        "door_width_cm": NEED,
        "door_height_cm": NEED,
    }
    treatment: dict[str, Shape] = {
        "treatment_id": TEXT,
        "object_id": TEXT,
        "cost": NEED,
        "earliest": NEED,
        "latest": NEED,
        "loss_if_done": losses,
        "stages": ListOf(STAGE),
    }
    pin = Record(
        {"object_id": TEXT, "treatment_id": TEXT, "start": month},
        optional={"space_ids": Maybe(ListOf(Maybe(TEXT)))},
    )
    return Record(
        {
            "schema_version": VERSION,
            "first_month": MONTH_TEXT,
            "months": HORIZON,
            "trades": ListOf(Record(trade)),
            "spaces": ListOf(Record(space)),
            "halls": ListOf(Record({"hall_id": TEXT, "clear_m2": a_month, "most_away": a_month})),
            "objects": ListOf(OBJECT),
            "treatments": ListOf(Record(treatment)),
        },
        optional={
            "closed": Maybe(ListOf(month)),
            "budgets": Maybe(ListOf(BUDGET)),
            "rules": Maybe(ListOf(RULE)),
            "pins": Maybe(ListOf(pin)),
            "baseline": Maybe(BASELINE),
        },
        unread=says_scale,
    )


def says_scale(name: str) -> bool:
    """Return True for a top-level field that states the scale of the points (its name is free)."""
    return "scale" in name.lower() or name.lower() in ("note", "notes")
