"""The story comes true in a real plan, found in a short time."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from triage import risk
from triage.planning.assemble import Assembled, assemble
from triage.planning.outcome import Outcome
from triage.planning.problem import Job, PlanningProblem
from triage.planning.solver import Limits, solve
from triage.planning.timeline import Timeline, calendar_of, timeline_of
from triage.planning.verify import verify_outcome
from triage.survey import read_collection

pytestmark = pytest.mark.slow
SECONDS = 15.0
YEAR_2028 = range(12, 24)


@dataclass(frozen=True)
class Story:
    """The demo, assembled and planned."""

    fitted: risk.FittedModel
    assembled: Assembled
    outcome: Outcome

    @property
    def problem(self) -> PlanningProblem:
        """The planning problem."""
        return self.assembled.problem

    @property
    def jobs(self) -> dict[str, Job]:
        """object_id -> its job."""
        assert self.outcome.plan is not None
        return {job.object_id: job for job in self.outcome.plan.jobs}

    def timeline(self, object_id: str) -> Timeline:
        """When an object's job runs."""
        job = self.jobs[object_id]
        found = timeline_of(calendar_of(self.problem), self.problem.treatment_by_id[job.treatment_id], job)
        assert found is not None
        return found

    def away(self, object_id: str) -> set[int]:
        """The months in which an object is off display, waits included."""
        spans = [s for s in self.timeline(object_id).spans if s.stage.away]
        return {month for span in spans for month in range(span.start, span.until)}

    def lost(self, treatment_id: str) -> tuple[int, ...]:
        """Loss by the month before which the treatment ends."""
        return self.problem.treatment_by_id[treatment_id].loss_if_done


@pytest.fixture(scope="module")
def story(demo_folder: Path) -> Story:
    """The demo's plan, as the main job makes it."""
    collection = read_collection(demo_folder).collection
    assert collection is not None
    fitted = risk.fit(collection)
    assembled = assemble(collection, risk.object_losses(fitted))
    return Story(fitted, assembled, solve(assembled.problem, Limits(seconds=SECONDS, seed=0, workers=2)))


def test_the_plan_is_sound_and_bounded(story: Story) -> None:
    """The independent checker finds nothing, and a bound is proven."""
    assert verify_outcome(story.problem, story.outcome) == ()
    assert story.outcome.bound is not None


def test_between_a_third_and_a_half_of_the_objects_is_taken_off_display(story: Story) -> None:
    """Money, floor and hours let about twenty to thirty objects through in five years."""
    away = [o for o in story.jobs if story.away(o)]
    assert 15 <= len(away) <= 33


def test_money_bites_in_every_year_but_perhaps_the_last(story: Story) -> None:
    """At least four fifths of the free money of each of the first four years is spent."""
    for budget in story.problem.budgets[:4]:
        spent = sum(
            story.problem.treatment_by_id[job.treatment_id].cost
            for job in story.jobs.values()
            if budget.from_month <= job.stages[0].start <= budget.to_month
        )
        assert 0.8 * budget.amount <= spent <= budget.amount


def test_the_worst_graded_object_is_left_alone(story: Story) -> None:
    """The wreck has the worst grades; rebuilding it would lose more original substance than leaving it."""
    assert min(story.lost("E09-full")) > story.problem.object_by_id["E09"].loss_if_never
    assert "E09" not in story.jobs


def test_the_ocean_racer_comes_down_onto_a_neighbour_s_spot(story: Story) -> None:
    """While it is lowered, an object of its hall is away, since the clear floor alone is too small."""
    lowering = next(s for s in story.timeline("E03").spans if s.stage.place == "hall")
    month = lowering.start
    assert lowering.stage.area_m2 > story.problem.hall_by_id["H1"].clear_m2[month]
    spots = [
        story.problem.object_by_id[o].display_m2
        for o in story.jobs
        if o.startswith("E") and o != "E03" and month in story.away(o)
    ]
    assert sum(spots) > 0


def test_the_drip_tray_beats_the_restoration(story: Story) -> None:
    """Ending the leak now saves more than the earliest possible restoration, and is what the plan does."""
    full = story.problem.treatment_by_id["M05-full"]
    earliest_end = sum(s.months for s in full.stages)
    tray_in_first_year = story.lost("M05-tray")[12]
    assert tray_in_first_year < min(full.loss_if_done[earliest_end:])
    assert story.jobs["M05"].treatment_id == "M05-tray"
    assert story.timeline("M05").end <= 12


def test_the_doubtful_suspension_heads_the_flags_though_points_would_not(story: Story) -> None:
    """The record monoplane is the first safety flag; by points its inspection would save almost nothing."""
    flags = risk.safety_flags(story.fitted)
    assert flags[0].object_id == "M02"
    assert flags[0].element_ids == ("suspension",)
    never = story.problem.object_by_id["M02"].loss_if_never
    assert never - story.lost("M02-support")[1] < 0.02 * never


def test_the_hull_in_one_piece_is_left_out_by_the_door(story: Story) -> None:
    """The treatment too wide for the hall's door is left out and says so; the one in halves is kept."""
    left = story.assembled.left_out_by_id["M07-onepiece"]
    assert "door" in left.words
    assert "M07-part" in story.problem.treatment_by_id
    assert set(story.assembled.left_out_by_id) & {t.treatment_id for t in story.problem.treatments} == set()


def test_the_newcomer_is_forecast_from_its_material(story: Story) -> None:
    """The object never graded has a forecast, and it is not called its own history."""
    forecast = risk.forecast(story.fitted, (0, 12, 120))
    basis = {e.basis for e in forecast.elements if e.object_id == "S05"}
    assert basis
    assert "own history" not in basis
    assert story.problem.object_by_id["S05"].loss_if_never > 0


def test_the_centrepiece_waits_for_the_anniversary(story: Story) -> None:
    """The airliner is on show all through 2028; its treatment, research included, cannot end before."""
    treatment = story.problem.treatment_by_id["A01-part"]
    assert sum(s.months for s in treatment.stages) > YEAR_2028.start
    assert min(story.away("A01")) >= YEAR_2028.stop


def test_running_work_goes_on_at_once(story: Story) -> None:
    """The three jobs under way start in the first month, each where it stands."""
    for row in story.assembled.collection.running:
        job = story.jobs[row.object_id]
        assert (job.treatment_id, job.stages[0].start, job.stages[0].space_id) == (
            row.treatment_id, 0, row.space_id,
        )  # fmt: skip
