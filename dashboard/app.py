"""The dashboard: one sheet after another, served to this machine only."""

from __future__ import annotations

import logging
from http import HTTPStatus
from pathlib import Path
from typing import Any

import waitress
from dash import ClientsideFunction, Dash, Input, Output, State, dcc, html, no_update, set_props
from dash.development.base_component import Component
from flask import Response, request
from flask_compress import Compress

from dashboard.guard import guard
from dashboard.pages import bays
from dashboard.parts import shell
from dashboard.parts.plan_words import block_facts
from dashboard.parts.spacing import unbroken
from dashboard.router import exists, sheet_at
from dashboard.source import FixedSource, Planning, Ready, Source, Stopped, Unusable

HERE = Path(__file__).parent
PRODUCT = "Gallery triage"
HOST = "127.0.0.1"
THREADS = 8
BEAT_MS = 1000
COMPRESSED = ["text/html", "application/javascript", "text/javascript", "application/json"]
log = logging.getLogger("dashboard")

INDEX = """<!DOCTYPE html>
<html lang="en">
  <head>
    <meta name="viewport" content="width=device-width, initial-scale=1">
    {%metas%}
    <title>{%title%}</title>
    <link rel="icon" type="image/svg+xml" href="/assets/favicon.svg">
    {%css%}
  </head>
  <body>
    <noscript>This dashboard needs JavaScript, all of it from this machine.
      <code>triage plan</code> prints the same figures.</noscript>
    {%app_entry%}
    {%config%}
    {%scripts%}
    {%renderer%}
  </body>
</html>"""


def create_app(source: Source) -> Dash:
    """Return the dashboard that shows a source; its ``server`` is a WSGI application.

    Raises nothing by itself: a source without a study is shown as such.
    """
    app = Dash(
        "dashboard",
        assets_folder=str(HERE / "assets"),
        index_string=INDEX,
        title=PRODUCT,
        update_title="",
        suppress_callback_exceptions=True,
        serve_locally=True,
        add_log_handler=False,
        enable_mcp=False,
        on_error=_told_and_logged,
    )
    app.layout = _frame
    _register(app, source)
    bays.register(app)
    guard(app.server, app.csp_hashes())
    _answer_missing_sheets(app, source)
    app.server.config.update(COMPRESS_MIMETYPES=COMPRESSED, COMPRESS_STREAMS=False)
    Compress(app.server)
    return app


def serve(source: Source, port: int) -> None:
    """Serve the dashboard on this machine until interrupted.

    Raises
    ------
    OSError
        If the port is taken.
    """
    waitress.serve(create_app(source).server, host=HOST, port=port, threads=THREADS, ident=None)


def _frame() -> Component:
    """Return what stands around every sheet."""
    return html.Div(
        [
            html.A("Skip to the sheet", href="#sheet", className="skip"),
            dcc.Location(id="url", refresh=False),
            dcc.Location(id="go", refresh="callback-nav"),
            dcc.Interval(id="beat", interval=BEAT_MS, disabled=True),
            dcc.Store(id="turn", data=0),
            dcc.Store(id="title"),
            dcc.Store(id="titled"),
            html.Div(html.Div(className="sheet", id="paper"), className="frame"),
        ]
    )


def paper(source: Source, path: str, search: str = "") -> tuple[list[Component], str]:
    """Return everything on the paper at an address, and the window's title."""
    state = source.state()
    if isinstance(state, Ready):
        sheet = sheet_at(state.study, path, search)
        facts = [("Sheet", sheet.title), *block_facts(state.study.collection.settings, state.study.outcome)]
        house = state.study.collection.settings.museum or PRODUCT
    else:
        sheet, house = _state_sheet(state), PRODUCT
        facts = [("Sheet", sheet.title), ("Folder", source.name), ("Made with", PRODUCT)]
    here = sheet.path if sheet.found else ""
    main = html.Main(sheet.body, id="sheet", tabIndex=-1)
    pieces = [shell.index_of_sheets(house, here), main, shell.title_block(facts)]
    return unbroken(pieces), f"{sheet.title} - {house}"


def _state_sheet(state: Planning | Unusable | Stopped) -> shell.Sheet:
    if isinstance(state, Planning):
        said = html.Div(_progress(state), id="said")
        return shell.Sheet("A plan is being made", shell.planning(said))
    if isinstance(state, Unusable):
        return shell.Sheet("No plan yet", shell.unusable(state.message, state.faults))
    return shell.Sheet("No plan", shell.stopped(state.message))


def _progress(state: Planning) -> list[Component]:
    return shell.progress_sheet(state.said, state.seconds, state.allowed, cancelling=state.cancelling)


def _register(app: Dash, source: Source) -> None:
    """Turn sheets, follow a plan being made, cancel it, ask for another."""

    @app.callback(
        Output("paper", "children"),
        Output("title", "data"),
        Output("beat", "disabled"),
        Input("url", "pathname"),
        Input("url", "search"),
        Input("turn", "data"),
    )
    def turn_sheet(path: str | None, search: str | None, _turn: int) -> tuple[list[Component], str, bool]:
        now = FixedSource(source.state(), source.name)
        body, title = paper(now, path or "/", search or "")
        return body, title, not isinstance(now.state(), Planning)

    @app.callback(
        Output("said", "children"),
        Output("turn", "data"),
        Input("beat", "n_intervals"),
        State("turn", "data"),
        prevent_initial_call=True,
    )
    def follow(_beats: int, turn: int) -> tuple[Any, Any]:
        state = source.state()
        if isinstance(state, Planning):
            return _progress(state), no_update
        return no_update, turn + 1

    @app.callback(Output("cancel", "disabled"), Input("cancel", "n_clicks"), prevent_initial_call=True)
    def cancel(clicks: int | None) -> Any:
        if not clicks:
            return no_update
        source.cancel()
        return True

    @app.callback(
        Output("turn", "data", allow_duplicate=True),
        Input("again", "n_clicks"),
        State("turn", "data"),
        prevent_initial_call=True,
    )
    def again(clicks: int | None, turn: int) -> Any:
        if not clicks:
            return no_update
        source.again()
        return turn + 1

    app.clientside_callback(  # type: ignore[no-untyped-call]  # dash leaves it untyped
        ClientsideFunction("sheet", "turned"), Output("titled", "data"), Input("title", "data")
    )


def _told_and_logged(error: Exception) -> None:
    """Log a failed callback with its traceback, and show the reader a sheet instead of it."""
    log.error("a sheet could not be drawn", exc_info=error)
    set_props("paper", {"children": [html.Main(shell.went_wrong(), id="sheet", tabIndex=-1)]})


def _answer_missing_sheets(app: Dash, source: Source) -> None:
    """Answer 404 where there is no sheet; the page itself still says so in words."""

    def status(response: Response) -> Response:
        path = (request.view_args or {}).get("path")
        if path is not None and request.method == "GET" and response.mimetype == "text/html":
            state = source.state()
            study = state.study if isinstance(state, Ready) else None
            if response.status_code == HTTPStatus.OK and not exists(study, f"/{path}"):
                response.status_code = HTTPStatus.NOT_FOUND
        return response

    app.server.after_request(status)
