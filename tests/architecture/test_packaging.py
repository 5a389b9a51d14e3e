"""What the project says of itself to installers and readers: dependencies, data and their statements."""

from __future__ import annotations

import csv
import re
import sys
import tomllib
from pathlib import Path

import pytest

from tests.architecture.source import PACKAGES, ROOT, modules

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
BROUGHT_ALONG = {"cbcbox": "pulp", "flask": "dash"}
"""Imported package -> the dependency whose own contract brings it (pulp's extra ``cbc``; Dash's server)."""
OURS = {"triage", "dashboard"}
TABLES = sorted(path for package in PACKAGES for path in (ROOT / package).rglob("*.csv"))
BUILT_IN = [path for path in TABLES if "triage" in path.relative_to(ROOT).parts]


def place(path: Path) -> str:
    """Return a path as a test's name."""
    return path.relative_to(ROOT).as_posix()


def declared() -> set[str]:
    """Return the packages the product needs, by the names they are imported by."""
    names = (re.split(r"[\[<>=~! ]", need)[0] for need in PROJECT["dependencies"])
    return {name.lower().replace("-", "_") for name in names}


def imported() -> set[str]:
    """Return the packages of others that the product imports."""
    found = {name.partition(".")[0] for module in modules("triage", "dashboard") for name in module.imports}
    return found - OURS - set(sys.stdlib_module_names)


def test_every_dependency_is_imported_and_every_import_declared() -> None:
    """Nothing is installed that nobody uses, and nothing used that nobody installs."""
    assert {BROUGHT_ALONG.get(name, name) for name in imported()} == declared()


@pytest.mark.parametrize("folder", sorted({path.parent for path in TABLES}), ids=place)
def test_tables_lie_beside_a_readme(folder: Path) -> None:
    """Where tables are, a page says what they are and where they come from."""
    assert (folder / "README.md").is_file()


@pytest.mark.parametrize("table", BUILT_IN, ids=place)
def test_the_readme_explains_every_column_of_a_built_in_table(table: Path) -> None:
    """The page beside a packaged table names the table and all its columns."""
    page = (table.parent / "README.md").read_text(encoding="utf-8")
    with table.open(encoding="utf-8", newline="") as file:
        header = next(csv.reader(file))
    families = {"x_": "x_<cause>", "hours_": "hours_<trade>"}
    columns = {next((new for old, new in families.items() if c.startswith(old)), c) for c in header}

    assert [c for c in sorted({table.name, *columns}) if f"`{c}`" not in page] == []
