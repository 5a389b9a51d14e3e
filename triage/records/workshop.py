"""Where and by whom objects are treated: treatments, stages, spaces, trades, limits and promises."""

from __future__ import annotations

from pydantic import Field

from triage.records.base import Id, MonthNo, Record
from triage.records.vocabulary import Limited, RuleKind, TreatmentKind


class Treatment(Record):
    """A treatment that could be given to one object."""

    treatment_id: Id
    object_id: Id
    title: str = ""
    kind: TreatmentKind = TreatmentKind.WORKSHOP
    cost: float = Field(default=0.0, ge=0)
    ends_causes: tuple[str, ...] = ()
    slows_to: float = Field(default=1.0, gt=0)
    """Factor on later wear; 1: none."""
    not_before: MonthNo | None = None
    not_after: MonthNo | None = None
    template: str = ""

    @property
    def called(self) -> str:
        """The title, or the id where there is none."""
        return self.title or self.treatment_id


class Effect(Record):
    """What a treatment leaves of an element. None: the default of its kind, shown as assumed."""

    treatment_id: Id
    element_id: Id
    grade_after: int | None = Field(default=None, ge=1, le=4)
    original_kept_pct: float | None = Field(default=None, ge=0, le=100)


class Stage(Record):
    """One stage of a treatment, in order 1..n."""

    treatment_id: Id
    stage: int = Field(ge=1)
    title: str = ""
    months: int = Field(ge=1)
    place: str | None = None
    """None: no floor needed; ``hall``: clear floor of the home hall; else a kind of space."""
    area_m2: float = Field(default=0.0, ge=0)
    width_m: float | None = Field(default=None, ge=0)
    height_m: float | None = Field(default=None, ge=0)
    most_wait: int = Field(default=0, ge=0)
    away: bool = False
    hours: dict[str, float] = Field(default_factory=dict)
    """Trade -> total hours, spread evenly over the stage's months."""
    estimated: bool = False
    """Made from a template: hours are an estimate."""


class Space(Record):
    """A piece of workshop floor: a restoration bay, a strip-down bay, a spray room."""

    space_id: Id
    name: str = ""
    kind: str
    area_m2: float = Field(ge=0)
    slots: int | None = Field(default=None, ge=0)
    """Jobs at once; None: no limit."""
    door_width_m: float | None = Field(default=None, gt=0)
    door_height_m: float | None = Field(default=None, gt=0)
    length_m: float | None = Field(default=None, gt=0)
    width_m: float | None = Field(default=None, gt=0)

    @property
    def called(self) -> str:
        """The name people use, or the id where there is none."""
        return self.name or self.space_id


class Trade(Record):
    """A trade and the hours it has a month."""

    trade: Id
    hours_per_month: float = Field(ge=0)
    overtime_hours: float = Field(default=0.0, ge=0)


class Availability(Record):
    """Replaces hours, area, slots or clear floor in some months, or closes all work."""

    what: Limited
    id: str = ""
    from_month: MonthNo | None = None
    to_month: MonthNo | None = None
    amount: float | None = Field(default=None, ge=0)


class DisplayRule(Record):
    """A promise about what is on show; None months: the whole horizon."""

    rule_id: Id
    rule: RuleKind
    objects: tuple[Id, ...]
    number: int | None = Field(default=None, ge=0)
    from_month: MonthNo | None = None
    to_month: MonthNo | None = None
    note: str = ""


class Budget(Record):
    """Money still free in a calendar year."""

    year: int
    amount: float = Field(ge=0)


class Running(Record):
    """Work that is going on now: the stage it is in and what is left of it."""

    object_id: Id
    treatment_id: Id
    stage: int = Field(ge=1)
    months_left: int = Field(ge=0)
    space_id: Id | None = None
    hours_left: dict[str, float] = Field(default_factory=dict)
    """Trade -> hours left in the present stage; a trade left out is pro rata."""
