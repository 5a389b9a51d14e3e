"""Arrows point one way: records -> survey -> risk -> planning -> reports, everything else above."""

from __future__ import annotations

import graphlib

import pytest

from tests.architecture.source import Module, modules, project_imports

ROOMS = ("records", "survey", "risk", "planning", "reports")
SHARED = ("triage.errors", "triage.units")
HOMES = {
    "pulp": ("triage/planning/formulation/", "triage/planning/solver"),
    "cbcbox": ("triage/planning/formulation/", "triage/planning/solver"),
    "highspy": ("triage/planning/engine/", "triage/planning/formulation/", "triage/planning/solver"),
    "dash": ("dashboard/",),
    "plotly": ("dashboard/",),
    "flask": ("dashboard/",),
    "flask_compress": ("dashboard/",),
    "waitress": ("dashboard/",),
    "openpyxl": ("triage/survey/workbook",),
    "scipy": ("triage/risk/", "triage/planning/engine/"),
    "sqlite3": (),
}
"""Package -> the beginnings of the paths that may import it (product code only); () is nobody."""
SEARCH = (
    "triage.planning.formulation",
    "triage.planning.engine",
    "triage.planning.solver",
    "triage.planning.greedy",
)
MAY_OPEN_THE_DASHBOARD = ("triage.cli_serve", "triage.wiring")
PRODUCT = modules("triage", "dashboard")
KNOWN = frozenset(m.name for m in PRODUCT)


def room_of(name: str) -> int | None:
    """Return the number of the room a module lies in, None outside the rooms."""
    parts = name.split(".")
    return ROOMS.index(parts[1]) if len(parts) > 1 and parts[0] == "triage" and parts[1] in ROOMS else None


def allowed(importer: str, imported: str) -> bool:
    """Return whether one module of the product may import another."""
    if imported in SHARED or imported == "triage":
        return True
    if importer in SHARED or importer == "triage":
        return False
    target, own = room_of(imported), room_of(importer)
    if own is not None:
        return target is not None and target <= own
    if importer.startswith("dashboard"):
        return True
    return not imported.startswith("dashboard") or importer in MAY_OPEN_THE_DASHBOARD


@pytest.mark.parametrize("module", PRODUCT, ids=lambda m: m.place)
def test_a_module_imports_only_from_rooms_to_its_left(module: Module) -> None:
    """A file imports from its own room, rooms to its left, and the two shared files."""
    wrong = sorted(name for name in project_imports(module, KNOWN) if not allowed(module.name, name))

    assert wrong == []


def test_the_arrow_rule_refuses_a_backward_arrow() -> None:
    """The rule itself bites: risk may not know planning, a room may not know the workflow."""
    assert not allowed("triage.risk.fit", "triage.planning.problem")
    assert not allowed("triage.planning.verify", "triage.workflow")
    assert not allowed("triage.reports.queue", "dashboard.app")
    assert allowed("triage.planning.verify", "triage.risk.loss")


def test_no_modules_import_each_other_in_a_circle() -> None:
    """The product's modules can be put in an order in which each comes after what it imports."""
    graph = {m.name: project_imports(m, KNOWN) for m in PRODUCT}
    packages = {name for name in KNOWN if any(other.startswith(name + ".") for other in KNOWN)}
    for name in graph:
        own = {p for p in packages if name.startswith(p + ".")}
        graph[name] = graph[name] - own

    order = tuple(graphlib.TopologicalSorter(graph).static_order())

    assert len(order) == len(KNOWN)


@pytest.mark.parametrize("package", HOMES)
def test_a_library_is_imported_only_where_it_lives(package: str) -> None:
    """The solver, the web and the spreadsheet libraries each stay in their own corner."""
    wrong = [
        m.place
        for m in PRODUCT
        if any(n == package or n.startswith(package + ".") for n in m.imports)
        and not m.place.startswith(HOMES[package])
    ]

    assert wrong == []


def test_the_checker_knows_nothing_of_the_search() -> None:
    """verify.py and all it imports see neither PuLP nor the formulation nor the engine."""
    by_name = {m.name: m for m in PRODUCT}
    seen: set[str] = set()
    todo = ["triage.planning.verify"]
    while todo:
        name = todo.pop()
        seen.add(name)
        todo.extend(project_imports(by_name[name], KNOWN) - seen)

    assert not [n for n in seen if n.startswith(SEARCH)]
    assert not [n for n in seen if {"pulp", "highspy"} & {i.partition(".")[0] for i in by_name[n].imports}]
