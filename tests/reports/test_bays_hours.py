"""Bays over the months and hours against capacity."""

from __future__ import annotations

from tests.museum import month, museum
from tests.studies import JOBS, study
from triage.records import Availability
from triage.records.vocabulary import Limited
from triage.reports.bays import bay_lanes, closed_spans
from triage.reports.hours import hours_rows
from triage.reports.rows import BayLane, Span


def lane(lane_id: str) -> BayLane:
    """Return one lane of the tiny museum's plan."""
    return next(x for x in bay_lanes(study()) if x.lane_id == lane_id)


def test_every_space_and_every_hall_worked_in_has_a_lane() -> None:
    """Bays first, empty ones too, then halls whose floor some treatment works on."""
    assert [(x.lane_id, x.what) for x in bay_lanes(study())] == [
        ("BAY1", "space"),
        ("BAY2", "space"),
        ("SPRAY", "space"),
        ("HARBOUR", "hall"),
    ]


def test_a_bar_runs_over_its_work_and_then_its_wait() -> None:
    """The glider is re-covered March to June and waits in July."""
    (bar,) = lane("BAY2").bars

    assert (bar.object_name, bar.stage_title) == ("Tern glider", "Re-cover")
    assert bar.work == Span(month("2027-03"), month("2027-06"))
    assert bar.waits == Span(month("2027-07"), month("2027-07"))


def test_used_area_and_slots_count_waits_too() -> None:
    """46 m2 and one job in months 2 to 6 of 24."""
    south = lane("BAY2")

    assert south.used_m2 == (0, 0, *(46,) * 5, *(0,) * 17)
    assert south.used_slots == (0, 0, *(1,) * 5, *(0,) * 17)


def test_slots_without_limit_are_none() -> None:
    """A made-up large number is never shown."""
    assert lane("BAY2").slots is None
    assert lane("BAY1").slots == (1,) * 24


def test_a_door_nobody_measured_is_said_beside_the_bay() -> None:
    """Measured: no note."""
    assert lane("BAY1").note == ""
    assert "not checked" in lane("BAY2").note


def test_hall_floor_counts_freed_spots_and_says_it_is_area() -> None:
    """60 m2, and 130 while the biplane is away; 90 are used in February and August."""
    hall = lane("HARBOUR")

    assert hall.area_m2 == (*(130,) * 9, *(60,) * 15)
    assert [m for m, used in enumerate(hall.used_m2) if used] == [1, 7]
    assert "area, not shape" in hall.note
    assert hall.used_slots == tuple(int(m in (1, 7)) for m in range(24))


def test_lowering_bars_carry_the_hung_load_caution() -> None:
    """Wherever a lowering is drawn the caution is at hand."""
    assert all("Suspended load" in bar.cautions[0].text for bar in lane("HARBOUR").bars)


def test_closures_are_joined_to_spans() -> None:
    """Two neighbouring months are one span."""
    rows = (
        Availability(what=Limited.CLOSED, from_month=month("2028-01"), to_month=month("2028-02")),
        Availability(what=Limited.CLOSED, from_month=month("2028-12"), to_month=month("2028-12")),
    )

    assert closed_spans(study(museum(availability=rows))) == (
        Span(month("2028-01"), month("2028-02")),
        Span(month("2028-12"), month("2028-12")),
    )
    assert closed_spans(study()) == ()


def test_hours_are_planned_against_capacity_month_by_month() -> None:
    """Biplane 100 a month for nine months, glider 76, 76, 76, 75 from March, engine 4 in January."""
    woodwork, rigging = hours_rows(study())

    assert [c.planned for c in woodwork.cells[:9]] == [104, 100, 176, 176, 176, 175, 100, 100, 100]
    assert [c.overtime for c in woodwork.cells[:9]] == [0, 0, 16, 16, 16, 15, 0, 0, 0]
    assert {c.capacity for c in woodwork.cells} == {160}
    assert [c.month for c in rigging.cells if c.planned] == [month("2027-02"), month("2027-08")]


def test_hours_add_up_and_name_the_fullest_month() -> None:
    """900 + 303 + 4 hours, 63 of them overtime, March fullest first."""
    woodwork, _ = hours_rows(study())

    assert (woodwork.planned_total, woodwork.overtime_total) == (1207, 63)
    assert woodwork.fullest_month == month("2027-03")


def test_overtime_shown_is_overtime_charged() -> None:
    """The hours on screen cost exactly the plan's overtime points (2 an hour)."""
    made = study()
    assert made.outcome is not None
    assert made.outcome.plan is not None

    assert made.outcome.plan.points.overtime == 2 * sum(r.overtime_total for r in hours_rows(made))


def test_without_a_plan_lanes_are_empty_and_hours_nil() -> None:
    """Empty states have their room and closures, no bars, no fullest month."""
    empty = study(jobs=None)

    assert all(x.bars == () and not any(x.used_m2) for x in bay_lanes(empty))
    assert [r.fullest_month for r in hours_rows(empty)] == [None, None]


def test_a_closed_month_is_marked() -> None:
    """The screen can tell idle from closed."""
    rows = (Availability(what=Limited.CLOSED, from_month=month("2028-12"), to_month=month("2028-12")),)
    woodwork, _ = hours_rows(study(museum(availability=rows), JOBS))

    assert [c.closed for c in woodwork.cells] == [*(False,) * 23, True]
