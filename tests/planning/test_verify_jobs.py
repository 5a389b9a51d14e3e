"""The checker on one job at a time: rules 1, 2 and 3, each at its border."""

from __future__ import annotations

import pytest

from tests.planning.build import broken, job, only, plan, problem, space, stage, treatment
from triage.planning.problem import Job
from triage.planning.verify import verify


def test_an_empty_plan_is_sound() -> None:
    """Doing nothing breaks no rule."""
    assert broken(problem(treatment("A"))) == []


def test_an_empty_museum_is_sound() -> None:
    """A problem without objects has one plan, the empty one."""
    assert broken(problem()) == []


def test_an_object_gets_at_most_one_job() -> None:
    """Two jobs of one object break rule 1 and name the object."""
    of = problem(treatment("A"), treatment("A", treatment_id="T2"))
    second = Job(object_id="A", treatment_id="T2", stages=job("A", 3).stages)
    found = verify(of, plan(of, job("A", 0), second))
    assert {v.rule for v in found} == {1}
    assert found[0].ids == ("A",)


@pytest.mark.parametrize(("start", "rules"), [(0, [1]), (1, []), (3, []), (4, [1])])
def test_a_job_starts_within_its_window(start: int, rules: list[int]) -> None:
    """Earliest 1 and latest 3 are both allowed, 0 and 4 are not."""
    assert broken(problem(treatment("A", earliest=1, latest=3)), job("A", start)) == rules


def test_an_empty_window_allows_no_start() -> None:
    """Earliest after latest means never; the file is sound, the job is not."""
    of = problem(treatment("A", earliest=3, latest=2))
    assert "no month at all" in only(verify(of, plan(of, job("A", 3)))).text


@pytest.mark.parametrize(("start", "rules"), [(4, []), (5, [1])])
def test_a_job_ends_within_the_horizon(start: int, rules: list[int]) -> None:
    """Two months from 4 end at 6 = H; from 5 they do not end in time."""
    assert broken(problem(treatment("A", stage(2))), job("A", start)) == rules


def test_unknown_object_treatment_and_space_are_named() -> None:
    """Each unknown id is told by name."""
    of = problem(treatment("A", stage(place="bay")), treatment("B"))
    made = plan(
        of,
        Job(object_id="X", treatment_id="T-A", stages=job("A", 0).stages),
        Job(object_id="B", treatment_id="T-X", stages=job("B", 0).stages),
        job("A", (0, "bay 9")),
    )
    texts = " ".join(v.text for v in verify(of, made) if v.rule in (1, 3))
    assert "unknown object, X" in texts
    assert "unknown treatment, T-X" in texts
    assert "unknown space, bay 9" in texts


def test_a_treatment_of_another_object_is_refused() -> None:
    """B may not get A's treatment."""
    of = problem(treatment("A"), treatment("B"))
    made = plan(of, Job(object_id="B", treatment_id="T-A", stages=job("A", 0).stages))
    assert [v.rule for v in verify(of, made)] == [1]


@pytest.mark.parametrize("starts", [(0,), (0, 1, 2), ()])
def test_a_job_has_its_treatments_stages(starts: tuple[int, ...]) -> None:
    """One, three and no stages are all wrong where the treatment has two."""
    assert 2 in broken(problem(treatment("A", stage(), stage())), job("A", *starts))


@pytest.mark.parametrize(("start", "rules"), [(1, []), (2, [2]), (-1, [1, 2]), (6, [1, 2])])
def test_a_stage_starts_in_an_open_month_of_the_horizon(start: int, rules: list[int]) -> None:
    """Month 2 is closed; months before 0 and from H on do not exist."""
    assert broken(problem(treatment("A"), closed=(2,)), job("A", start)) == rules


