"""Size caps and the small habits that keep files readable."""

from __future__ import annotations

import ast
import re

import pytest

from tests.architecture.source import Module, modules

MOST_LINES_A_MODULE = 400
MOST_LINES_A_FUNCTION = 60
ALL = modules()
TESTS = tuple(m for m in ALL if m.place.startswith("tests/") and m.path.name.startswith("test_"))


@pytest.mark.parametrize("module", ALL, ids=lambda m: m.place)
def test_a_module_has_at_most_400_lines(module: Module) -> None:
    """A module that outgrows the cap has more than one job."""
    assert module.text.count("\n") <= MOST_LINES_A_MODULE


@pytest.mark.parametrize("module", ALL, ids=lambda m: m.place)
def test_a_function_has_at_most_60_lines(module: Module) -> None:
    """A function is short enough to read at once."""
    long = [
        f"{node.name} ({node.end_lineno - node.lineno + 1} lines)"
        for node in ast.walk(module.tree)
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and node.end_lineno is not None
        and node.end_lineno - node.lineno + 1 > MOST_LINES_A_FUNCTION
    ]

    assert long == []


@pytest.mark.parametrize("module", TESTS, ids=lambda m: m.place)
def test_every_test_says_what_behaviour_it_holds(module: Module) -> None:
    """Tests read as a specification: each has a docstring."""
    silent = [
        node.name
        for node in ast.walk(module.tree)
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_") and not ast.get_docstring(node)
    ]

    assert silent == []


EXEMPTION = re.compile(r"# (?:type: ignore|noqa)\b(?!(?:\[[a-z-]+\]|: [A-Z]+\d+)\s+[-#] \w)")


@pytest.mark.parametrize("module", ALL, ids=lambda m: m.place)
def test_a_check_is_switched_off_by_name_and_with_a_reason(module: Module) -> None:
    """A comment that silences the linter or the type checker names the check and says why."""
    assert [line for line in module.text.splitlines() if EXEMPTION.search(line)] == []


def test_an_exemption_without_name_or_reason_is_found() -> None:
    """The rule itself bites."""
    mark = "x = 1  # " + "noqa"

    assert EXEMPTION.search(mark)
    assert EXEMPTION.search(f"{mark}: E501")
    assert not EXEMPTION.search(f"{mark}: E501 - a long address")


def test_no_module_is_named_for_leftovers() -> None:
    """Every module has one job, so none is called utils, helpers, misc or common."""
    assert [m.place for m in ALL if re.search(r"/(utils?|helpers?|misc|common)\.py$", m.place)] == []
