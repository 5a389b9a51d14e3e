"""Every sheet, for every object and in every state, without a browser."""

from __future__ import annotations

import logging
import re
from dataclasses import replace

import pytest
from flask import Flask

from dashboard.app import create_app, paper
from dashboard.parts.marks import object_path
from dashboard.parts.shell import SHEETS
from dashboard.source import FixedSource, Planning, Ready, Stopped, Unusable
from tests.dashboard.calling import ask, turn
from tests.dashboard.reading import links, of_class, of_kind, prop, text
from tests.dashboard.sources import BreakingSource, RecordingSource
from triage.errors import Fault
from triage.planning.outcome import Ending, Violation
from triage.reports.study import Study
from triage.reports.words import held

PLANNING = Planning(("Reading the collection.", "12 s: looking for better plans."), 12.0, 60.0)
FAULT = Fault(
    file="grades.csv", row=7, column="grade", value="5", rule="A grade is 1 to 4.", mend="Correct it."
)


@pytest.mark.parametrize("path", [path for path, _ in SHEETS])
def test_every_sheet_draws(study: Study, path: str) -> None:
    """Each sheet of the index has one heading, is marked in the index, and names nothing unknown."""
    body, title = paper(FixedSource(Ready(study)), path)

    assert len(of_kind(body, "H1")) == 1
    assert title.endswith(study.collection.settings.museum)
    current = [li for li in of_kind(body[0], "Li") if prop(li, "aria-current")]
    assert links(current) == [path]
    assert not {"None", "nan", "inf"} & set(text(body).split())


def test_every_object_has_a_sheet(study: Study) -> None:
    """Each object's sheet draws, planned or not, graded or not, with past, forecast and hazards."""
    for item in study.collection.objects:
        body, title = paper(FixedSource(Ready(study)), f"/object/{item.object_id}")
        said = text(body)

        assert title.startswith(item.called)
        assert "What lies ahead if nothing is done" in said
        assert "Hazards" in said
        assert not {"None", "nan", "inf"} & set(said.split())


def test_an_unsurveyed_object_says_so(study: Study) -> None:
    """An object without any hazard row carries the caution on its sheet."""
    unknown = [o for o in study.collection.objects if not study.collection.surveyed(o.object_id)]

    assert unknown
    for item in unknown:
        body, _ = paper(FixedSource(Ready(study)), f"/object/{item.object_id}")
        assert "hazards not surveyed" in text(of_class(body, "caution"))


def test_no_line_ends_between_a_number_and_its_unit(study: Study) -> None:
    """Whatever a sheet says in figures is held to its unit by a no-break blank."""
    for path in [path for path, _ in SHEETS] + ["/object/GLIDER"]:
        said = text(paper(FixedSource(Ready(study)), path)[0])
        assert not re.search(r"\d (%|m²|hours)", said), path
        assert path != "/" or held("40 %") in said


def test_objects_are_headed_by_the_safety_flags(study: Study) -> None:
    """The flagged glider stands above every hall; an object nobody graded is said to be that."""
    body, _ = paper(FixedSource(Ready(study)), "/objects")
    said = text(body)

    assert said.index("Keep people from beneath it") < said.index("Harbour Hall (")
    blank = replace(study, collection=study.collection.model_copy(update={"grades": ()}))
    assert "never graded" in text(paper(FixedSource(Ready(blank)), "/objects")[0])


def test_links_lead_to_sheets_that_exist(study: Study, server: Flask) -> None:
    """No link on any sheet of the index leads nowhere."""
    client = server.test_client()
    targets = {href for path, _ in SHEETS for href in links(paper(FixedSource(Ready(study)), path)[0])}

    assert "/object/GLIDER" in targets
    for href in targets:
        assert href.startswith("#") or client.get(href).status_code == 200


@pytest.mark.parametrize("path", ["/nothing", "/object/NOBODY", "/object/"])
def test_an_address_without_a_sheet_is_not_found(server: Flask, path: str) -> None:
    """The answer is 404 and the sheet says so in words."""
    assert server.test_client().get(path).status_code == 404
    assert "There is no such sheet" in turn(server, path).get_data(as_text=True)


def test_ids_with_signs_of_their_own_have_sheets(study: Study) -> None:
    """An id with a slash, a blank, a per cent sign or an umlaut can be linked to and opened."""
    odd = "A 1/50%ü"
    objects = tuple(
        o.model_copy(update={"object_id": odd, "name": "Odd one"}) if o.object_id == "CRATE" else o
        for o in study.collection.objects
    )
    listed = replace(study, outcome=None, collection=study.collection.model_copy(update={"objects": objects}))
    client = create_app(FixedSource(Ready(listed))).server.test_client()

    assert client.get(object_path(odd)).status_code == 200
    assert client.get(object_path("A 1/50%")).status_code == 404


def test_a_trailing_slash_is_forgiven(server: Flask) -> None:
    """An address ending in a slash is the same sheet."""
    assert server.test_client().get("/bays/").status_code == 200


