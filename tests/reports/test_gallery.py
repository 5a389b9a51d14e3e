"""What is left alone, the safety flags, the notes and what stands behind a plan."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.museum import museum
from tests.studies import FLAG, JOBS, outcome_of, study
from triage.errors import Fault
from triage.planning.outcome import Ending, Outcome
from triage.reports.gallery import due, untreated_rows
from triage.reports.notes import note_rows, value_judgements
from triage.reports.safety import NOT_BY_POINTS, safety_rows
from triage.reports.standing import points_in_words, standing
from triage.reports.text import plan_text


def outcome(**changes: object) -> Outcome:
    """Return the hand-made outcome, some of it changed."""
    return outcome_of(study().assembled).model_copy(update=changes)


def test_untreated_objects_say_what_waiting_costs_dearest_first() -> None:
    """Without the glider's job it comes first; the crated hull has no treatment to wait for."""
    jobs = {k: v for k, v in JOBS.items() if k != "GLIDER"}
    rows = untreated_rows(study(jobs=jobs, flags=()))

    assert [r.object_id for r in rows] == ["GLIDER", "CRATE"]
    assert rows[0].sentence.endswith("One more year's wait costs about 1.2 % of it for good.")
    assert rows[1].sentence.endswith("Nobody has proposed a treatment.")
    assert [r.has_treatment for r in rows] == [True, False]
    assert rows[0].loss_share == pytest.approx(0.4)
    assert [r.cautions for r in rows] == [(), ()]


def test_a_flagged_object_left_untreated_is_cautioned_beside_it() -> None:
    """Left alone in points is never left alone in safety: the caution stands there, on paper too."""
    made = study(jobs={k: v for k, v in JOBS.items() if k != "GLIDER"})
    (glider,) = (r for r in untreated_rows(made) if r.object_id == "GLIDER")

    assert [c.text for c in glider.cautions] == [f"{FLAG.caution} {NOT_BY_POINTS}"]
    assert "points do not know danger" in " ".join(plan_text(made).split("LEFT UNTREATED")[1].split())


def test_an_object_whose_treatments_were_all_left_out_says_so() -> None:
    """Proposed but impossible is not the same as never proposed."""
    collection = museum(stages=museum().stages[:5])
    rows = untreated_rows(study(collection, {k: v for k, v in JOBS.items() if k != "ENGINE"}))

    engine = next(r for r in rows if r.object_id == "ENGINE")
    assert engine.sentence.endswith("Nothing proposed for it could be planned: see the notes.")


def test_safety_rows_carry_the_caution_and_the_place() -> None:
    """The flagged glider hangs in Harbour Hall; keep people from beneath it."""
    (row,) = safety_rows(study())

    assert (row.object_name, row.hall_name, row.mounting) == ("Tern glider", "Harbour Hall", "hung")
    assert (row.caution.kind, row.caution.text) == ("safety", FLAG.caution)
    assert (row.chance, row.element_ids) == (0.4, ("hangers",))


def test_a_gap_is_said_as_at_most() -> None:
    """3.01 % is at most 3.1 % of the avoidable loss."""
    text = standing(outcome(gap=0.0301))

    assert "Gap: another plan could save at most 3.1 % of the avoidable loss beyond it." in text


def test_proven_best_is_said_only_then() -> None:
    """Other endings never use the word."""
    assert standing(outcome(ending=Ending.PROVEN_BEST)).startswith("Proven best")
    others = [e for e in Ending if e is not Ending.PROVEN_BEST]
    assert not any("roven" in standing(outcome(ending=e)) for e in others)


def test_an_unknown_bound_is_said_to_be_unknown() -> None:
    """Nothing is invented where no bound is known."""
    assert standing(outcome(bound=None, gap=None)) == "How much better another plan could be is not known."


@pytest.mark.parametrize("ending", list(Ending))
def test_every_ending_has_a_sentence_with_and_without_a_plan(ending: Ending) -> None:
    """No ending is without words."""
    assert standing(outcome(ending=ending)).endswith(".")
    if ending not in (Ending.PROVEN_BEST, Ending.BEST_IN_TIME):
        assert standing(outcome(ending=ending, plan=None)).endswith(".")


def test_points_are_explained() -> None:
    """What each part is, what a point is, and what doing nothing would be."""
    text = points_in_words(outcome())

    assert "100 are the whole of an object of significance 1" in text
    assert "Doing nothing new would come to 7,640" in text
    assert points_in_words(outcome(plan=None)) == ""


def test_notes_begin_with_rows_set_aside_then_what_was_left_out() -> None:
    """Then assumptions and value judgements."""
    collection = museum(stages=museum().stages[:5])
    made = study(collection, {k: v for k, v in JOBS.items() if k != "ENGINE"})
    fault = Fault(
        file="grades.csv", row=7, column="grade", value="5", rule="A grade is 1 to 4.", mend="Look again."
    )
    rows = note_rows(replace(made, intake=replace(made.intake, faults=(fault,))))

    assert [r.kind for r in rows[:2]] == ["set_aside", "left_out"]
    assert "row 7" in rows[0].text
    assert "Catch and drain the oil" in rows[1].text
    assert "Made by hand." in [r.text for r in rows]


def test_value_judgements_are_named_as_such() -> None:
    """Overtime, months off display and the value date are judgements, each said with its figure."""
    rows = value_judgements(study())

    assert all(r.text.startswith("Value judgement:") for r in rows)
    assert any("an hour of overtime counts 2 points" in r.text for r in rows)
    assert any("25 years from now" in r.text for r in rows)


def test_gallery_actions_are_due_now_or_later() -> None:
    """Within the first three months is now."""
    for start, found in ((0, (1, 0)), (2, (1, 0)), (3, (0, 1))):
        now, later = due(study(jobs={"ENGINE": ("T-ENGINE", ((start, None),))}))

        assert (len(now), len(later)) == found


def test_a_flag_says_from_which_chance_on_it_is_raised() -> None:
    """The threshold is visible wherever the flag is."""
    assert safety_rows(study())[0].reason.endswith("Flagged from a chance of 10 % on.")
