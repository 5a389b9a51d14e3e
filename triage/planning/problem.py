"""Seam: the planning problem, exactly as contract files carry it. Integers only.

Months are 0..H-1 from ``first_month``. The meaning of every field is that of the ten rules in
``DEVELOPERS.md``; :mod:`triage.planning.verify` holds them in executable form.
Files are read by :mod:`triage.planning.reading`, which lists every fault of a file at once.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from functools import cached_property
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field, PrivateAttr

SCHEMA_VERSION = 1
Whole = int


class Seam(BaseModel):
    """A frozen piece of a contract file; unknown fields and numbers that are not whole are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


class TradeHours(Seam):
    """Hours of one trade a month, and how many more could be bought as overtime."""

    trade_id: str
    hours: tuple[Whole, ...]
    overtime_most: tuple[Whole, ...]
    overtime_points: Whole


class SpaceRoom(Seam):
    """Workshop floor of one kind: area in m2 and jobs at once per month, door in cm."""

    space_id: str
    kind: str
    area_m2: tuple[Whole, ...]
    slots: tuple[Whole, ...]
    door_width_cm: Whole
    door_height_cm: Whole


class HallRoom(Seam):
    """Clear floor of a hall per month, and how many of its objects may be away."""

    hall_id: str
    clear_m2: tuple[Whole, ...]
    most_away: tuple[Whole, ...]


class BudgetLimit(Seam):
    """Money for jobs that start within these months, both included."""

    from_month: Whole
    to_month: Whole
    amount: Whole


class PlanObject(Seam):
    """An object and what leaving it alone costs, in loss points."""

    object_id: str
    hall_id: str | None
    display_m2: Whole
    hung: bool
    loss_if_never: Whole
    away_points: Whole


class PlanStage(Seam):
    """A stage: ``months`` open months of work, then at most the next stage's wait."""

    months: Whole
    hours: dict[str, tuple[Whole, ...]]
    place: str | None
    area_m2: Whole
    width_cm: Whole
    height_cm: Whole
    most_wait: Whole
    away: bool


class PlanTreatment(Seam):
    """A treatment an object may get; ``loss_if_done[e]``: its loss if the job ends before month e."""

    treatment_id: str
    object_id: str
    cost: Whole
    earliest: Whole
    latest: Whole
    loss_if_done: tuple[Whole, ...]
    stages: tuple[PlanStage, ...]


class PlanRule(Seam):
    """A display promise over months, both included."""

    rule_id: str
    kind: Literal["at_least", "on_show", "not_together"]
    object_ids: tuple[str, ...]
    number: Whole | None = None
    from_month: Whole
    to_month: Whole


class Pin(Seam):
    """A job that must be kept: treatment, first start and, where named, the space of a stage."""

    object_id: str
    treatment_id: str
    start: Whole
    space_ids: tuple[str | None, ...] | None = None


class PlacedStage(Seam):
    """When a stage starts and in which space (None where it needs none)."""

    start: Whole
    space_id: str | None


class Job(Seam):
    """One object's treatment with the start and space of each stage."""

    object_id: str
    treatment_id: str
    stages: tuple[PlacedStage, ...]


class Points(Seam):
    """What a plan costs, in points; total is the sum of the four."""

    loss: Whole
    away: Whole
    overtime: Whole
    moves: Whole
    total: Whole


class Plan(Seam):
    """What was decided. Jobs are sorted by object_id when we write them."""

    schema_version: int | str = SCHEMA_VERSION
    problem_digest: str
    first_month: str = ""
    jobs: tuple[Job, ...]
    points: Points


class Baseline(Seam):
    """The former plan, in this problem's months, and what departing from it costs."""

    plan: Plan
    frozen_until: Whole
    move_points: Whole
    drop_points: Whole


class PlanningProblem(Seam):
    """The only thing a planner sees."""

    schema_version: int | str = SCHEMA_VERSION
    first_month: str
    months: Whole = Field(ge=1)
    scale: str = ""
    """What one loss point is, in words."""
    closed: tuple[Whole, ...] = ()
    trades: tuple[TradeHours, ...] = ()
    spaces: tuple[SpaceRoom, ...] = ()
    halls: tuple[HallRoom, ...] = ()
    budgets: tuple[BudgetLimit, ...] = ()
    objects: tuple[PlanObject, ...]
    treatments: tuple[PlanTreatment, ...] = ()
    rules: tuple[PlanRule, ...] = ()
    pins: tuple[Pin, ...] = ()
    baseline: Baseline | None = None

    _digest: str | None = PrivateAttr(default=None)

    @cached_property
    def object_by_id(self) -> dict[str, PlanObject]:
        """object_id -> object."""
        return {o.object_id: o for o in self.objects}

    @cached_property
    def treatment_by_id(self) -> dict[str, PlanTreatment]:
        """treatment_id -> treatment."""
        return {t.treatment_id: t for t in self.treatments}

    @cached_property
    def space_by_id(self) -> dict[str, SpaceRoom]:
        """space_id -> space."""
        return {s.space_id: s for s in self.spaces}

    @cached_property
    def trade_by_id(self) -> dict[str, TradeHours]:
        """trade_id -> trade."""
        return {t.trade_id: t for t in self.trades}

    @cached_property
    def hall_by_id(self) -> dict[str, HallRoom]:
        """hall_id -> hall."""
        return {h.hall_id: h for h in self.halls}

    @cached_property
    def pin_of(self) -> dict[str, Pin]:
        """object_id -> its pin."""
        return {p.object_id: p for p in self.pins}

    @cached_property
    def open_months(self) -> tuple[int, ...]:
        """The months in which work goes on, in order."""
        closed = set(self.closed)
        return tuple(m for m in range(self.months) if m not in closed)

    def digest(self) -> str:
        """Return the SHA-256 that ties a plan to this problem (of the JSON as read, if it was read)."""
        if self._digest is None:
            self._digest = value_digest(self.model_dump(mode="json"))
        return self._digest

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> PlanningProblem:
        """Return a new problem with some fields replaced: checked again, with a digest of its own."""
        fields = {name: getattr(self, name) for name in type(self).model_fields}
        return PlanningProblem(**{**fields, **(update or {})})

    def as_read_with(self, digest: str) -> PlanningProblem:
        """Return this problem carrying the digest of the file it was read from."""
        self._digest = digest
        return self


def value_digest(value: Any) -> str:
    """Return the SHA-256 hex digest of a JSON value: keys sorted, no spaces, UTF-8, non-ASCII unescaped."""
    text = json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()