def test_planning_shows_progress_and_cancel() -> None:
    """While a plan is made every address shows how far it is, and a button that stops it."""
    body, _ = paper(FixedSource(PLANNING, "folder"), "/hours")

    assert "A plan is being made" in text(body)
    assert held("12 s of at most 60 s") in text(body)
    assert held("12 s: looking for better plans.") in text(body)
    assert [prop(b, "id") for b in of_kind(body, "Button")] == ["cancel"]


def test_an_unusable_folder_lists_every_fault_with_its_mend() -> None:
    """Place, value, rule and mend of each fault, and a way to read the folder again."""
    faults = tuple(FAULT.model_copy(update={"row": row}) for row in (7, 9))
    body, _ = paper(FixedSource(Unusable("It cannot be used.", faults), "folder"), "/")
    said = text(body)

    for piece in (
        "grades.csv",
        "row 7, column grade",
        "row 9, column grade",
        "Found  5",
        "Mend: Correct it.",
    ):
        assert " ".join(piece.split()) in " ".join(said.split())
    assert [prop(b, "id") for b in of_kind(body, "Button")] == ["again"]


def test_stopped_work_says_why_and_offers_another_try() -> None:
    """Cancelled before any plan: words and a button, no empty sheet."""
    body, _ = paper(FixedSource(Stopped("Cancelled before a plan was found.")), "/")

    assert "Cancelled before a plan was found." in text(body)
    assert [prop(b, "id") for b in of_kind(body, "Button")] == ["again"]


def test_a_study_without_a_plan_says_what_clashes(study: Study) -> None:
    """Impossible promises are listed; forecasts and safety flags are still there."""
    assert study.outcome is not None
    clash = Violation(rule=9, ids=("GLIDER",), text="Two promises need the same floor in Mar 2027.")
    changes = {"ending": Ending.IMPOSSIBLE, "plan": None, "made_by": None, "bound": None, "gap": None}
    outcome = study.outcome.model_copy(update={**changes, "conflicts": (clash,)})
    source = FixedSource(Ready(replace(study, outcome=outcome)))

    assert "Two promises need the same floor" in text(paper(source, "/")[0])
    for path in [p for p, _ in SHEETS] + ["/object/GLIDER"]:
        assert len(of_kind(paper(source, path)[0], "H1")) == 1


def test_a_study_nobody_planned_yet_draws(study: Study) -> None:
    """Before any search every sheet still draws."""
    source = FixedSource(Ready(replace(study, outcome=None)))

    assert "No plan has been made yet" in text(paper(source, "/")[0])
    for path, _ in SHEETS:
        assert len(of_kind(paper(source, path)[0], "H1")) == 1


def test_cancel_reaches_the_work() -> None:
    """The button asks the source to stop, once pressed and not before."""
    source = RecordingSource(PLANNING)
    server = create_app(source).server
    ask(server, "cancel.disabled", {"cancel.n_clicks": None})
    assert source.asked == []

    ask(server, "cancel.disabled", {"cancel.n_clicks": 1})
    assert source.asked == ["cancel"]


def test_the_sheet_turns_when_the_plan_is_there(study: Study) -> None:
    """While planning the beat brings progress; when it is done it turns the sheet."""
    source = RecordingSource(PLANNING)
    server = create_app(source).server
    beat = ({"beat.n_intervals": 1}, {"turn.data": 4})
    going = ask(server, "..said.children...turn.data..", *beat).get_json()["response"]
    source.shown = Ready(study)
    done = ask(server, "..said.children...turn.data..", *beat).get_json()["response"]

    assert "turn" not in going
    assert "12 s of at most 60 s" in str(going["said"])
    assert done == {"turn": {"data": 5}}


def test_choosing_a_bar_opens_the_object(server: Flask) -> None:
    """A click on a bar leads to its object's sheet; a click on a floor's own line leads nowhere."""
    bar = {"points": [{"customdata": "GLIDER"}]}
    floor = {"points": [{"x": 3}]}
    opened = ask(server, "go.href", {"bays-chart.clickData": bar})

    assert opened.get_json()["response"]["go"]["href"] == "/object/GLIDER"
    assert "href" not in ask(server, "go.href", {"bays-chart.clickData": floor}).get_data(as_text=True)


def test_months_shown_can_be_addressed(server: Flask) -> None:
    """The address says how many months of the bays are shown."""
    whole, year = (turn(server, "/bays", search).get_data(as_text=True) for search in ("", "?months=12"))

    assert '"2027-01-01","2029-01-01"' in whole.replace(" ", "")
    assert '"2027-01-01","2028-01-01"' in year.replace(" ", "")


def test_a_failure_is_told_without_its_details(study: Study, caplog: pytest.LogCaptureFixture) -> None:
    """A sheet that cannot be drawn says so; the reason goes to the terminal, never to the reader."""
    source = BreakingSource(Ready(study))
    server = create_app(source).server
    source.broken = True
    with caplog.at_level(logging.ERROR, logger="dashboard"):
        answer = turn(server, "/")

    told = answer.get_data(as_text=True)
    assert answer.status_code == 200
    assert "This sheet could not be drawn" in told
    assert "secret detail" not in told
    assert "secret detail" in caplog.text
