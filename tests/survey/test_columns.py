"""The declared tables against the page that explains them to the museum."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from triage.records import Settings
from triage.survey.columns import TABLES
from triage.survey.declaring import Table

PAGE = (Path(__file__).parents[2] / "demo_collection" / "README.md").read_text(encoding="utf-8")
BLANKS = PAGE.partition("## What a blank cell means")[2].partition("\n## ")[0]

SETTLED_LATER = {"mounting", "amount"}
"""Blank mounting depends on the hall; a year of the budget without amount makes no record."""


def said_of(table: str) -> str:
    """Return what the page says of the blanks of a table, on one line; empty if nothing."""
    found = re.search(rf"^- `{table}`: (.*?)(?=^- |\Z)", BLANKS, re.MULTILINE | re.DOTALL)
    return " ".join(found[1].split()) if found else ""


@pytest.mark.parametrize("table", [t for t in TABLES.values() if t.record is not None], ids=lambda t: t.name)
def test_the_page_says_what_every_blank_means(table: Table) -> None:
    """Columns with one meaning stand together, in the table's order; what stays unknown is not listed."""
    groups: dict[str, list[str]] = {}
    for column in table.columns:
        if not column.needed and column.blank not in ("", "unknown"):
            groups.setdefault(column.blank, []).append(f"`{column.name}`")
    expected = "; ".join(f"{', '.join(names)}: {blank}" for blank, names in groups.items())

    assert said_of(table.name).removesuffix(".") == expected


@pytest.mark.parametrize("name", ["overtime_points", "move_points", "drop_points", "value_years"])
def test_the_page_says_the_default_of_every_setting(name: str) -> None:
    """A setting left out has the value the page names."""
    default = Settings.model_fields[name].default

    assert re.search(rf"`{name}`(?: is)? {default:g}\b", " ".join(BLANKS.split()))


@pytest.mark.parametrize("table", [t for t in TABLES.values() if t.record is not None], ids=lambda t: t.name)
def test_a_default_is_the_one_its_record_has(table: Table) -> None:
    """Declared and recorded defaults agree, so that a record made by hand is like one that was read."""
    assert table.record is not None
    fields = table.record.model_fields
    declared = {
        c.record_field: c.default for c in table.columns if not c.needed and c.name not in SETTLED_LATER
    }

    assert declared == {name: fields[name].default for name in declared}
