"""Hours, spaces, halls and money by month."""

from __future__ import annotations

from tests.museum import HALLS, OBJECTS, SPACES, losses, month, museum, settings
from triage.planning.assemble import assemble
from triage.planning.assemble.room import DOOR_NOT_CHECKED
from triage.planning.problem import BudgetLimit, PlanningProblem
from triage.records import Availability, Budget, Collection, MuseumObject, Space
from triage.records.vocabulary import Limited


def problem_of(collection: Collection) -> PlanningProblem:
    """Return the problem of a collection under plain losses."""
    return assemble(collection, losses(collection)).problem


def test_hours_round_down() -> None:
    """160.9 hours a month are 160, 20.5 of overtime 20."""
    woodwork = problem_of(museum()).trade_by_id["woodwork"]

    assert woodwork.hours == (160,) * 24
    assert woodwork.overtime_most == (20,) * 24


def test_overtime_is_none_unless_given_and_costs_what_the_settings_say() -> None:
    """A trade without overtime_hours has none; each hour costs overtime_points."""
    problem = problem_of(museum(settings=settings(overtime_points=7)))

    assert problem.trade_by_id["rigging"].overtime_most == (0,) * 24
    assert [t.overtime_points for t in problem.trades] == [7, 7]


def test_area_and_doors_of_a_space_round_down() -> None:
    """80.9 m2 are 80, a door of 3.509 m is 350 cm."""
    bay = problem_of(museum()).space_by_id["BAY1"]

    assert bay.area_m2 == (80,) * 24
    assert (bay.door_width_cm, bay.door_height_cm) == (500, 350)


def test_a_binary_fraction_does_not_cost_a_square_metre() -> None:
    """1.1 m + 2.2 m is 330 cm and 0.1 * 3 * 100 m2 is 30, whatever binary fractions say."""
    space = Space(space_id="S", kind="bay", area_m2=0.1 * 3 * 100, door_width_m=1.1 + 2.2, door_height_m=2.3)
    bay = problem_of(museum(spaces=(*SPACES, space))).space_by_id["S"]

    assert (bay.area_m2[0], bay.door_width_cm, bay.door_height_cm) == (30, 330, 230)


def test_an_unmeasured_door_lets_everything_pass() -> None:
    """A blank door is a number no object reaches."""
    bay = problem_of(museum()).space_by_id["BAY2"]

    assert (bay.door_width_cm, bay.door_height_cm) == (DOOR_NOT_CHECKED, DOOR_NOT_CHECKED)


def test_blank_slots_are_no_limit() -> None:
    """Blank slots hold every object at once; given ones stay."""
    problem = problem_of(museum())

    assert problem.space_by_id["BAY1"].slots == (1,) * 24
    assert min(problem.space_by_id["BAY2"].slots) >= len(OBJECTS)


def test_blank_most_away_is_no_limit() -> None:
    """A hall without most_away may have every object away; 0 and 2 stay what they are."""
    strict = HALLS[0].model_copy(update={"most_away": 0})
    problem = problem_of(museum(halls=(strict, HALLS[1])))

    assert problem.hall_by_id["HARBOUR"].most_away == (0,) * 24
    assert min(problem.hall_by_id["LOFT"].most_away) >= len(OBJECTS)


def test_a_hall_that_only_objects_name_has_no_clear_floor_and_no_limit() -> None:
    """Without a row in halls.csv the blanks count: clear floor 0, any number away."""
    extra = MuseumObject(object_id="X", hall_id="ANNEX")
    hall = problem_of(museum(objects=(*OBJECTS, extra))).hall_by_id["ANNEX"]

    assert hall.clear_m2 == (0,) * 24
    assert min(hall.most_away) >= len(OBJECTS) + 1


def test_availability_replaces_each_kind_of_room_in_its_months_only() -> None:
    """Trade, space, slots and hall rows replace hours, area, slots and clear floor, both months included."""
    collection = museum(
        availability=(
            Availability(
                what=Limited.TRADE,
                id="woodwork",
                from_month=month("2027-03"),
                to_month=month("2027-04"),
                amount=99.9,
            ),
            Availability(
                what=Limited.SPACE,
                id="BAY1",
                from_month=month("2028-12"),
                to_month=month("2030-01"),
                amount=10,
            ),
            Availability(
                what=Limited.SLOTS,
                id="BAY2",
                from_month=month("2026-01"),
                to_month=month("2027-01"),
                amount=1,
            ),
            Availability(what=Limited.HALL, id="HARBOUR", from_month=month("2028-11"), amount=0),
        )
    )
    problem = problem_of(collection)

    assert problem.trade_by_id["woodwork"].hours[:5] == (160, 160, 99, 99, 160)
    assert problem.trade_by_id["woodwork"].overtime_most == (20,) * 24
    assert problem.space_by_id["BAY1"].area_m2 == (80,) * 23 + (10,)
    assert problem.space_by_id["BAY2"].slots[:2] == (1, len(OBJECTS))
    assert problem.hall_by_id["HARBOUR"].clear_m2 == (60,) * 22 + (0, 0)
    assert problem.hall_by_id["LOFT"].clear_m2 == (10,) * 24


def test_availability_without_months_holds_for_the_whole_horizon() -> None:
    """Blank from and to are the whole horizon."""
    row = Availability(what=Limited.TRADE, id="rigging", amount=5)

    assert problem_of(museum(availability=(row,))).trade_by_id["rigging"].hours == (5,) * 24


def test_a_closure_closes_its_months_and_replaces_nothing() -> None:
    """`closed` fills the list of closed months, cut at the horizon; room stays as it is."""
    rows = (
        Availability(what=Limited.CLOSED, from_month=month("2027-08"), to_month=month("2027-08")),
        Availability(what=Limited.CLOSED, from_month=month("2028-12"), to_month=month("2029-02")),
        Availability(what=Limited.CLOSED, from_month=month("2026-01"), to_month=month("2026-12")),
    )
    problem = problem_of(museum(availability=rows))

    assert problem.closed == (7, 23)
    assert problem.trade_by_id["woodwork"].hours == (160,) * 24


def test_budgets_are_calendar_years_cut_at_the_horizon() -> None:
    """A horizon from July takes half of its first year; a year outside it has no row; money rounds down."""
    late = settings(first_month=month("2027-07"), months=24)
    budget = (
        Budget(year=2026, amount=1),
        Budget(year=2027, amount=1000.9),
        Budget(year=2028, amount=2000),
        Budget(year=2029, amount=0),
        Budget(year=2030, amount=5),
    )

    assert problem_of(museum(settings=late, budget=budget)).budgets == (
        BudgetLimit(from_month=0, to_month=5, amount=1000),
        BudgetLimit(from_month=6, to_month=17, amount=2000),
        BudgetLimit(from_month=18, to_month=23, amount=0),
    )


def test_a_year_without_a_row_has_no_limit() -> None:
    """No row in budget.csv, no budget in the problem."""
    assert problem_of(museum()).budgets == ()
