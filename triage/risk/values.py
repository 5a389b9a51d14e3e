"""Value judgements: what a grade has cost of an element's substance, and what a treatment keeps of it.

Lost substance is not brought back by treatment. The table is ``data/kinds.csv``; it is a judgement, is shown
to its users, and names itself as one.
"""

from __future__ import annotations

from functools import cache

from triage.records import Collection
from triage.risk.materials import material_rows
from triage.risk.results import KindValues, RiskValues
from triage.risk.tables import known, packaged, row_for


def _values(row: dict[str, str]) -> KindValues:
    lost = (0.0, *(float(row[f"lost_{g}_pct"]) / 100 for g in (2, 3, 4)))
    return KindValues(
        kind=row["kind"],
        lost=(lost[0], lost[1], lost[2], lost[3]),
        original_kept_pct=float(row["original_kept_pct"]),
        source=row["source"],
    )


@cache
def values_of(kind: str) -> KindValues:
    """Return the values of an element kind; a kind the table does not name takes the row ``other``."""
    return _values(row_for("kinds.csv", "kind", kind))


def kind_known(kind: str) -> bool:
    """Return whether the table names this kind of element."""
    return known("kinds.csv", "kind", kind)


def risk_values(collection: Collection | None = None) -> RiskValues:
    """Return every table the risk room judges by, the museum's own rows in their place."""
    kinds = tuple(_values(row) for row in packaged("kinds.csv"))
    return RiskValues(kinds=kinds, materials=material_rows(collection))
