"""Line breaks: a number is never parted from its unit on any sheet."""

from __future__ import annotations

from typing import Any

from dash.development.base_component import Component

from triage.reports.words import held


def unbroken(node: Any) -> Any:
    """Return a tree of components whose words keep numbers and units together; components are changed."""
    if isinstance(node, str):
        return held(node)
    if isinstance(node, list | tuple):
        return [unbroken(child) for child in node]
    if isinstance(node, Component) and getattr(node, "children", None) is not None:
        node.children = unbroken(node.children)
    return node
