"""The committed tables of the invented museum."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

FOLDER = Path(__file__).parents[2] / "demo_collection"
Rows = list[dict[str, str]]


class Tables(Mapping[str, Rows]):
    """File name without ``.csv`` -> rows as text, read once."""

    def __init__(self, folder: Path) -> None:
        self._found: dict[str, Rows] = {}
        for path in sorted(folder.glob("*.csv")):
            with path.open(encoding="utf-8", newline="") as file:
                self._found[path.stem] = list(csv.DictReader(file))

    def __getitem__(self, name: str) -> Rows:
        return self._found[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._found)

    def __len__(self) -> int:
        return len(self._found)

    def one(self, name: str, **fields: str) -> dict[str, str]:
        """Return the only row with these fields."""
        (row,) = self.where(name, **fields)
        return row

    def where(self, name: str, **fields: str) -> Rows:
        """Return the rows with these fields."""
        return [r for r in self[name] if all(r[k] == v for k, v in fields.items())]


@pytest.fixture(scope="session")
def demo() -> Tables:
    """The tables as committed."""
    return Tables(FOLDER)
