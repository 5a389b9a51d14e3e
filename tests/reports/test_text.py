"""The plan as text."""

from __future__ import annotations

from dataclasses import replace

from tests.museum import museum
from tests.studies import JOBS, study
from triage.errors import Fault, Level
from triage.planning.outcome import Ending, Violation
from triage.reports.layout import WIDTH
from triage.reports.text import check_text, plan_text, verdict_text
from triage.reports.words import NO_BREAK
from triage.survey import Intake


def one_line(text: str) -> str:
    """Return a text without its line breaks."""
    return " ".join(text.split())


def test_every_job_shows_its_cautions_before_its_stages() -> None:
    """The hung-load caution, what to move, the dope and the unmeasured door, then the stages."""
    glider = plan_text(study()).split("2. Tern glider (GLIDER), Harbour Hall")[1].split("IN THE GALLERIES")[0]
    marks = ["CAUTION", "HAZARD", "Not checked", "Stages", "Lower,", "Hoist,", "Why"]

    places = [glider.index(mark) for mark in marks]
    assert places == sorted(places)
    assert "Door of South bay not measured: not checked." in one_line(glider)


def test_a_stage_that_is_lifted_points_at_the_caution() -> None:
    """Lowering and hoisting lines both do."""
    lines = one_line(plan_text(study()))

    assert "Lower, clear floor of Harbour Hall (90 m², an area, not a shape) [lifting: see CAUTION]" in lines
    assert "Hoist, clear floor of Harbour Hall (90 m², an area, not a shape) [lifting: see CAUTION]" in lines


def test_a_wait_is_said_with_its_place() -> None:
    """The glider waits in the bay in July."""
    assert "Re-cover, South bay (46 m²); then waits there Jul 2027" in one_line(plan_text(study()))


def test_text_keeps_to_the_width_but_for_long_names() -> None:
    """Lines wrap at the width; only the line that names a job may run over."""
    long = [line for line in plan_text(study()).splitlines() if len(line) > WIDTH]

    assert all(line.lstrip()[0].isdigit() for line in long)


def test_an_empty_queue_says_so() -> None:
    """Nothing to do is an answer."""
    text = plan_text(study(museum(), {}))

    assert "Nothing new goes to the workshop." in text
    assert "No gallery action is due now." in text


def test_without_a_plan_the_clash_is_named_and_no_queue_is_shown() -> None:
    """Each conflict with its rule."""
    made = study()
    assert made.outcome is not None
    clash = Violation(rule=9, ids=("GLIDER",), text="The pinned work does not fit.")
    none = made.outcome.model_copy(
        update={"ending": Ending.IMPOSSIBLE, "plan": None, "bound": None, "gap": None, "conflicts": (clash,)}
    )
    text = plan_text(replace(made, outcome=none))

    assert "Rule 9: The pinned work does not fit." in text
    assert "THE QUEUE" not in text
    assert "SAFETY FIRST" in text


def test_many_rows_set_aside_are_counted() -> None:
    """Ten are listed, the rest is counted, and the command that lists all is named."""
    faults = tuple(Fault(file="grades.csv", row=n, rule="Bad.", mend="Mend.") for n in range(2, 16))
    made = study(jobs={k: JOBS[k] for k in ("ENGINE",)})
    text = plan_text(replace(made, intake=replace(made.intake, faults=faults)))

    assert text.count("grades.csv, row") == 10
    assert "4 more rows set aside: 'triage check' lists them all." in text


def test_check_counts_each_level() -> None:
    """Faults, warnings and notes apart, in the order read."""
    faults = (
        Fault(file="a.csv", row=2, rule="Bad.", mend="Mend.", loosens=True),
        Fault(level=Level.WARNING, file="b.csv", rule="Odd.", mend="Look."),
    )
    text = check_text(Intake(collection=museum(), faults=faults), "folder")

    assert text.index("a.csv") < text.index("b.csv")
    assert "1 fault, 1 warning, 0 notes" in text
    assert "No plan is made until" in text


def test_a_verdict_counts_its_broken_rules() -> None:
    """Each with its number; none is sound; no plan is neither."""
    broken = (Violation(rule=3, text="Too full."), Violation(rule=10, text="Wrong sum."))

    assert verdict_text(broken, has_plan=True).splitlines()[0] == "2 broken rules:"
    assert "Rule 3: Too full." in verdict_text(broken, has_plan=True)
    assert verdict_text((), has_plan=True).startswith("Sound")
    assert "no plan" in verdict_text((), has_plan=False)


def test_without_a_flag_the_safety_section_says_what_that_means() -> None:
    """A forecast is no inspection."""
    text = plan_text(study(flags=()))

    assert "not an inspection" in text.split("HOW GOOD")[0]


def test_a_move_through_unmeasured_doors_is_marked_beside_it() -> None:
    """The south bay's door is not measured, the hall's floor has none."""
    lines = one_line(plan_text(study()))

    assert "then waits there Jul 2027 [lifting: see CAUTION] [doors not checked]" in lines
    assert "shape) [lifting: see CAUTION] [doors not checked]" not in lines


def test_a_hundred_like_warnings_hide_nothing() -> None:
    """Faults stand first, then what is said seldom, then what is said often."""
    like = [
        Fault(level=Level.WARNING, file="grades.csv", row=n, rule="It improved.", mend="Look.")
        for n in range(2, 40)
    ]
    rare = Fault(level=Level.WARNING, file="stages.csv", row=3, rule="It passes no door.", mend="Measure.")
    fault = Fault(file="treated.csv", row=9, rule="No such object.", mend="Correct it.")
    lines = check_text(Intake(collection=museum(), faults=(*like, rare, fault)), "folder").splitlines()

    assert "treated.csv" in lines[0]
    assert "stages.csv" in lines[1]
    assert sum("grades.csv" in line for line in lines) == len(like)


def test_the_last_lines_repeat_the_safety_flags_and_say_how_to_read_on() -> None:
    """A long answer scrolls its head away: what cannot wait stands at the end as well."""
    last = " ".join(plan_text(study()).split("WHERE TO GO FROM HERE")[1].split())

    assert "Before anything else: Tern glider (GLIDER). Keep people from beneath it" in last
    assert "triage explain" in last
    assert "Before anything else" not in plan_text(study(flags=()))


def test_a_number_and_its_unit_stay_on_one_line() -> None:
    """No line begins with a per cent sign or a unit, and the blanks stay plain ones."""
    text = plan_text(study())

    assert not [line for line in text.splitlines() if line.split()[:1] in (["%"], ["m²"], ["months"])]
    assert NO_BREAK not in text


def test_faults_scrolled_away_are_said_to_stand_first() -> None:
    """A short list needs no such help."""
    bad = Fault(file="a.csv", row=2, rule="Bad.", mend="Mend.")
    odd = Fault(level=Level.WARNING, file="b.csv", rule="Odd.", mend="Look.")

    assert "at the top" in check_text(Intake(collection=museum(), faults=(*[odd] * 30, bad)), "folder")
    assert "at the top" not in check_text(Intake(collection=museum(), faults=(bad,)), "folder")
