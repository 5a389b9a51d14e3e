"""Built-in chains of stages: what a treatment of a kind usually consists of.

The chains, their hours, months and areas are common practice without a published source. They stand in
``data/chains.csv`` (stages) and ``data/chain_sizes.csv`` (the size of object each chain was written for),
and every stage made from them is marked ``estimated``. Trades and kinds of space are named there in plain
words (``woodwork``, ``rigging``; ``strip``, ``structure``, ``paint``, ``assembly``): a museum that uses
other names writes its own stages.

How a chain follows the object's size:

* scale = length x span (or mass) over that of the chain's own size, held between 1/4 and 8;
* hours grow with the scale, months with its square root (more people can work on a larger object);
* areas are a share of length x span, door sizes a share of span and height;
* a length, span or mass that is not known is taken from the chain's own size; a door size is then left
  unknown, so that nothing is ever said to fit that nobody has measured.

Lowering and hoisting stages are planning figures only: they give no permission to lift. Suspended loads are
a matter for licensed lifting practice and local codes.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib.resources import files
from types import MappingProxyType

from triage.records.objects import MuseumObject
from triage.records.vocabulary import HALL_PLACE
from triage.records.workshop import Stage, Treatment
from triage.units import round_up

SCALE_LEAST, SCALE_MOST = 0.25, 8.0
_HOURS = "hours_"


@dataclass(frozen=True)
class ChainSize:
    """The size of object a chain was written for (m, kg), and what its hours follow."""

    length_m: float
    span_m: float
    height_m: float
    mass_kg: float
    scaled_by: str
    """``floor`` (length x span), ``mass`` or ``fixed``."""


@dataclass(frozen=True)
class ChainStage:
    """One stage of a chain before it is scaled; shares are of the object's floor, span and height."""

    title: str
    only: str
    """``hung``, ``standing`` (not hung, in a hall) or empty: for which objects the stage exists."""
    months: int
    place: str | None
    area_of_floor: float
    width_of_span: float | None
    height_of_height: float | None
    most_wait: int
    away: bool
    hours: Mapping[str, float]


@dataclass(frozen=True)
class Chain:
    """A built-in chain of stages."""

    name: str
    title: str
    size: ChainSize
    stages: tuple[ChainStage, ...]


def stages_from_chain(treatment: Treatment, obj: MuseumObject) -> tuple[Stage, ...]:
    """Return the stages of a treatment made from its template, scaled to its object.

    Stages on the hall floor are left out for an object in store; hoisting is kept for hung objects only.

    Raises
    ------
    ValueError
        If the treatment's template is not the name of a built-in chain.
    """
    chain = CHAINS.get(treatment.template)
    if chain is None:
        names = ", ".join(CHAINS)
        raise ValueError(f"{treatment.template!r} is not a built-in chain of stages; the chains are: {names}")
    scale = scale_of(chain.size, obj)
    kept = [s for s in chain.stages if _exists_for(s, obj)]
    return tuple(_scaled(s, n, treatment.treatment_id, chain.size, obj, scale) for n, s in enumerate(kept, 1))


def scale_of(size: ChainSize, obj: MuseumObject) -> float:
    """Return how much larger the object is than the one the chain was written for (1/4 to 8)."""
    if size.scaled_by == "fixed":
        return 1.0
    if size.scaled_by == "mass":
        raw = (obj.mass_kg or size.mass_kg) / size.mass_kg
    else:
        raw = _floor(size, obj) / (size.length_m * size.span_m)
    return min(max(raw, SCALE_LEAST), SCALE_MOST)


def _floor(size: ChainSize, obj: MuseumObject) -> float:
    return (obj.length_m or size.length_m) * (obj.span_m or size.span_m)


def _exists_for(stage: ChainStage, obj: MuseumObject) -> bool:
    if stage.place == HALL_PLACE and obj.hall_id is None:
        return False
    return not stage.only or (stage.only == "hung") == obj.hung


def _scaled(
    stage: ChainStage, number: int, treatment_id: str, size: ChainSize, obj: MuseumObject, scale: float
) -> Stage:
    """Return one stage at the object's size."""
    slow = math.sqrt(scale)
    return Stage(
        treatment_id=treatment_id,
        stage=number,
        title=stage.title,
        months=stage.months if stage.months == 1 else max(1, round(stage.months * slow)),
        place=stage.place,
        area_m2=float(round_up(stage.area_of_floor * _floor(size, obj))),
        width_m=_share(stage.width_of_span, obj.span_m),
        height_m=_share(stage.height_of_height, obj.height_m),
        most_wait=stage.most_wait,
        away=stage.away,
        hours={trade: float(round_up(h * scale)) for trade, h in stage.hours.items()},
        estimated=True,
    )


def _share(part: float | None, of: float | None) -> float | None:
    return None if part is None or of is None else round(part * of, 2)


def _rows(name: str) -> list[dict[str, str]]:
    text = files("triage.records").joinpath("data", name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def _number(text: str) -> float | None:
    return float(text) if text else None


def _stage(row: Mapping[str, str]) -> ChainStage:
    hours = {k.removeprefix(_HOURS): float(v) for k, v in row.items() if k.startswith(_HOURS) and v}
    return ChainStage(
        title=row["title"],
        only=row["only"],
        months=int(row["months"]),
        place=row["place"] or None,
        area_of_floor=float(row["area_of_floor"]),
        width_of_span=_number(row["width_of_span"]),
        height_of_height=_number(row["height_of_height"]),
        most_wait=int(row["most_wait"]),
        away=row["away"] == "yes",
        hours=MappingProxyType(hours),
    )


def _size(row: Mapping[str, str]) -> ChainSize:
    return ChainSize(
        length_m=float(row["length_m"]),
        span_m=float(row["span_m"]),
        height_m=float(row["height_m"]),
        mass_kg=float(row["mass_kg"]),
        scaled_by=row["scaled_by"],
    )


def _chains() -> Iterator[Chain]:
    stages = _rows("chains.csv")
    for row in _rows("chain_sizes.csv"):
        own = tuple(_stage(s) for s in stages if s["chain"] == row["chain"])
        yield Chain(row["chain"], row["title"], _size(row), own)


CHAINS: Mapping[str, Chain] = MappingProxyType({chain.name: chain for chain in _chains()})
"""Name -> built-in chain, in the order of the table. ``name in CHAINS`` tells whether a template exists."""
