"""Calling the dashboard's callbacks as a browser does, without one."""

from __future__ import annotations

from typing import Any

from flask import Flask
from werkzeug.test import TestResponse

TURN = "..paper.children...title.data...beat.disabled.."


def ask(
    server: Flask, output: str, inputs: dict[str, Any], state: dict[str, Any] | None = None
) -> TestResponse:
    """Return the answer to one callback; ``inputs`` and ``state`` map ``id.property`` to values."""
    outputs = [_named(part) for part in output.strip(".").split("...")]
    body = {
        "output": output,
        "outputs": outputs if output.startswith("..") else outputs[0],
        "inputs": [{**_named(k), "value": v} for k, v in inputs.items()],
        "changedPropIds": list(inputs)[:1],
        "state": [{**_named(k), "value": v} for k, v in (state or {}).items()],
    }
    return server.test_client().post("/_dash-update-component", json=body)


def turn(server: Flask, path: str, search: str = "") -> TestResponse:
    """Return the answer of turning to a sheet."""
    return ask(server, TURN, {"url.pathname": path, "url.search": search, "turn.data": 0})


def _named(name: str) -> dict[str, str]:
    component, _, prop = name.rpartition(".")
    return {"id": component, "property": prop}
