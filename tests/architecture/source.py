"""The project's own Python files and what each imports, read from their syntax trees."""

from __future__ import annotations

import ast
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGES = ("triage", "dashboard", "demo_collection", "tests")


@dataclass(frozen=True)
class Module:
    """One Python file."""

    path: Path

    @property
    def place(self) -> str:
        """The path from the project's root, with slashes."""
        return self.path.relative_to(ROOT).as_posix()

    @property
    def name(self) -> str:
        """The dotted name it is imported by."""
        return self.place.removesuffix(".py").removesuffix("/__init__").replace("/", ".")

    @cached_property
    def text(self) -> str:
        """The source text."""
        return self.path.read_text(encoding="utf-8")

    @cached_property
    def tree(self) -> ast.Module:
        """The syntax tree."""
        return ast.parse(self.text, filename=self.place)

    @cached_property
    def imports(self) -> frozenset[str]:
        """Dotted names of all imported modules, inside functions and type-checking blocks too."""
        found: set[str] = set()
        for node in ast.walk(self.tree):
            if isinstance(node, ast.Import):
                found.update(alias.name for alias in node.names)
            elif isinstance(node, ast.ImportFrom):
                base = self._absolute(node)
                found.update(f"{base}.{alias.name}" if base else alias.name for alias in node.names)
        return frozenset(found)

    def _absolute(self, node: ast.ImportFrom) -> str:
        if not node.level:
            return node.module or ""
        package = self.name if self.path.name == "__init__.py" else self.name.rpartition(".")[0]
        for _ in range(node.level - 1):
            package = package.rpartition(".")[0]
        return f"{package}.{node.module}" if node.module else package


def modules(*packages: str) -> tuple[Module, ...]:
    """Return the modules of the packages given (all of the project's if none)."""
    return tuple(
        Module(path)
        for package in packages or PACKAGES
        for path in sorted((ROOT / package).rglob("*.py"))
        if "__pycache__" not in path.parts
    )


def project_imports(module: Module, known: frozenset[str]) -> frozenset[str]:
    """Return the project's own modules a module imports, by their full dotted names."""
    found = set()
    for name in module.imports:
        while name and name not in known:
            name = name.rpartition(".")[0]
        if name and name != module.name:
            found.add(name)
    return frozenset(found)
