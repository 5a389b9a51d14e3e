"""An object's sheet, piece by piece."""

from __future__ import annotations

from dataclasses import replace

from dashboard.parts import forecast, object_sheet, past
from tests.dashboard.reading import of_class, of_kind, text
from tests.dashboard.stand_ins import HAZARD, LIFTING, SAFETY, element, job
from tests.dashboard.stand_ins import object_sheet as sheet
from triage.reports.rows import JobRow


def test_the_past_has_a_column_for_each_year_and_a_mark_for_each_grade() -> None:
    """Years become columns; every grade, the unseen one too, is a mark."""
    table = past.past_table([element()])

    assert [text(h) for h in of_kind(table, "Th")][:6] == ["Element", "2019", "2021", "2022", "2024", "2025"]
    assert len(of_class(table, "grade")) == 5
    assert len(of_class(table, "unseen")) == 1


def test_an_object_nobody_graded_says_so() -> None:
    """No grades: words instead of an empty table."""
    assert "Nobody has graded" in text(past.past_table([element(graded=False)]))


def test_safety_elements_are_named_as_such() -> None:
    """An element that can hurt someone is told so beside its name."""
    assert "can hurt someone" in text(past.past_table([element(safety=True)]))


def test_the_fan_shows_chance_and_range() -> None:
    """The forecast draws the range as a closed band and the chance as a line."""
    band, line = forecast.fan_figure(element()).to_plotly_json()["data"]

    assert band["fill"] == "toself"
    assert len(band["x"]) == 2 * len(line["x"]) == 22
    assert line["y"][0] == 0.1


def test_each_fan_has_its_figures_as_a_table() -> None:
    """The chart's figures are one click below it, all four grades and the range."""
    said = text(forecast.fan(element()))

    assert "the figures" in said
    assert "90 % range" in said
    assert "Unacceptable" in said


def test_unsurveyed_is_never_no_hazard() -> None:
    """An object without a survey carries a caution that says so."""
    told = object_sheet.hazards(sheet(surveyed=False))

    assert "hazards not surveyed" in text(of_class(told, "caution"))


def test_hazards_are_cautions() -> None:
    """A confirmed hazard is a caution with who said so."""
    told = text(of_class(object_sheet.hazards(sheet()), "caution"))

    assert "radium paint, confirmed" in told
    assert "radiation officer" in told


def test_cautions_stand_before_their_stage() -> None:
    """Before the stage that lowers stands the lifting caution, before the one that opens the hazard."""
    stages = of_class(object_sheet.place_in_plan(job(), (), ()), "stages")[0]
    first, second, _ = (text(li) for li in of_kind(stages, "Li"))

    assert first.index(LIFTING.text) < first.index("Lowering and dismantling")
    assert second.index(HAZARD.text) < second.index("Opening up")


def test_a_caution_met_again_is_named_again() -> None:
    """A later stage with the same caution still carries one, by its first words."""
    told = object_sheet.place_in_plan(_opened_twice(), (), ())
    last = of_kind(of_class(told, "stages")[0], "Li")[-1]

    assert len(of_class(last, "caution")) == 1
    assert "As before an earlier stage: Radium paint on the dials, confirmed." in text(last)


def _opened_twice() -> JobRow:
    stages = job().stages
    return replace(job(), stages=(*stages[:2], replace(stages[2], cautions=(HAZARD,))))


def test_an_object_the_plan_leaves_says_why() -> None:
    """Without a job the sheet says so and lists what keeps it out."""
    said = text(object_sheet.place_in_plan(None, ("No treatment was proposed.",), ()))

    assert "The plan leaves it untreated." in said
    assert "No treatment was proposed." in said


def test_an_untreated_object_keeps_its_safety_caution_beside_the_plan() -> None:
    """Left alone in the plan is not left alone: the caution stands there; hazards follow below."""
    told = object_sheet.place_in_plan(None, (), (), (SAFETY, HAZARD))

    assert text(of_class(told, "caution")) == f"Caution: look at this first {SAFETY.text}"


def test_an_object_in_store_is_never_said_to_be_on_display() -> None:
    """Neither the job nor its stages speak of display where there is none."""
    stored = replace(job(away=False), hall_id=None, hall_name="in store", mounting="store")
    said = text(object_sheet.place_in_plan(stored, (), ()))

    assert "It is in store: nothing comes off display." in said
    assert "on display" not in said
    assert "· off display" not in said


def test_waiting_is_told_in_words_before_points() -> None:
    """What waiting costs comes in words; points are folded away at the end."""
    told = object_sheet.waiting(sheet())

    assert text(told).startswith("Each year of waiting loses about 1 % of the object.")
    assert "2,100" in text(of_kind(told, "Details"))


def test_treatments_that_could_not_be_planned_say_why() -> None:
    """A proposed treatment that was left out carries its reason."""
    said = text(object_sheet.treatments(sheet().treatments, "EUR"))

    assert "Its door is too narrow." in said
    assert "in this plan" in said
    assert "42,000 EUR" in said
