"""Objects whose doubtful element can hurt someone: flags of their own, which no weight can hide.

The chance that any safety element of an object is at grade 3 or worse now is ``1 - prod(1 - p)`` inside each
draw, then averaged, so that what the elements have in common counts. It is a reason to look, never a
finding that something is safe.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from triage.records import MuseumObject
from triage.risk.fit import FittedModel
from triage.risk.forecast import RANGE, LastSeen, last_seen
from triage.risk.results import SafetyFlag

Array = NDArray[np.float64]

THRESHOLD = 0.10
"""An object is flagged from this chance on (common practice, no source): one in ten."""
POOR = 3
CAUTION = "Keep people from beneath and near it, and have it inspected by a competent person now."


def safety_flags(fitted: FittedModel, threshold: float = THRESHOLD) -> tuple[SafetyFlag, ...]:
    """Return the flagged objects, most doubtful first.

    Flagged is an object with a safety element recorded at 3 or 4 and not treated since, with a chance from
    ``threshold`` on that any of them is at 3 or worse, or with a safety element nobody ever graded.
    """
    found = []
    for obj in fitted.collection.objects:
        flag = safety_of(fitted, obj, threshold)
        if flag is not None and is_flagged(flag):
            found.append(flag)
    return tuple(sorted(found, key=_doubt))


def is_flagged(flag: SafetyFlag) -> bool:
    """Return whether any of the three reasons to flag holds."""
    recorded_poor = flag.worst_recorded is not None and flag.worst_recorded >= POOR
    return recorded_poor or flag.chance >= flag.threshold or bool(flag.not_known)


def safety_of(fitted: FittedModel, obj: MuseumObject, threshold: float = THRESHOLD) -> SafetyFlag | None:
    """Return the state of an object's safety elements, flagged or not; None: it has none."""
    record = fitted.histories
    mine = [k for k in record.places_of.get(obj.object_id, ()) if record.elements[k].safety]
    if not mine:
        return None
    poor = fitted.state[:, mine, POOR - 1 :].sum(axis=2)
    any_poor = 1.0 - np.prod(1.0 - np.clip(poor, 0.0, 1.0), axis=1)
    chance = float(any_poor.mean())
    low, high = np.percentile(any_poor, RANGE)
    seen = {record.elements[k].element_id: last_seen(record.elements[k], fitted.collection) for k in mine}
    standing = {name: s.stands for name, s in seen.items() if s.stands is not None}
    not_known = tuple(name for name, s in seen.items() if s.stands is None)
    worst = max(standing.values(), default=None)
    each = dict(zip(seen, poor.mean(axis=0).tolist(), strict=True))
    doubtful = sorted(
        (n for n in seen if standing.get(n, 0) >= POOR or n in not_known or each[n] >= threshold / len(mine)),
        key=lambda n: (-standing.get(n, 0), -each[n], n),
    )
    return SafetyFlag(
        object_id=obj.object_id,
        chance=chance,
        low=min(float(low), chance),
        high=max(float(high), chance),
        element_ids=tuple(doubtful),
        worst_recorded=worst,
        not_known=not_known,
        threshold=threshold,
        hung=obj.hung,
        reason=_reason(seen, standing, not_known, chance, threshold),
        caution=CAUTION,
    )


def _doubt(flag: SafetyFlag) -> tuple[bool, int, float, str]:
    """Return the order of flags: recorded poor ones first, then by chance."""
    worst = flag.worst_recorded or 0
    poor = worst >= POOR
    return (not poor, -worst if poor else 0, -flag.chance, flag.object_id)


def _reason(
    seen: dict[str, LastSeen],
    standing: dict[str, int],
    not_known: tuple[str, ...],
    chance: float,
    threshold: float,
) -> str:
    said = []
    poor = sorted((n for n in standing if standing[n] >= POOR), key=lambda n: (-standing[n], n))
    for name in poor:
        day = seen[name].treated_on or seen[name].recorded_on
        how = "left at" if seen[name].treated_on else "recorded at"
        said.append(f"{how} grade {standing[name]} on {day:%d %b %Y}: {name}")
    if not_known:
        said.append(f"never graded, so not known: {', '.join(not_known)}")
    if chance >= threshold:
        said.append(f"the chance that a safety element is at grade 3 or worse now is {_percent(chance)}")
    text = "; ".join(said) or (
        f"the chance of grade 3 or worse is {_percent(chance)}, under {_percent(threshold)}"
    )
    return text[0].upper() + text[1:] + "."


def _percent(chance: float) -> str:
    """Return a chance in whole per cent; never 0 or 100, which would sound certain."""
    if chance > 0.99:
        return "over 99 %"
    return "under 1 %" if chance < 0.01 else f"{100 * chance:.0f} %"
