"""The whole record of a museum at one moment, and the look-ups every room needs."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import Any, TypeVar

from pydantic import Field

from triage.records.base import MonthNo, Record
from triage.records.objects import Element, Hall, Hazard, Move, MuseumObject
from triage.records.observations import Climate, ConditionFinding, Grade, Material, Round, Treated
from triage.records.vocabulary import HazardState
from triage.records.workshop import (
    Availability,
    Budget,
    DisplayRule,
    Effect,
    Running,
    Space,
    Stage,
    Trade,
    Treatment,
)
from triage.units import first_day

R = TypeVar("R")

YEARS_PAST_HORIZON = 10
"""Years between the horizon and the value date at least, or late work looks worthless (value judgement)."""


class Settings(Record):
    """The museum's settings. Points are value judgements and are shown as such."""

    museum: str = ""
    first_month: MonthNo
    months: int = Field(ge=1, le=1200)
    currency: str = ""
    overtime_points: int = Field(default=2, ge=0)
    move_points: int = Field(default=20, ge=0)
    drop_points: int = Field(default=200, ge=0)
    value_years: float = Field(default=25.0, gt=0)

    @property
    def now(self) -> dt.date:
        """The first day of the first month. No clock is read."""
        return first_day(self.first_month)

    @property
    def end_month(self) -> MonthNo:
        """The first month after the horizon."""
        return self.first_month + self.months

    @property
    def least_value_years(self) -> float:
        """The fewest years from now at which the value date may lie: ten past the horizon."""
        return self.months / 12 + YEARS_PAST_HORIZON


class Collection(Record):
    """Everything a collection folder says, as frozen records; blank columns took their defaults."""

    settings: Settings
    halls: tuple[Hall, ...] = ()
    objects: tuple[MuseumObject, ...] = ()
    elements: tuple[Element, ...] = ()
    rounds: tuple[Round, ...] = ()
    grades: tuple[Grade, ...] = ()
    findings: tuple[ConditionFinding, ...] = ()
    treated: tuple[Treated, ...] = ()
    environment: tuple[Climate, ...] = ()
    materials: tuple[Material, ...] = ()
    """The museum's own table only; the built-in table fills what it leaves out (risk room)."""
    hazards: tuple[Hazard, ...] = ()
    treatments: tuple[Treatment, ...] = ()
    effects: tuple[Effect, ...] = ()
    stages: tuple[Stage, ...] = ()
    """Stages as written, and those made from templates (``estimated``), sorted by treatment and number."""
    spaces: tuple[Space, ...] = ()
    trades: tuple[Trade, ...] = ()
    availability: tuple[Availability, ...] = ()
    display_rules: tuple[DisplayRule, ...] = ()
    budget: tuple[Budget, ...] = ()
    running: tuple[Running, ...] = ()
    moves: tuple[Move, ...] = ()

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> Collection:
        """Return a new collection with some fields replaced: checked again, its look-ups made anew."""
        fields = {name: getattr(self, name) for name in type(self).model_fields}
        return Collection(**{**fields, **(update or {})})

    @cached_property
    def hall_by_id(self) -> dict[str, Hall]:
        """hall_id -> hall."""
        return {h.hall_id: h for h in self.halls}

    @cached_property
    def object_by_id(self) -> dict[str, MuseumObject]:
        """object_id -> object."""
        return {o.object_id: o for o in self.objects}

    @cached_property
    def space_by_id(self) -> dict[str, Space]:
        """space_id -> space."""
        return {s.space_id: s for s in self.spaces}

    @cached_property
    def round_by_id(self) -> dict[str, Round]:
        """round_id -> round."""
        return {r.round_id: r for r in self.rounds}

    @cached_property
    def treatment_by_id(self) -> dict[str, Treatment]:
        """treatment_id -> treatment."""
        return {t.treatment_id: t for t in self.treatments}

    @cached_property
    def running_by_object(self) -> dict[str, Running]:
        """object_id -> the work going on."""
        return {r.object_id: r for r in self.running}

    @cached_property
    def elements_of(self) -> dict[str, tuple[Element, ...]]:
        """object_id -> its elements."""
        return _grouped((e.object_id, e) for e in self.elements)

    @cached_property
    def treatments_of(self) -> dict[str, tuple[Treatment, ...]]:
        """object_id -> the treatments it could have."""
        return _grouped((t.object_id, t) for t in self.treatments)

    @cached_property
    def stages_of(self) -> dict[str, tuple[Stage, ...]]:
        """treatment_id -> its stages in order."""
        found = _grouped((s.treatment_id, s) for s in self.stages)
        return {k: tuple(sorted(v, key=lambda s: s.stage)) for k, v in found.items()}

    @cached_property
    def effects_of(self) -> dict[str, tuple[Effect, ...]]:
        """treatment_id -> what it leaves of each element."""
        return _grouped((e.treatment_id, e) for e in self.effects)

    @cached_property
    def hazards_of(self) -> dict[str, tuple[Hazard, ...]]:
        """object_id -> its hazards, cleared ones included."""
        return _grouped((h.object_id, h) for h in self.hazards)

    @cached_property
    def findings_of(self) -> dict[str, tuple[ConditionFinding, ...]]:
        """object_id -> its findings."""
        return _grouped((f.object_id, f) for f in self.findings)

    @cached_property
    def grades_of(self) -> dict[tuple[str, str], tuple[tuple[Round, Grade], ...]]:
        """(object_id, element_id) -> (round, grade) by date, "could not be seen" included."""
        rounds = self.round_by_id
        found = _grouped(((g.object_id, g.element_id), (rounds[g.round_id], g)) for g in self.grades)
        return {k: tuple(sorted(v, key=lambda p: (p[0].date, p[0].round_id))) for k, v in found.items()}

    @cached_property
    def treated_of(self) -> dict[str, tuple[Treated, ...]]:
        """object_id -> treatments done, by date."""
        found = _grouped((t.object_id, t) for t in self.treated)
        return {k: tuple(sorted(v, key=lambda t: t.date)) for k, v in found.items()}

    @cached_property
    def shares(self) -> dict[tuple[str, str], float]:
        """(object_id, element_id) -> share of the object's significance; an object's shares sum to 1.

        A blank share is the mean of the shares given; all blank or all zero: equal shares.
        """
        out: dict[tuple[str, str], float] = {}
        for elements in self.elements_of.values():
            given = [e.share for e in elements if e.share is not None]
            blank = sum(given) / len(given) if given else 1.0
            raw = [blank if e.share is None else e.share for e in elements]
            total = sum(raw)
            for element, share in zip(elements, raw, strict=True):
                out[element.key] = share / total if total > 0 else 1.0 / len(raw)
        return out

    def open_hazards(self, object_id: str) -> tuple[Hazard, ...]:
        """Return the hazards nobody has cleared."""
        return tuple(h for h in self.hazards_of.get(object_id, ()) if h.state is not HazardState.CLEARED)

    def surveyed(self, object_id: str) -> bool:
        """Return whether anybody recorded a hazard survey: no row means not surveyed."""
        return object_id in self.hazards_of


K = TypeVar("K")


def _grouped(pairs: Iterable[tuple[K, R]]) -> dict[K, tuple[R, ...]]:
    found: defaultdict[K, list[R]] = defaultdict(list)
    for key, value in pairs:
        found[key].append(value)
    return {k: tuple(v) for k, v in found.items()}
