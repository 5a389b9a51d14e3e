"""Why an object is treated, and what leaving it costs, in words and years."""

from __future__ import annotations

from triage.reports.rows import DriverRow
from triage.reports.study import Study
from triage.reports.words import about, percent, share_of_object, value_month
from triage.risk import IF_CAUSAL, ElementForecast
from triage.units import month_words

SMALL_SHARE = 0.0005
"""Below this a share is said to be next to nothing."""
NEVER_GRADED = "Nobody has graded it yet: this rests on its materials alone, so have it graded first."
NOT_SAFETY = "; that counts what is lost of it, not the danger to people"
SURE = 0.9
"""From this chance on an element is said to be almost certainly poor."""


def why_treated(study: Study, object_id: str, loss_treated: float) -> str:
    """Return why an object is treated: its loss, what is saved of it, what drives it, what waiting costs."""
    loss = study.losses[object_id]
    share = share_of_object(study.collection, object_id, loss.never)
    treated = share_of_object(study.collection, object_id, loss_treated)
    when = value_month(study.collection, loss.value_years)
    alike = percent(share) == percent(treated)
    said = [
        f"Left alone, {about(share)} of what is original in it would be lost by {when}; with this "
        + ("treatment hardly less." if alike else f"treatment {about(treated)}."),
        _driver_sentence(study, object_id),
        wait_sentence(study, object_id),
    ]
    return " ".join(text for text in said if text)


def left_alone(study: Study, object_id: str) -> str:
    """Return what an object loses if nothing is done, with its range."""
    loss = study.losses[object_id]
    low, never, high = (
        percent(share_of_object(study.collection, object_id, points))
        for points in (loss.low, loss.never, loss.high)
    )
    when = value_month(study.collection, loss.value_years)
    spread = "less than 1 % wide" if low == high else f"{low} to {high}"
    ungraded = "" if _ever_graded(study, object_id) else f" {NEVER_GRADED}"
    return (
        f"Left alone, about {never} of what is original in it would be lost by {when} "
        f"(90 % range {spread}).{ungraded}"
    )


def wait_sentence(study: Study, object_id: str) -> str:
    """Return what one more year's wait costs; empty where no treatment was proposed."""
    loss = study.losses[object_id]
    if loss.wait_treatment is None:
        return ""
    share = share_of_object(study.collection, object_id, loss.wait_year)
    cost = "next to nothing" if share < SMALL_SHARE else f"{about(share)} of it for good"
    flagged = any(flag.object_id == object_id for flag in study.flags)
    return f"One more year's wait costs {cost}{NOT_SAFETY if flagged else ''}."


def element_sentence(study: Study, forecast: ElementForecast) -> str:
    """Return when an element is expected to be poor, and what that rests on."""
    basis = {
        "own history": "from its own history",
        "material": "never graded: from others of its material",
        "prior only": "never graded, nor anything like it: from the materials table alone",
    }[forecast.basis]
    return f"{forecast.element_id}: {_poor_by(study, forecast)} ({basis})."


def drivers(study: Study, object_id: str) -> tuple[DriverRow, ...]:
    """Return what an object's loss comes from: its elements, then causes (if the association is causal)."""
    loss = study.losses[object_id]
    whole = loss.never or 1.0
    elements = [DriverRow("element", name, points, points / whole) for name, points in loss.by_element]
    causes = [DriverRow("cause", name, points, points / whole) for name, points in loss.by_cause]
    return (*elements, *causes)


def _driver_sentence(study: Study, object_id: str) -> str:
    loss = study.losses[object_id]
    if not loss.by_element:
        return ""
    element_id = loss.by_element[0][0]
    poor_by = _poor_by(study, study.forecast.of(object_id, element_id))
    text = f"The largest loss is in its {element_id}, {poor_by}."
    cause, points = loss.by_cause[0] if loss.by_cause else ("", 0.0)
    share = share_of_object(study.collection, object_id, points)
    if share < SMALL_SHARE:
        return text
    return (
        f"{text} Of the causes noted, {cause} costs most: ending it would save {about(share)} ({IF_CAUSAL})."
    )


def _ever_graded(study: Study, object_id: str) -> bool:
    """Return whether any element of an object was ever given a grade."""
    elements = study.collection.elements_of.get(object_id, ())
    return any(g.grade is not None for e in elements for _, g in study.collection.grades_of.get(e.key, ()))


def _poor_by(study: Study, forecast: ElementForecast) -> str:
    if forecast.years_to_3 is None:
        return "not expected to be poor within a lifetime"
    if forecast.years_to_3 <= 0:
        now = forecast.p[0][2] + forecast.p[0][3]
        return "almost certainly poor already" if now >= SURE else "more likely than not poor already"
    month = study.collection.settings.first_month + round(12 * forecast.years_to_3)
    return f"as likely as not to be poor by {month_words(month)}"
