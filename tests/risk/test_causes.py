"""When a cause was at work, by the rules of the collection folder."""

from __future__ import annotations

import datetime as dt

from triage.records import ConditionFinding, Round
from triage.risk.causes import GOES_ON, Span, spans_of

NOW = dt.date(2026, 1, 1).toordinal()
ROUNDS = {f"R{y}": Round(round_id=f"R{y}", date=dt.date(y, 6, 1)) for y in range(2010, 2026)}


def day(text: str) -> int:
    return dt.date.fromisoformat(text).toordinal()


def finding(
    year: int,
    severity: int = 2,
    *,
    element: str | None = None,
    cause: str = "leak",
    ended: str | None = None,
    began: str | None = None,
) -> ConditionFinding:
    return ConditionFinding(
        finding_id=f"F{year}{severity}",
        round_id=f"R{year}",
        object_id="O",
        element_id=element,
        cause=cause,
        severity=severity,
        ended_on=dt.date.fromisoformat(ended) if ended else None,
        began_on=dt.date.fromisoformat(began) if began else None,
    )


def spans(*findings: ConditionFinding, element: str = "E") -> tuple[Span, ...]:
    return spans_of(element, findings, ROUNDS, NOW)


def test_a_cause_counts_from_its_round_and_goes_on() -> None:
    """Neither began_on nor ended_on: from the round's date on."""
    assert spans(finding(2015)) == (Span("leak", day("2015-06-01"), GOES_ON, 2),)


def test_began_on_and_ended_on_bound_it() -> None:
    """It counts from began_on, before the round that saw it, to ended_on."""
    found = spans(finding(2015, began="2014-02-03", ended="2018-09-01"))
    assert found == (Span("leak", day("2014-02-03"), day("2018-09-01"), 2),)


def test_an_end_after_now_goes_on() -> None:
    """A cause not ended by now is taken to go on."""
    assert spans(finding(2015, ended="2027-01-01"))[0].last == GOES_ON


def test_the_same_cause_again_counts_once_at_its_latest_severity() -> None:
    """From the later finding on its severity holds; no two spans of one cause overlap."""
    assert spans(finding(2012, 1), finding(2016, 3)) == (
        Span("leak", day("2012-06-01"), day("2016-06-01"), 1),
        Span("leak", day("2016-06-01"), GOES_ON, 3),
    )


def test_the_latest_row_says_whether_it_has_ended() -> None:
    """A later row with an end closes an open finding; one without opens an ended one."""
    assert spans(finding(2012), finding(2016, ended="2017-01-01"))[-1].last == day("2017-01-01")
    assert spans(finding(2012, ended="2013-01-01"), finding(2016))[-1].last == GOES_ON


def test_an_end_before_the_later_round_ends_the_earlier_finding() -> None:
    """A later row that says the cause had ended before it was looked for again closes it there."""
    assert spans(finding(2012), finding(2016, ended="2015-01-01")) == (
        Span("leak", day("2012-06-01"), day("2015-01-01"), 2),
    )


def test_a_finding_on_the_whole_object_counts_on_its_elements_once() -> None:
    """Blank element: every element; the same cause on the element itself does not double it."""
    both = (finding(2012, 1), finding(2016, 3, element="E"))
    assert [s.severity for s in spans(*both)] == [1, 3]
    assert [s.severity for s in spans(*both, element="other")] == [1]


def test_different_causes_count_beside_each_other() -> None:
    """A leak and damp are two spans; words are compared without case or stray spaces."""
    found = spans(finding(2012, cause="Leak "), finding(2013, cause="damp"), finding(2014, cause="leak"))
    assert sorted(s.cause for s in found) == ["damp", "leak", "leak"]


def test_a_finding_without_a_cause_wears_nothing() -> None:
    """A note is not a cause."""
    assert spans(finding(2012, cause=" ")) == ()
