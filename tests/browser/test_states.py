"""The states before and beside a plan, in a real browser."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from tests.browser.conftest import Served, Start, Watch, go, until
from tests.browser.test_sheets import RULES

Open = Callable[[Served, str], Page]


def no_fault(page: Page) -> None:
    """Assert that axe finds nothing on the page."""
    bad = Axe().run(page, options=RULES).response["violations"]
    assert not bad, [(v["id"], v["nodes"][0]["html"][:160]) for v in bad]


def test_planning_is_followed_and_cancelled(start: Start, open_page: Open) -> None:
    """Progress moves by itself; cancel shows the best plan so far without a reload."""
    page = open_page(start("planning"), "desk")
    go(page, "/")
    assert "A plan is being made" in page.locator("h1").inner_text()
    no_fault(page)
    before = page.locator("#said").inner_text()
    until(page, f"document.querySelector('#said').innerText !== {json.dumps(before)}")

    page.locator("#cancel").click()
    page.locator(".decide").wait_for()


def test_an_unusable_folder_shows_its_faults(start: Start, open_page: Open, tmp_path_factory: object) -> None:
    """A folder without its tables: what is missing, how to mend it, and a way to read it again."""
    folder = Path(str(tmp_path_factory.mktemp("museum")))  # type: ignore[attr-defined]  # pytest's factory
    (folder / "settings.csv").write_text("name,value\nfirst_month,soon\n", encoding="utf-8")
    page = open_page(start("folder", folder), "desk")
    go(page, "/")
    page.locator("#again").wait_for()

    assert "settings.csv" in page.locator(".faults").first.inner_text()
    assert "soon" in page.locator(".faults").first.inner_text()
    no_fault(page)

    (folder / "settings.csv").write_text("name,value\nfirst_month,2027-01\nmonths,24\n", encoding="utf-8")
    page.locator("#again").click()
    until(page, "!document.body.innerText.includes('soon')")
    page.get_by_role("heading", name="No plan can be made").wait_for()


def test_a_study_without_a_plan_still_shows_objects(start: Start, open_page: Open) -> None:
    """Promises clash: the first sheet says so, the objects' sheets are there."""
    page = open_page(start("no_plan"), "desk")
    go(page, "/")
    assert "There is no plan" in page.locator("h1").inner_text()
    no_fault(page)

    page.get_by_role("link", name="Objects").click()
    page.get_by_role("heading", name="Objects").wait_for()
    page.locator("main table a").first.click()
    page.get_by_role("heading", name="What was seen").wait_for()


def test_a_sheet_that_cannot_be_drawn_says_so(start: Start, open_page: Open, watch: Watch) -> None:
    """A failure inside shows words, never a traceback, and leaves a way back."""
    watch.allowed.append("500")
    page = open_page(start("broken"), "desk")
    page.goto("/")
    page.get_by_role("heading", name="This sheet could not be drawn").wait_for()

    assert "Traceback" not in page.locator("body").inner_text()


def test_the_demo_is_planned_and_shown(start: Start, open_page: Open) -> None:
    """The demo folder, planned for a few seconds while the page looks on: queue, bays, hours, an object."""
    page = open_page(start("folder"), "tablet")
    page.goto("/")
    page.locator(".decide, main .queue").first.wait_for(timeout=60_000)
    assert page.locator(".queue > li").count() > 10

    go(page, "/bays")
    assert page.locator(".floors .names a").count() > 10
    go(page, "/hours")
    assert page.locator(".dash-graph").count() == 6
    go(page, "/")
    page.locator(".queue a").first.click()
    page.get_by_role("heading", name="Stage by stage").wait_for()
