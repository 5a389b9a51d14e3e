"""The planning problem with the way back to the museum's own words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from triage.planning.problem import PlanningProblem
from triage.planning.words import Names
from triage.records import Collection, Stage

NoteKind = Literal["left_out", "shortened", "set_aside", "not_checked", "warning", "note"]


@dataclass(frozen=True)
class Note:
    """One thing the assembling did that a planner should know, in words."""

    kind: NoteKind
    text: str


@dataclass(frozen=True)
class LeftOut:
    """A treatment that is not in the problem, and every reason why."""

    treatment_id: str
    object_id: str
    reasons: tuple[str, ...]

    @property
    def words(self) -> str:
        """The reasons as one text."""
        return "; ".join(self.reasons)


@dataclass(frozen=True)
class Assembled:
    """A planning problem, what was left out of it and why, and the look-ups back.

    ``stages_of`` gives, for each treatment in the problem, the museum's stages in the problem's order: of
    running work only those that are left.
    """

    collection: Collection
    problem: PlanningProblem
    notes: tuple[Note, ...]
    left_out: tuple[LeftOut, ...]
    stages_of: Mapping[str, tuple[Stage, ...]] = field(default_factory=dict)
    running: frozenset[str] = frozenset()
    """Treatments that go on already."""

    def calendar_month(self, month: int) -> int:
        """Return the calendar month number of a month of the problem."""
        return self.collection.settings.first_month + month

    @cached_property
    def names(self) -> Names:
        """What the museum calls the problem's objects, treatments, halls, spaces and display rules."""
        record = self.collection
        return Names(
            objects={o.object_id: o.called for o in record.objects},
            treatments={t.treatment_id: t.called for t in record.treatments},
            halls={h.hall_id: h.called for h in record.halls},
            spaces={s.space_id: s.called for s in record.spaces},
            rules={r.rule_id: r.note or r.rule_id for r in record.display_rules},
        )

    @cached_property
    def left_out_by_id(self) -> dict[str, LeftOut]:
        """treatment_id -> why it was left out."""
        return {item.treatment_id: item for item in self.left_out}
