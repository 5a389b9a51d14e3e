"""Faults to plant in the sound museum: each changes one row and says where it must be found."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass

from tests.survey.good_museum import Tables

Place = tuple[str, int, str]
"""(file, row, column)"""


@dataclass(frozen=True)
class CellPlant:
    """A bad text in one column; ``only`` picks the rows where it is a fault."""

    table: str
    column: str
    text: str
    only: Callable[[dict[str, str]], bool] = lambda row: True
    said_at: str = ""

    def plant(self, rng: random.Random, tables: Tables, taken: set[tuple[str, int]]) -> Place | None:
        """Change a free row; return where the fault must be found, or None if no row is free."""
        rows = tables[self.table]
        header = rows[0]
        free = [
            i
            for i in range(1, len(rows))
            if (self.table, i) not in taken and self.only(dict(zip(header, rows[i], strict=True)))
        ]
        if not free:
            return None
        at = rng.choice(free)
        taken.add((self.table, at))
        rows[at] = list(rows[at])
        rows[at][header.index(self.column)] = self.text
        return f"{self.table}.csv", at + 1, self.said_at or self.column


@dataclass(frozen=True)
class RowPlant:
    """A row added at the end of a table."""

    table: str
    cells: dict[str, str]
    column: str

    def plant(self, rng: random.Random, tables: Tables, taken: set[tuple[str, int]]) -> Place | None:
        """Add the row; return where the fault must be found."""
        rows = tables[self.table]
        if (self.table, -hash(self.column) - 1) in taken:
            return None
        taken.add((self.table, -hash(self.column) - 1))
        rows.append([self.cells.get(c, "") for c in rows[0]])
        taken.add((self.table, len(rows) - 1))
        return f"{self.table}.csv", len(rows), self.column


def _free_row(
    rng: random.Random, rows: list[list[str]], table: str, taken: set[tuple[str, int]]
) -> int | None:
    free = [i for i in range(1, len(rows)) if (table, i) not in taken]
    return rng.choice(free) if free else None


@dataclass(frozen=True)
class CopyPlant:
    """A row that stands twice."""

    table: str
    column: str

    def plant(self, rng: random.Random, tables: Tables, taken: set[tuple[str, int]]) -> Place | None:
        """Copy a free row to the end; return where the fault must be found."""
        rows = tables[self.table]
        at = _free_row(rng, rows, self.table, taken)
        if at is None:
            return None
        taken.update({(self.table, at), (self.table, len(rows))})
        rows.append(list(rows[at]))
        return f"{self.table}.csv", len(rows), self.column


@dataclass(frozen=True)
class RaggedPlant:
    """A row with a cell too many or too few."""

    table: str
    more: bool

    def plant(self, rng: random.Random, tables: Tables, taken: set[tuple[str, int]]) -> Place | None:
        """Lengthen or shorten a free row; return where the fault must be found."""
        rows = tables[self.table]
        at = _free_row(rng, rows, self.table, taken)
        if at is None:
            return None
        taken.add((self.table, at))
        rows[at] = [*rows[at], "stray"] if self.more else rows[at][:-1]
        return f"{self.table}.csv", at + 1, ""


Plant = CellPlant | RowPlant | CopyPlant | RaggedPlant


def _bays(row: dict[str, str]) -> bool:
    return row["place"] == "repair bay"


CELL_PLANTS: tuple[CellPlant, ...] = (
    *(CellPlant("grades", "grade", text) for text in ("0", "5", "3.5", "NaN", "4-5", "good", "-1", "#N/A")),
    CellPlant("grades", "object_id", "OB99"),
    CellPlant("grades", "object_id", ""),
    CellPlant("grades", "element_id", "propeller"),
    CellPlant("grades", "round_id", "R77"),
    CellPlant("rounds", "date", "2026-01-01"),
    CellPlant("rounds", "date", "31/02/2024"),
    CellPlant("rounds", "date", "3/4/2025"),
    CellPlant("rounds", "date", ""),
    CellPlant("findings", "severity", "4"),
    CellPlant("findings", "severity", "1.5"),
    CellPlant("findings", "extent_pct", "120"),
    CellPlant("findings", "round_id", "R0"),
    CellPlant("findings", "element_id", "keel"),
    CellPlant("findings", "ended_on", "soon"),
    CellPlant("treated", "grade_after", ""),
    CellPlant("treated", "date", "2031-01-01"),
    CellPlant("treated", "object_id", "nobody"),
    CellPlant("treated", "element_id", "keel"),
    CellPlant("environment", "hall_id", "H9"),
    CellPlant("environment", "year", "two thousand"),
    CellPlant("environment", "humidity_pct", "152"),
    CellPlant("environment", "light_klux_h", "-3"),
    CellPlant("materials", "years_1_to_2", "0"),
    CellPlant("materials", "spread", "1"),
    CellPlant("materials", "x_leak", "-2"),
    CellPlant("hazards", "state", "maybe"),
    CellPlant("hazards", "object_id", "OB1"),
    CellPlant("hazards", "hazard", ""),
    CellPlant("halls", "clear_m2", "-1"),
    CellPlant("halls", "most_away", "many"),
    CellPlant("halls", "door_width_m", "0"),
    CellPlant("objects", "hall_id", "H7", only=lambda r: r["hall_id"] != ""),
    CellPlant("objects", "mounting", "hovering"),
    CellPlant("objects", "significance", "101"),
    CellPlant("objects", "mass_kg", "2 t"),
    CellPlant("objects", "in_the_way", "OB77"),
    CellPlant("objects", "object_id", ""),
    CellPlant("elements", "share", "-0.5"),
    CellPlant("elements", "safety", "perhaps"),
    CellPlant("elements", "element_id", ""),
    CellPlant("elements", "object_id", "OB55"),
    CellPlant("treatments", "object_id", "OB44", only=lambda r: r["treatment_id"] == "T07"),
    CellPlant("treatments", "kind", "garage"),
    CellPlant("treatments", "cost", "-5"),
    CellPlant("treatments", "slows_to", "0"),
    CellPlant("treatments", "not_before", "spring"),
    CellPlant("treatments", "template", "no such chain"),
    CellPlant("treatment_effects", "grade_after", "0"),
    CellPlant("treatment_effects", "original_kept_pct", "101"),
    CellPlant("treatment_effects", "element_id", "wheels", only=lambda r: r["treatment_id"] < "T04"),
    CellPlant("stages", "months", "0"),
    CellPlant("stages", "months", "1.5"),
    CellPlant("stages", "place", "lake", only=lambda r: r["treatment_id"] > "T04"),
    CellPlant("stages", "width_m", "99", only=_bays),
    CellPlant("stages", "height_m", "12", only=_bays),
    CellPlant("stages", "away", "sometimes"),
    CellPlant("stages", "hours_carpenter", "ten"),
    CellPlant("stages", "stage", "5", only=lambda r: r["stage"] == "4"),
    CellPlant("stages", "treatment_id", "T99", only=lambda r: r["treatment_id"] > "T02"),
    CellPlant("spaces", "slots", "-1"),
    CellPlant("spaces", "area_m2", ""),
    CellPlant("trades", "hours_per_month", "lots"),
    CellPlant("availability", "what", "weather"),
    CellPlant("availability", "id", "B9", only=lambda r: r["what"] == "space"),
    CellPlant("availability", "to", "2019-01", only=lambda r: r["from"] != ""),
    CellPlant("availability", "amount", "", only=lambda r: r["what"] != "closed"),
    CellPlant("display_rules", "rule", "never"),
    CellPlant("display_rules", "objects", "OB04;OB88", only=lambda r: r["rule"] != "at_least"),
    CellPlant("display_rules", "number", "", only=lambda r: r["rule"] == "at_least"),
    CellPlant("display_rules", "number", "9", only=lambda r: r["rule"] == "at_least"),
    CellPlant("budget", "amount", "-1"),
    CellPlant("running", "stage", "9"),
    CellPlant("running", "space_id", "S1", only=lambda r: r["space_id"] == "B1"),
    CellPlant("running", "space_id", "B7"),
    CellPlant("running", "months_left", "-1"),
    CellPlant("moves", "hall_id", "H8"),
    CellPlant("moves", "date", "2019-13-01"),
    CellPlant("settings", "value", "-3", only=lambda r: r["name"] == "value_years"),
)
_ANOTHERS_WORK = {"object_id": "OB03", "treatment_id": "T04", "stage": "1", "months_left": "1"}
OTHER_PLANTS: tuple[Plant, ...] = (
    CopyPlant("objects", "object_id"),
    CopyPlant("elements", "element_id"),
    CopyPlant("grades", "element_id"),
    CopyPlant("rounds", "round_id"),
    CopyPlant("findings", "finding_id"),
    CopyPlant("treatments", "treatment_id"),
    CopyPlant("stages", "stage"),
    CopyPlant("display_rules", "rule_id"),
    CopyPlant("running", "object_id"),
    CopyPlant("settings", "name"),
    RaggedPlant("grades", more=True),
    RaggedPlant("findings", more=False),
    RaggedPlant("stages", more=True),
    RowPlant("treatments", {"treatment_id": "T50", "object_id": "OB03"}, "treatment_id"),
    RowPlant(
        "running",
        {"object_id": "OB03", "treatment_id": "T04", "stage": "1", "months_left": "1"},
        "treatment_id",
    ),
)


def plant(tables: Tables, count: int, seed: int) -> set[Place]:
    """Plant so many faults, each in a row of its own; return where they must be found."""
    rng = random.Random(seed)
    plants: list[Plant] = [*CELL_PLANTS, *OTHER_PLANTS]
    rng.shuffle(plants)
    taken: set[tuple[str, int]] = set()
    places: set[Place] = set()
    for each in plants:
        if len(places) == count:
            break
        place = each.plant(rng, tables, taken)
        if place is not None:
            places.add(place)
    return places
