"""The rows every report is made of: what the command line prints and the dashboard draws.

All months are calendar months as held by :mod:`triage.units` (``month_words`` writes one), both ends of a
span included. Points are loss points: 100 are the whole of an object of significance 1.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Literal

from triage.units import month_words


@dataclass(frozen=True)
class Span:
    """Calendar months from one to another, both included."""

    from_month: int
    to_month: int

    @property
    def months(self) -> int:
        """How many months it covers."""
        return self.to_month - self.from_month + 1

    @property
    def words(self) -> str:
        """The span as people write it: ``Mar 2027 - Sep 2028``, or one month alone."""
        if self.from_month == self.to_month:
            return month_words(self.from_month)
        return f"{month_words(self.from_month)} - {month_words(self.to_month)}"


@dataclass(frozen=True)
class Caution:
    """A warning that looks the same everywhere; ``kind`` tells why it is there."""

    kind: Literal["safety", "lifting", "hazard", "not_checked"]
    text: str


@dataclass(frozen=True)
class StageRow:
    """One stage of a planned or running job."""

    number: int
    """The stage's number in the museum's own table."""
    title: str
    place: str
    """Where, in words: a bay's name, ``clear floor of <hall>``, or empty where no floor is needed."""
    space_id: str | None
    on_hall_floor: bool
    work: Span
    """From its start to its last working month."""
    waits: Span | None
    """Months it then stands waiting for the next stage, holding its place; None: none."""
    away: bool
    area_m2: int
    """Floor it takes: in the bay, or of the hall's clear floor (an area, not a shape)."""
    hours: int
    """Hours of all trades together."""
    estimated: bool
    """Made from a built-in template: the hours are an estimate."""
    cautions: tuple[Caution, ...]
    """To be read before the stage begins."""


@dataclass(frozen=True)
class JobRow:
    """One object's planned or running treatment, ready to be read out."""

    position: int
    """1 is next."""
    object_id: str
    object_name: str
    hall_id: str | None
    hall_name: str
    """``in store`` where the object stands in no hall."""
    mounting: str
    treatment_id: str
    treatment_title: str
    kind: Literal["workshop", "in_gallery"]
    running: bool
    """Work that goes on already."""
    span: Span
    """From its first month of work to its last, waits and closures between included."""
    off_display: tuple[Span, ...]
    """When it cannot be seen; empty: it stays on display (or was in store)."""
    bays: tuple[str, ...]
    """Names of the spaces it goes to, in order."""
    space_ids: tuple[str, ...]
    stages: tuple[StageRow, ...]
    move_first: tuple[str, ...]
    """Names of objects that stand under it or on its way out."""
    free_first: tuple[str, ...]
    """Everything that must be free before it can start or go on, as sentences."""
    cautions: tuple[Caution, ...]
    """A doubtful safety element, lifting, hazards and what was not checked, in this order."""
    why: str
    """Why this object, in words and years."""
    cost: int
    loss_untreated: int
    """Points lost at the value date if nothing is done to it."""
    loss_treated: int
    """Points lost at the value date with this treatment, ending when planned."""


@dataclass(frozen=True)
class SafetyRow:
    """An object whose safety elements are doubtful. It heads every list, outside the points."""

    object_id: str
    object_name: str
    hall_id: str | None
    hall_name: str
    mounting: str
    element_ids: tuple[str, ...]
    chance: float
    """Chance that a safety element is poor or worse now."""
    low: float
    high: float
    worst_recorded: int | None
    reason: str
    caution: Caution


@dataclass(frozen=True)
class UntreatedRow:
    """An object the plan leaves alone, and what that costs."""

    object_id: str
    object_name: str
    hall_name: str
    has_treatment: bool
    """Whether anybody proposed a treatment that could be planned."""
    loss_points: int
    loss_share: float
    """Share of the object lost at the value date (0 to 1)."""
    wait_points: float
    """Points lost by treating it one year later."""
    sentence: str
    cautions: tuple[Caution, ...] = ()
    """What must be read beside it: a doubtful safety element does not wait for a plan."""


@dataclass(frozen=True)
class NoteRow:
    """Something to know about the plan: what was left out, shortened or set aside, and why."""

    kind: Literal["left_out", "shortened", "set_aside", "not_checked", "warning", "note", "assumed"]
    text: str


