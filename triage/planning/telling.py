"""What an explanation says: tries and lacks of :mod:`triage.planning.explain` as sentences."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby

from triage.planning.fitting import Beside, Fitting, Lack
from triage.planning.outcome import Violation
from triage.planning.points import timelines_of
from triage.planning.problem import PlanningProblem, PlanTreatment, Seam, Whole
from triage.planning.words import Names, counted, listed, month_text, months_text, shortfall_text

TOLD = 3
"""Earlier months told in sentences; all of them are in the tries."""
SHORT_NAMES = {
    1: "time",
    3: "room",
    4: "clear floor",
    5: "hours",
    6: "objects that may be away",
    7: "display promises",
    8: "money",
    9: "promised work",
}
"""What is short, by the rule that says so."""
NAMED = (3, 4, 5, 6)
"""Rules whose first id is the space, hall or trade that is short."""


class Try(Seam):
    """One start tried for an object, the other jobs staying as they are."""

    treatment_id: str
    start: Whole
    fits: bool
    change: Whole | None
    """How the plan's total would change, in points, if the job started then; None if it does not fit."""
    lacks: tuple[Violation, ...]
    """What keeps it from starting then; empty if it fits."""


class Telling:
    """Sentences about one problem in the museum's names."""

    def __init__(self, problem: PlanningProblem, names: Names) -> None:
        self.problem, self.names = problem, names

    def lacks(self, fitting: Fitting, lack: Lack, start: int) -> Iterator[Violation]:
        """Yield a lack as broken rules in words."""
        mine, stages = fitting.treatment, len(fitting.treatment.stages)
        stage = f"Stage {lack.stage} of {stages}: " if lack.stage and stages > 1 else ""
        for short in lack.shorts:
            yield Violation(
                rule=short.rule,
                ids=tuple(filter(None, (short.resource_id, mine.object_id))),
                from_month=short.from_month,
                to_month=short.to_month,
                text=("" if short.kind == "budget" else stage)
                + shortfall_text(self.problem, short, self.names),
            )
        if lack.reason:
            rule, text = self._reason(fitting, lack)
            ids = (mine.object_id, mine.treatment_id)
            yield Violation(rule=rule, ids=ids, from_month=start, to_month=start, text=stage + text)

    def _reason(self, fitting: Fitting, lack: Lack) -> tuple[int, str]:
        mine, of = fitting.treatment, self.problem
        name = self.names.of_treatment(mine.treatment_id)
        if lack.reason == "early":
            return 1, f"{name} may not start before {month_text(of, mine.earliest)}."
        if lack.reason == "late":
            return 1, f"{name} may not start after {month_text(of, mine.latest)}."
        if lack.reason == "horizon":
            return 1, f"It would not be done by {month_text(of, of.months - 1)}, the last month planned."
        if lack.reason == "no door":
            stage = mine.stages[lack.stage - 1]
            size = f"{stage.width_cm} x {stage.height_cm} cm (width x height)"
            return 3, f"No space of kind {stage.place} has a door that lets {size} through."
        months = sorted(fitting.spot_needed)
        when = months_text(of, months[0], months[-1])
        spot = self.names.of_object(mine.object_id)
        return 4, f"Other work in the hall relies on the spot of {spot} being free {when}."

    def promise(self, treatment_id: str, start: int, frozen: bool) -> str:
        """Return the sentence of a start that must be kept."""
        kept = f"{self.names.of_treatment(treatment_id)} from {month_text(self.problem, start)}"
        return (
            f"As the former plan is frozen there, it keeps {kept}." if frozen else f"It is promised {kept}."
        )

    def planned(self, object_id: str, start: int, tries: Sequence[Try]) -> Iterator[str]:
        """Yield why a job does not start sooner."""
        name, when = self.names.of_object(object_id), month_text(self.problem, start)
        if not tries:
            yield f"{name} starts in {when}, the first month work is open; it cannot start sooner."
            return
        fits = [t for t in tries if t.change is not None]
        if not fits:
            yield f"{name} starts in {when}; while the other jobs stay, it fits in no earlier month."
        else:
            months = listed([month_text(self.problem, t.start) for t in reversed(fits[-TOLD:])])
            more = f" and {len(fits) - TOLD} more" if len(fits) > TOLD else ""
            least = min(fits, key=lambda t: t.change or 0)
            then, change = month_text(self.problem, least.start), _changed(least.change or 0)
            yield (
                f"{name} starts in {when}. It would also fit from {months}{more}; from {then} the plan's "
                f"total would {change}."
            )
        yield from self._grouped(tries)

    def _grouped(self, tries: Sequence[Try]) -> Iterator[str]:
        """Yield what is short for the nearest months without room, those that lack the same told once."""
        groups: list[tuple[list[int], str]] = []
        for texts, months in groupby(tries, key=lambda t: " ".join(lack.text for lack in t.lacks)):
            if texts:
                groups.append(([t.start for t in months], texts))
        for starts, texts in groups[:TOLD]:
            when = month_text(self.problem, starts[0])
            if len(starts) > 1:
                when = f"any open month from {month_text(self.problem, starts[-1])} to {when}"
            yield f"To start in {when}: {texts}"
        rest = sum(len(starts) for starts, _ in groups[TOLD:])
        if rest:
            yield f"There is no room in {counted(rest, 'earlier month')} either."

    def untreatable(self, object_id: str) -> str:
        """Return the sentence for an object nothing can be done for."""
        return f"There is no treatment for {self.names.of_object(object_id)} to plan."

    def unplanned(self, fitting: Fitting, tries: Sequence[Try], moves: int) -> str:
        """Return why a treatment is not in the plan; ``moves``: points of departing from the former plan."""
        treatment, of = fitting.treatment, self.problem
        name = self._called(treatment)
        done = treatment.loss_if_done[treatment.earliest + 1 :]
        if done and min(done) >= fitting.item.loss_if_never:
            return f"{name} would save nothing: at least as much would be lost with it as without."
        fits = [t for t in tries if t.change is not None]
        if fits:
            best = min(fits, key=lambda t: t.change or 0)
            when, change = month_text(of, best.start), best.change or 0
            if change >= 0:
                return (
                    f"{name} would fit, but is not worth it: at its best, from {when}, the plan's total "
                    f"would {_changed(change)}, since {_balance(fitting, best.start, moves)}."
                )
            return (
                f"{name} would fit beside the other jobs from {when}, and the plan's total would "
                f"{_changed(change)}; the search did not come to it."
            )
        inside = [t for t in tries if treatment.earliest <= t.start <= treatment.latest]
        if not inside:
            return f"{name} may start in no open month planned."
        first = inside[0].start
        alone = Fitting(Beside(of, []), treatment)
        lack = alone.lack_from(first)
        if lack is not None and all(alone.lack_from(one.start) for one in inside):
            texts = " ".join(told.text for told in self.lacks(alone, lack, first))
            return (
                f"{name} would fit in no month even if nothing else were planned. "
                f"From {month_text(of, first)}: {texts}"
            )
        texts = " ".join(lack.text for lack in inside[0].lacks)
        return (
            f"{name} fits in none of the {counted(len(inside), 'month')} it may start in while the other "
            f"jobs stay. What is short: {self._tally(inside)}. From {month_text(of, first)}: {texts}"
        )

    def _called(self, treatment: PlanTreatment) -> str:
        of_object = self.names.of_object(treatment.object_id)
        return f"{self.names.of_treatment(treatment.treatment_id)} on {of_object}"

    def _tally(self, tries: Sequence[Try]) -> str:
        """Return what is short in how many of the months tried, the most frequent first."""
        counts = Counter(name for one in tries for name in {self._short_name(lack) for lack in one.lacks})
        return listed([f"{name} in {counted(count, 'month')}" for name, count in counts.most_common(TOLD)])

    def _short_name(self, lack: Violation) -> str:
        kind = SHORT_NAMES[lack.rule]
        return f"{kind} of {self.names.of_resource(lack.rule, lack.ids[0])}" if lack.rule in NAMED else kind


def _balance(fitting: Fitting, start: int, moves: int) -> str:
    """Return what a job saves and what it costs, in points."""
    found = fitting.best_from(start)
    assert found is not None  # asked only of starts that fit
    points, job = found
    item, timeline = fitting.item, timelines_of(fitting.beside.problem, fitting.calendar, [job])[0]
    saved = item.loss_if_never - fitting.treatment.loss_if_done[timeline.end]
    away = timeline.away_months * item.away_points
    overtime = points - fitting.treatment.loss_if_done[timeline.end] - away
    costs = [f"{away} for {counted(timeline.away_months, 'month')} off display"] if away else []
    costs += [f"{overtime} for overtime"] if overtime else []
    costs += [f"{moves} for departing from the former plan"] if moves > 0 else []
    return f"it saves {saved} points of loss" + (f" and costs {listed(costs)}" if costs else "")


def _changed(change: int) -> str:
    if change == 0:
        return "stay the same"
    return f"{'rise' if change > 0 else 'fall'} by {counted(abs(change), 'point')}"
