"""One object's page."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from tests.museum import HAZARDS, month, museum
from tests.studies import FLAG, JOBS, study
from triage.records import Hazard, Treated
from triage.records.vocabulary import HazardState
from triage.reports.cautions import BENEATH_HUNG, NOT_SURVEYED
from triage.reports.explain_text import explain_text
from triage.reports.object_page import object_page
from triage.reports.safety import NOT_BY_POINTS
from triage.reports.why import left_alone
from triage.survey.scale import describe


def test_the_graded_past_stands_by_date_with_what_a_grade_looks_like() -> None:
    """Dates, assessors, grades, notes; words from the scale of that kind of element."""
    covering, hangers = object_page(study(), "GLIDER").elements

    assert [(p.date.year, p.assessor, p.grade) for p in covering.past] == [
        (2024, "A", 1),
        (2025, "B", 2),
        (2026, "A", 3),
    ]
    assert covering.past[2].note == "taut seams gone"
    assert covering.past[2].words == describe("covering", "doped linen", 3)
    assert (hangers.past[1].grade, hangers.past[1].words) == (None, "Looked for, could not be seen.")


def test_treatments_done_stand_in_the_past_after_grades_of_their_day() -> None:
    """On one day grades come before treatments; a blank element means all of them."""
    done = Treated(date=dt.date(2025, 3, 1), object_id="GLIDER", grade_after=1, note="patched")
    covering, hangers = object_page(study(museum(treated=(done,))), "GLIDER").elements

    assert [(p.date.year, p.treated, p.grade) for p in covering.past] == [
        (2024, False, 1),
        (2025, False, 2),
        (2025, True, 1),
        (2026, False, 3),
    ]
    assert [p.treated for p in hangers.past] == [False, True, False]


def test_the_forecast_carries_its_range_by_calendar_month() -> None:
    """Chance of poor or worse with its 90 % range."""
    ahead = object_page(study(), "GLIDER").elements[0].ahead

    assert [p.month for p in ahead] == [month("2027-01"), month("2028-01"), month("2029-01")]
    assert [p.poor for p in ahead] == pytest.approx([0.2, 0.3, 0.4])
    assert all(p.low <= p.poor <= p.high for p in ahead)


def test_shares_are_of_the_object() -> None:
    """3 and 1 of the table are three quarters and one."""
    assert [e.share for e in object_page(study(), "GLIDER").elements] == [0.75, 0.25]


def test_findings_are_newest_first() -> None:
    """With cause, severity and the date of their round."""
    (finding,) = object_page(study(), "GLIDER").findings

    assert (finding.cause, finding.severity, finding.date) == ("light", 3, dt.date(2025, 3, 1))


def test_cleared_hazards_are_listed_without_a_caution() -> None:
    """The engine's asbestos was cleared; an open one keeps its caution."""
    opened = Hazard(object_id="ENGINE", hazard="lead paint", state=HazardState.SUSPECTED)
    page = object_page(study(museum(hazards=(*HAZARDS, opened))), "ENGINE")

    assert [(h.hazard, bool(h.caution)) for h in page.hazards] == [("asbestos", False), ("lead paint", True)]


def test_not_surveyed_is_said_and_is_not_no_hazard() -> None:
    """No row: surveyed is False and the caution stands."""
    page = object_page(study(), "CRATE")

    assert (page.surveyed, page.hazards) == (False, ())
    assert [c.text for c in page.cautions] == [NOT_SURVEYED]


def test_a_hung_object_is_cautioned_without_any_job() -> None:
    """Whoever opens its page may go and stand beneath it."""
    page = object_page(study(jobs=None), "GLIDER")

    assert [c.text for c in page.cautions][:2] == [f"{FLAG.caution} {NOT_BY_POINTS}", BENEATH_HUNG]


def test_a_planned_month_never_speaks_against_a_safety_flag() -> None:
    """Whatever month the plan names for a flagged object, it says not to wait for it."""
    page = object_page(study(), "GLIDER")
    told = " ".join(explain_text(study(), page).split())

    assert page.job is not None
    assert page.job.cautions[0].text == f"{FLAG.caution} {NOT_BY_POINTS}"
    assert told.count("Do not wait for the plan") == 1
    assert "costs about 1.2 % of it for good; that counts what is lost of it, not the danger" in told


def test_an_object_nobody_graded_says_what_its_figures_rest_on() -> None:
    """Beside its loss, not only beside each element; a graded one does not say it."""
    never = "Nobody has graded it yet: this rests on its materials alone"
    blank = museum(grades=())

    assert never in object_page(study(blank), "GLIDER").wait_sentence
    assert never not in object_page(study(), "GLIDER").wait_sentence


