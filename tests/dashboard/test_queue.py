"""The queue as components."""

from __future__ import annotations

from dashboard.parts import queue
from tests.dashboard.reading import links, of_class, of_kind, prop, text
from tests.dashboard.stand_ins import HORIZON, LIFTING, job, safety_row, untreated_row


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