@pytest.mark.parametrize(("second", "rules"), [(1, [2]), (2, []), (3, []), (4, [2])])
def test_a_stage_starts_after_the_one_ahead_and_waits_no_longer_than_it_may(
    second: int, rules: list[int]
) -> None:
    """Two months of work from 0 and a wait of at most one: the second stage may start in 2 or 3."""
    of = problem(treatment("A", stage(2), stage(1, most_wait=1)))
    assert broken(of, job("A", 0, second)) == rules


def test_closed_months_do_not_count_as_waiting() -> None:
    """With month 1 closed, a start in 2 after work in 0 is a wait of none."""
    of = problem(treatment("A", stage(1), stage(1, most_wait=0)), closed=(1,))
    assert broken(of, job("A", 0, 2)) == []
    assert broken(of, job("A", 0, 3)) == [2]


def test_the_first_stages_wait_is_not_read() -> None:
    """most_wait of stage 1 does not hold its start."""
    assert broken(problem(treatment("A", stage(1, most_wait=0))), job("A", 5)) == []


def test_the_wait_is_told_at_its_stage() -> None:
    """A wait too long before stage 3 names stage 3 and the open months waited."""
    of = problem(treatment("A", stage(), stage(), stage(most_wait=1)))
    text = only(verify(of, plan(of, job("A", 0, 1, 5)))).text
    assert "Stage 3 of the job on A waits 3 open months" in text


def test_a_stage_with_a_kind_of_space_needs_one_of_that_kind() -> None:
    """None, another kind and an unknown space break rule 3; the right kind does not."""
    of = problem(treatment("A", stage(place="bay")), spaces=(space(), space("booth 1", kind="booth")))
    assert broken(of, job("A", (0, "bay 1"))) == []
    assert broken(of, job("A", 0)) == [3]
    assert broken(of, job("A", (0, "booth 1"))) == [3]
    assert broken(of, job("A", (0, "nowhere"))) == [3]


@pytest.mark.parametrize("place", [None, "hall"])
def test_a_stage_without_a_kind_of_space_has_no_space(place: str | None) -> None:
    """space_id is null exactly where place is null or hall."""
    of = problem(treatment("A", stage(place=place)))
    assert broken(of, job("A", 0)) == []
    assert broken(of, job("A", (0, "bay 1"))) == [3]


@pytest.mark.parametrize(
    ("width", "height", "rules"), [(400, 300, []), (401, 300, [3]), (400, 301, [3]), (300, 400, [3])]
)
def test_a_stage_passes_the_door_upright(width: int, height: int, rules: list[int]) -> None:
    """A door of 400 x 300 cm lets exactly that through; nothing is turned on its side."""
    of = problem(treatment("A", stage(place="bay", width_cm=width, height_cm=height)))
    assert broken(of, job("A", (0, "bay 1"))) == rules


def test_months_are_told_as_calendar_months() -> None:
    """Month 4 of a problem from January 2030 is told as May 2030."""
    of = problem(treatment("A", latest=3))
    assert "May 2030" in only(verify(of, plan(of, job("A", 4)))).text


def test_a_window_of_one_month_is_told_as_that_month() -> None:
    """Earliest and latest 2: a start in 3 is told that Mar 2030 is allowed."""
    of = problem(treatment("A", earliest=2, latest=2))
    assert "it may start in Mar 2030" in only(verify(of, plan(of, job("A", 3)))).text


@pytest.mark.parametrize(
    ("start", "why"), [(0, "a closed month"), (-1, "outside the months"), (6, "outside the months")]
)
def test_a_wrong_start_is_told_with_its_reason(start: int, why: str) -> None:
    """Closed is one thing, outside the six months planned another; the end is not complained of as well."""
    of = problem(treatment("A", earliest=0, latest=9), closed=(0,))
    texts = [v.text for v in verify(of, plan(of, job("A", start))) if v.rule == 2]
    assert len(texts) == 1
    assert why in texts[0]
    assert not any("is not done by" in v.text for v in verify(of, plan(of, job("A", start))))