def test_a_range_that_closes_is_not_said_twice() -> None:
    """From 40 % to 40 % reads as a slip."""
    made = study()
    crate = made.losses["CRATE"]
    close = crate.model_copy(update={"low": crate.never, "high": crate.never})

    said = left_alone(replace(made, losses={**made.losses, "CRATE": close}), "CRATE")
    assert "(90 % range less than 1 % wide)" in said


def test_loss_and_waiting_are_said_in_shares() -> None:
    """40 % of it, range 25 to 60; 1.2 % a year."""
    page = object_page(study(), "GLIDER")

    assert (page.loss_share, page.loss_share_low, page.loss_share_high) == pytest.approx((0.4, 0.25, 0.6))
    assert page.wait_sentence == (
        "Left alone, about 40 % of what is original in it would be lost by Jan 2052 "
        "(90 % range 25 % to 60 %). One more year's wait costs about 1.2 % of it for good; that counts "
        "what is lost of it, not the danger to people."
    )


def test_drivers_are_elements_then_causes() -> None:
    """Shares of the loss; causes only as associations (said in the text)."""
    page = object_page(study(), "GLIDER")

    assert [(d.what, d.name) for d in page.drivers] == [
        ("element", "covering"),
        ("element", "hangers"),
        ("cause", "light"),
    ]
    assert page.drivers[2].share == pytest.approx(5 / 40)
    assert "if the association is causal" in explain_text(study(), page)


def test_treatments_say_which_is_planned_and_what_each_would_leave() -> None:
    """Re-covering in the plan, the shade not; both could be planned."""
    cover, shade = object_page(study(), "GLIDER").treatments

    assert (cover.planned, shade.planned) == (True, False)
    assert (cover.months, cover.cost, cover.left_out) == (6, 12001, "")
    assert (cover.loss_first, cover.loss_untreated) == (round(80 * (28 + 0.6)), 3200)


def test_a_treatment_that_could_not_be_planned_says_why() -> None:
    """With its months and cost as proposed."""
    collection = museum(stages=museum().stages[:5])
    page = object_page(study(collection, {k: v for k, v in JOBS.items() if k != "ENGINE"}), "ENGINE")

    assert "no stage" in page.treatments[0].left_out
    assert page.treatments[0].loss_first is None


def test_what_keeps_it_from_starting_sooner_is_named() -> None:
    """By hand the glider was set a month later than it could start; the biplane starts at once."""
    (glider,), (biplane,) = (object_page(study(), i).blocked for i in ("GLIDER", "BIPLANE"))

    assert "It would also fit from Jan 2027" in glider
    assert "cannot start sooner" in biplane


def test_its_job_has_the_number_it_has_in_the_queue() -> None:
    """The glider is second of the queue, the engine first in the galleries."""
    jobs = [object_page(study(), object_id).job for object_id in ("GLIDER", "ENGINE")]

    assert [job.position for job in jobs if job is not None] == [2, 1]


def test_neighbours_share_hall_or_bay_meanwhile() -> None:
    """The biplane is off display at the same time; nobody shares the glider's bay."""
    assert object_page(study(), "GLIDER").neighbours == (
        "Sandpiper biplane, of the same hall, is off display Jan 2027 - Sep 2027.",
    )


def test_sizes_say_what_nobody_measured() -> None:
    """Known sizes with units, unknown ones by name."""
    assert (
        object_page(study(), "GLIDER").size_words == "Length 6 m, span 14 m, height 2 m; not measured: mass"
    )
    assert object_page(study(), "BIPLANE").size_words == "Not measured."


def test_without_a_plan_there_is_no_job_and_nothing_blocks() -> None:
    """Before any search the page shows the object alone."""
    page = object_page(study(jobs=None), "GLIDER")

    assert (page.job, page.blocked, page.neighbours) == (None, (), ())


def test_an_untreated_object_says_why_it_is_not_in_the_plan() -> None:
    """The crate has no treatment to plan."""
    page = object_page(study(), "CRATE")

    assert page.job is None
    assert page.blocked
    assert "Crated hull" in page.blocked[0]
    assert "The plan leaves it untreated." in explain_text(study(), page)


def test_an_unknown_object_raises() -> None:
    """The caller names the known ones."""
    with pytest.raises(KeyError):
        object_page(study(), "NOBODY")
