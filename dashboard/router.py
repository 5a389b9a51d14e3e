"""Which sheet lies at which address."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from urllib.parse import parse_qsl, unquote

from dashboard.pages import bays, figures, hours, intake, objects, queue
from dashboard.parts.shell import Sheet, not_found
from triage.reports.study import Study

Layout = Callable[[Study, Mapping[str, str]], Sheet]
PAGES = (queue, bays, hours, objects, figures, intake)
LAYOUTS: dict[str, Layout] = {page.PATH: page.layout for page in PAGES}
OBJECT = "/object/"


def tidy(path: str) -> str:
    """Return an address without a trailing slash."""
    return path.rstrip("/") or "/"


def sheet_at(study: Study, path: str, search: str = "") -> Sheet:
    """Return the sheet at an address, or the one that says there is none."""
    here = tidy(path)
    if here in LAYOUTS:
        return LAYOUTS[here](study, dict(parse_qsl(search.lstrip("?"))))
    if here.startswith(OBJECT):
        object_id = unquote(here.removeprefix(OBJECT))
        if object_id in study.collection.object_by_id:
            return objects.object_layout(study, object_id)
        return _nothing(f"The collection has no object {object_id!r}.")
    return _nothing(f"Nothing lies at {path}.")


def exists(study: Study | None, path: str) -> bool:
    """Return whether there is a sheet at a decoded address; without a study, any object might exist."""
    here = tidy(path)
    if here in LAYOUTS:
        return True
    known = here.startswith(OBJECT)
    return known and (study is None or here.removeprefix(OBJECT) in study.collection.object_by_id)


def _nothing(what: str) -> Sheet:
    return Sheet("No such sheet", not_found(what), found=False)
