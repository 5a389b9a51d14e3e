"""Reading rendered components in tests: their text, their kinds, their links."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from dash.development.base_component import Component


def walk(node: Any) -> Iterator[Component]:
    """Yield every component of a tree, outermost first."""
    if isinstance(node, Component):
        yield node
        yield from walk(getattr(node, "children", None))
    elif isinstance(node, list | tuple):
        for child in node:
            yield from walk(child)


def prop(node: Component, name: str) -> Any:
    """Return a property of a component, None where it is not set."""
    return getattr(node, name, None)


def text(node: Any) -> str:
    """Return all words of a tree, one blank between pieces."""
    return " ".join(_pieces(node))


def _pieces(node: Any) -> Iterator[str]:
    if isinstance(node, str | int | float):
        yield str(node).strip()
    elif isinstance(node, Component):
        yield from _pieces(getattr(node, "children", None))
    elif isinstance(node, list | tuple):
        for child in node:
            yield from _pieces(child)


def of_class(node: Any, name: str) -> list[Component]:
    """Return the components that carry a class."""
    return [c for c in walk(node) if name in (getattr(c, "className", None) or "").split()]


def of_kind(node: Any, kind: str) -> list[Component]:
    """Return the components of a kind, e.g. ``H1``."""
    return [c for c in walk(node) if type(c).__name__ == kind]


def links(node: Any) -> list[str]:
    """Return where every link goes."""
    return [prop(c, "href") for c in walk(node) if prop(c, "href") is not None]