@dataclass(frozen=True)
class BayBar:
    """One stage standing in a space or on a hall's floor."""

    lane_id: str
    object_id: str
    object_name: str
    treatment_title: str
    stage_number: int
    stage_title: str
    work: Span
    waits: Span | None
    area_m2: int
    running: bool
    cautions: tuple[Caution, ...]


@dataclass(frozen=True)
class BayLane:
    """A space or a hall's clear floor over the horizon; tuples have one number per month."""

    lane_id: str
    name: str
    what: Literal["space", "hall"]
    kind: str
    """The kind of space; ``hall floor`` for a hall."""
    area_m2: tuple[int, ...]
    """Room there is. A hall's includes the spots its absent objects free: an area, not a shape."""
    used_m2: tuple[int, ...]
    slots: tuple[int, ...] | None
    """Jobs at once; None: no limit."""
    used_slots: tuple[int, ...]
    bars: tuple[BayBar, ...]
    note: str
    """What was not checked, or that area is not shape; may be empty."""


@dataclass(frozen=True)
class HoursCell:
    """One trade in one month."""

    month: int
    planned: int
    capacity: int
    overtime: int
    """Planned hours beyond capacity."""
    overtime_most: int
    closed: bool


@dataclass(frozen=True)
class HoursRow:
    """One trade over the horizon."""

    trade: str
    cells: tuple[HoursCell, ...]
    planned_total: int
    overtime_total: int
    fullest_month: int | None
    """The month with least room left; None where nothing is planned."""


@dataclass(frozen=True)
class GradePoint:
    """One grade given, or ``grade`` None where the element could not be seen."""

    date: dt.date
    assessor: str
    grade: int | None
    words: str
    """What that grade looks like on this kind of element."""
    note: str
    treated: bool
    """True: the state recorded after a treatment, not a grade from a walk."""


@dataclass(frozen=True)
class ForecastPoint:
    """Chances of each grade in one month if nothing is done, with the 90 % range of poor or worse."""

    month: int
    p: tuple[float, float, float, float]
    poor: float
    """Chance of grade 3 or 4."""
    low: float
    high: float


@dataclass(frozen=True)
class ElementPage:
    """One element's graded past and its forecast."""

    element_id: str
    kind: str
    material: str
    share: float
    safety: bool
    past: tuple[GradePoint, ...]
    ahead: tuple[ForecastPoint, ...]
    basis: str
    """Where the forecast comes from: own history, its material, or the prior only."""
    sentence: str


@dataclass(frozen=True)
class FindingRow:
    """Something noted on an object."""

    finding_id: str
    date: dt.date
    element_id: str | None
    cause: str
    severity: int
    note: str
    ended_on: dt.date | None


@dataclass(frozen=True)
class HazardRow:
    """A hazard, who said so, and the caution that goes with it."""

    hazard: str
    state: str
    note: str
    by: str
    date: dt.date | None
    caution: str


@dataclass(frozen=True)
class DriverRow:
    """A part of an object's loss: an element, or a cause "if the association is causal"."""

    what: Literal["element", "cause"]
    name: str
    points: float
    share: float
    """Of the object's whole loss (0 to 1)."""


@dataclass(frozen=True)
class TreatmentChoice:
    """A treatment somebody proposed for the object."""

    treatment_id: str
    title: str
    kind: str
    months: int
    cost: int
    planned: bool
    left_out: str
    """Why it could not be planned; empty where it could."""
    loss_first: int | None
    """Points lost if done as early as can be; None where it could not be planned."""
    loss_untreated: int


@dataclass(frozen=True)
class ObjectPage:
    """Everything known about one object."""

    object_id: str
    object_name: str
    category: str
    hall_id: str | None
    hall_name: str
    mounting: str
    significance: float
    size_words: str
    elements: tuple[ElementPage, ...]
    findings: tuple[FindingRow, ...]
    surveyed: bool
    """False: nobody recorded a hazard survey, which is never "no hazard"."""
    hazards: tuple[HazardRow, ...]
    cautions: tuple[Caution, ...]
    safety: SafetyRow | None
    loss_points: int
    loss_share: float
    loss_share_low: float
    loss_share_high: float
    wait_points: float
    wait_sentence: str
    drivers: tuple[DriverRow, ...]
    treatments: tuple[TreatmentChoice, ...]
    job: JobRow | None
    blocked: tuple[str, ...]
    """What keeps it from starting sooner, or from being planned, as sentences; empty without a plan."""
    neighbours: tuple[str, ...]
    """Objects that share its hall or bay at that time, as sentences."""
