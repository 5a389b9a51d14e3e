"""The queue as components."""

from __future__ import annotations

from dataclasses import replace

from dashboard.parts import queue
from tests.dashboard.reading import links, of_class, of_kind, prop, text
from tests.dashboard.stand_ins import HORIZON, LIFTING, SAFETY, job, safety_row, untreated_row
from triage.reports.rows import NoteRow, Span


def test_the_head_names_object_month_and_bay() -> None:
    """The answer is one heading: which object, from when, into which bay."""
    head = queue.decision(job(), [])

    assert text(of_kind(head, "H1")[0]) == "Marrowgate Plover O1 comes off display next, in Apr 2027"
    assert "Decide here" in text(head)
    assert "Goes to Long bay, then Spray room" in text(head)


def test_the_next_object_is_the_first_to_come_off_display() -> None:
    """Jobs that go on already, and those that leave the object on display, are passed over."""
    jobs = [job(1, "A", away=False), job(2, "B", start=9), job(3, "C", running=True), job(4, "D", start=5)]

    found = queue.next_off_display(jobs)

    assert found is not None
    assert found.object_id == "D"


def test_without_anything_to_take_down_the_head_says_so() -> None:
    """An empty queue is told in words and asks for no decision."""
    head = queue.decision(queue.next_off_display([]), [])

    assert "Nothing needs to come off display" in text(head)
    assert of_class(head, "decide") == []


def test_the_accent_is_kept_for_one_decision() -> None:
    """Only the first job of the list carries the accent."""
    listed = queue.queue_list([job(1, "A"), job(2, "B")], HORIZON, first_id="A")

    assert [text(of_class(li, "rank")) for li in of_class(listed, "first")] == ["1"]


def test_every_job_but_the_one_in_the_head_says_why_and_what_must_be_free() -> None:
    """Each line of the queue carries reason, needs and the cautions in full."""
    listed = text(queue.queue_list([job(2, "B")], HORIZON))

    assert job().why in listed
    assert "40 m² of clear floor in Slipway Hall in Apr 2027" in listed
    assert LIFTING.text in listed


def test_a_span_stays_within_the_months_of_the_plan() -> None:
    """The dimension line of a job lies between 0 and 100 per cent of the horizon."""
    line = of_kind(queue.queue_list([job(1, "A", start=50)], HORIZON), "I")[0]

    left, width = (float(prop(line, "style")[k].rstrip("%")) for k in ("left", "width"))
    assert 0 <= left < left + width <= 100.01


def test_safety_flags_come_as_cautions_with_a_link() -> None:
    """A doubtful hung object is a caution that links to its sheet and says what to do now."""
    flags = queue.safety_flags([safety_row()])

    assert "Keep people from beneath it" in text(of_class(flags, "caution"))
    assert links(flags) == ["/object/O1"]


def test_without_safety_flags_there_is_no_empty_heading() -> None:
    """No flag, no heading."""
    assert queue.safety_flags([]) == []


def test_objects_left_alone_say_what_that_means() -> None:
    """An object the plan leaves has its sentence before its points."""
    row = text(queue.left_alone([untreated_row()]))

    assert row.index("Loses about an eighth") < row.index("310")


def test_a_plan_that_treats_everything_says_so() -> None:
    """No empty table where nothing is left."""
    assert "every object" in text(queue.left_alone([]))


def test_jobs_after_the_first_are_lines_that_keep_their_caution() -> None:
    """A line names object, months off display and bays, warns before it is opened, and opens to the rest."""
    listed = queue.queue_list([job(n, f"O{n}") for n in range(1, 4)], HORIZON, shown=1)
    lines = of_class(listed, "line")

    assert [text(of_class(li, "rank")) for li in lines] == ["2", "3"]
    head = text(of_kind(lines[0], "Summary"))
    assert "off display Apr 2027" in head
    assert "Caution: look at this first" not in head
    assert "Caution: lifting and moving" in head
    assert LIFTING.text in text(of_class(lines[0], "caution"))
    assert links(lines[0]) == ["/object/O2"]


def test_the_months_off_display_come_before_those_of_the_work() -> None:
    """The queue is ordered by them, on screen as in the terminal."""
    early = replace(job(), span=Span(HORIZON.from_month, HORIZON.from_month + 20))
    said = text(queue.queue_list([early], HORIZON))

    assert said.index("Off display Apr 2027") < said.index("Work Jan 2027")


def test_an_untreated_object_that_is_flagged_keeps_its_caution() -> None:
    """The caution looks as everywhere, beside the sentence."""
    told = queue.left_alone([replace(untreated_row(), cautions=(SAFETY,))])

    assert SAFETY.text in text(of_class(told, "caution"))


def test_assumed_values_are_folded_below_the_notes() -> None:
    """What was left out is read at once, what was assumed for want of a record one click below."""
    told = queue.note_words([NoteRow("left_out", "Left out."), NoteRow("assumed", "Kept 60 %.")])

    assert "Left out." not in text(of_kind(told, "Details"))
    assert "1 value assumed for want of a record Kept 60 %." in text(of_kind(told, "Details"))
