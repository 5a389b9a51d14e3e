"""Treatments that could not be done even if nothing else were: named, with every reason.

Each check is necessary for a job to exist at all, so that leaving the treatment out never costs a plan.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence

from triage.planning.assemble.horizon import Horizon
from triage.planning.problem import (
    BudgetLimit,
    HallRoom,
    PlanObject,
    PlanStage,
    PlanTreatment,
    SpaceRoom,
    TradeHours,
)
from triage.records.vocabulary import HALL_PLACE


class Fit:
    """What there is to fit into."""

    def __init__(
        self,
        horizon: Horizon,
        trades: Sequence[TradeHours],
        spaces: Sequence[SpaceRoom],
        halls: Sequence[HallRoom],
        budgets: Sequence[BudgetLimit],
        objects: Sequence[PlanObject],
    ) -> None:
        self.horizon = horizon
        self.trades = {t.trade_id: t for t in trades}
        self.spaces = tuple(spaces)
        self.halls = {h.hall_id: h for h in halls}
        self.budgets = tuple(budgets)
        self.objects = {o.object_id: o for o in objects}

    def reasons_against(self, treatment: PlanTreatment) -> tuple[str, ...]:
        """Return every reason why the treatment cannot be done at all; empty if it may be."""
        if not treatment.stages:
            return ("no stage says how long it takes and what it needs",)
        window = self._window_reason(treatment)
        if window:
            return (window,)
        found = [*self._money_reasons(treatment)]
        for number, stage in enumerate(treatment.stages, 1):
            found.extend(self._hours_reasons(number, stage))
            found.extend(self._place_reasons(number, stage, self.objects[treatment.object_id]))
        return tuple(dict.fromkeys(found))

    def _window_reason(self, treatment: PlanTreatment) -> str:
        if treatment.earliest > treatment.latest:
            return "the months it may start in lie outside the months planned for"
        months = self.horizon.open_months
        first = bisect_left(months, treatment.earliest)
        if first == len(months) or months[first] > treatment.latest:
            return "work stands still in all months it may start in"
        need = sum(stage.months for stage in treatment.stages)
        if need > len(months) - first:
            return (
                f"it takes {need} months of work, and only {len(months) - first} are left when it may start"
            )
        return ""

    def _money_reasons(self, treatment: PlanTreatment) -> Iterator[str]:
        months = [m for m in self.horizon.open_months if treatment.earliest <= m <= treatment.latest]
        most = [
            min((b.amount for b in self.budgets if b.from_month <= m <= b.to_month), default=treatment.cost)
            for m in months
        ]
        if max(most) < treatment.cost:
            yield f"it costs {treatment.cost}, and no year in which it may start has more than {max(most)}"

    def _hours_reasons(self, number: int, stage: PlanStage) -> Iterator[str]:
        for trade_id, hours in stage.hours.items():
            trade = self.trades.get(trade_id)
            if trade is None:
                yield f"stage {number} needs {trade_id}, a trade nobody has"
                continue
            most = max(trade.hours[m] + trade.overtime_most[m] for m in self.horizon.open_months)
            if hours[0] > most:
                yield f"stage {number} needs {hours[0]} h of {trade_id} in a month, there are at most {most}"

    def _place_reasons(self, number: int, stage: PlanStage, item: PlanObject) -> Iterator[str]:
        if stage.place is None:
            return
        if stage.place == HALL_PLACE:
            yield from self._floor_reasons(number, stage, item)
            return
        kind = [s for s in self.spaces if s.kind == stage.place]
        passed = [
            s for s in kind if s.door_width_cm >= stage.width_cm and s.door_height_cm >= stage.height_cm
        ]
        if not kind:
            yield f"stage {number} needs {stage.place}, and there is no such space"
        elif not passed:
            yield f"stage {number} passes the door of no {stage.place}"
        elif all(max(s.area_m2) < stage.area_m2 for s in passed):
            most = max(max(s.area_m2) for s in passed)
            need = f"{stage.area_m2} m² of {stage.place} floor"
            yield f"stage {number} needs {need}, the largest it gets into has {most}"
        elif all(max(s.slots) < 1 for s in passed):
            yield f"stage {number} needs {stage.place}, and none takes a job"

    def _floor_reasons(self, number: int, stage: PlanStage, item: PlanObject) -> Iterator[str]:
        if item.hall_id is None:
            yield f"stage {number} works on the floor of a hall, and the object stands in none"
            return
        need = stage.area_m2 if item.hung else max(0, stage.area_m2 - item.display_m2)
        freed = sum(
            o.display_m2
            for o in self.objects.values()
            if o.hall_id == item.hall_id and not o.hung and o.object_id != item.object_id
        )
        most = max(self.halls[item.hall_id].clear_m2) + freed
        if need > most:
            yield (
                f"stage {number} needs {need} m² of hall floor, and with every other object gone "
                f"there would be {most}"
            )
