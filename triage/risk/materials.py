"""What is believed of each material before the museum's own grades speak.

The built-in table (``data/materials.csv``, every row with its source) is overridden row by row by the
museum's ``materials.csv``. A material nobody knows takes the row ``other`` with its wide range.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from triage.records import Collection, Material
from triage.risk.results import MaterialRow
from triage.risk.tables import OTHER, known, packaged, plain, row_for

Z90 = 1.6448536269514722
"""Standard normal quantile: a 90 % range is the mean plus and minus this many standard deviations."""
USUAL_SEVERITY = 2
"""The severity at which a table's factor is written."""
OWN_TABLE = "the museum's materials.csv"


@dataclass(frozen=True)
class Responses:
    """How much of a material's wear answers to its surroundings: shares in 0..1, activation in kJ/mol."""

    light: float
    heat: float
    humidity: float
    swing: float
    activation_kj: float


@dataclass(frozen=True)
class MaterialPrior:
    """Median years a grade lasts in ordinary display, how sure that is, and what speeds wear."""

    material: str
    years: tuple[float, float, float]
    spread: float
    responses: Responses
    factors: Mapping[str, float] = field(default_factory=dict)
    """Plain cause -> factor at severity 2, as the built-in and the museum's table say."""
    source: str = ""

    @property
    def log_sd(self) -> float:
        """Standard deviation of the log median: years / spread .. years * spread is its 90 % range."""
        return math.log(self.spread) / Z90

    def log_factor(self, cause: str, severity: float = USUAL_SEVERITY) -> float:
        """Return the log factor of a cause on the speed of wear; it goes in proportion to severity.

        The museum's word for the cause comes first, then the table's word for it, then ``other``.
        """
        return math.log(self._factor(cause)) * severity / USUAL_SEVERITY

    def _factor(self, cause: str) -> float:
        if plain(cause) in self.factors:
            return self.factors[plain(cause)]
        row = row_for("causes.csv", "cause", cause)
        return self.factors.get(plain(row["cause"]), float(row["factor"]))


def _built_in(material: str) -> MaterialPrior:
    row = row_for("materials.csv", "material", material)
    years = (float(row["years_1_to_2"]), float(row["years_2_to_3"]), float(row["years_3_to_4"]))
    responses = Responses(
        light=float(row["light_share"]),
        heat=float(row["heat_share"]),
        humidity=float(row["humidity_share"]),
        swing=float(row["swing_share"]),
        activation_kj=float(row["activation_kj"]),
    )
    factors = {plain(k[2:]): float(v) for k, v in row.items() if k.startswith("x_") and v}
    return MaterialPrior(material or OTHER, years, float(row["spread"]), responses, factors, row["source"])


def _overridden(base: MaterialPrior, own: Material) -> MaterialPrior:
    factors = {**base.factors, **{plain(k): v for k, v in own.factors.items() if v > 0}}
    source = own.source or OWN_TABLE
    one, two, three = (mine or built_in for mine, built_in in zip(own.years, base.years, strict=True))
    return MaterialPrior(base.material, (one, two, three), own.spread, base.responses, factors, source)


def prior_of(material: str, own: Iterable[Material] = ()) -> MaterialPrior:
    """Return the prior of a material: the museum's row where it has one, else the built-in one.

    A museum's row named ``other`` serves every material that neither table names.
    """
    rows = {plain(m.material): m for m in own}
    base = _built_in(material)
    mine = rows.get(plain(material))
    if mine is None and not known("materials.csv", "material", material):
        mine = rows.get(OTHER)
    return base if mine is None else _overridden(base, mine)


def material_name(material: str) -> str:
    """Return the name a material is pooled under: as compared, and ``other`` where it is blank."""
    return plain(material) or OTHER


def priors_of(collection: Collection) -> dict[str, MaterialPrior]:
    """Return the prior of every material the collection's elements are made of, by pooled name, sorted."""
    names = {material_name(e.material): e.material for e in reversed(collection.elements)}
    return {name: prior_of(names[name].strip(), collection.materials) for name in sorted(names)}


def material_rows(collection: Collection | None = None) -> tuple[MaterialRow, ...]:
    """Return the table as its users see it: the museum's materials first, then the other built-in ones."""
    shown: dict[str, MaterialPrior] = {}
    if collection is not None:
        shown.update(priors_of(collection))
        shown.update(
            {plain(m.material): prior_of(m.material, collection.materials) for m in collection.materials}
        )
    for row in packaged("materials.csv"):
        shown.setdefault(plain(row["material"]), _built_in(row["material"]))
    return tuple(
        MaterialRow(
            material=p.material, years=p.years, spread=p.spread, factors=dict(p.factors), source=p.source
        )
        for p in shown.values()
    )
