"""Every sheet in a real browser, at three widths."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from tests.browser.conftest import Served, Start, Watch, go, settled, until

Open = Callable[[Served, str], Page]
SHEETS = ["/", "/bays", "/hours", "/objects", "/figures", "/intake", "/object/GLIDER", "/object/CRATE"]
RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}


@pytest.mark.parametrize("size", ["desk", "tablet", "phone"])
def test_every_sheet_fits_its_window(start: Start, open_page: Open, size: str) -> None:
    """No sheet is wider than the window, asks another machine for anything, or logs an error."""
    page = open_page(start("tiny"), size)
    for path in SHEETS:
        go(page, path)
        wide = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
        assert wide <= 0, path


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_every_sheet_is_accessible(start: Start, open_page: Open, size: str) -> None:
    """No sheet breaks a WCAG 2.2 A or AA rule that axe can judge."""
    page = open_page(start("tiny"), size)
    for path in SHEETS:
        go(page, path)
        bad = Axe().run(page, options=RULES).response["violations"]
        assert not bad, (path, [(v["id"], v["nodes"][0]["html"][:160]) for v in bad])


def test_from_the_queue_to_an_object_to_the_bays_to_the_hours(start: Start, open_page: Open) -> None:
    """A manager's way: safety first, the decision, the object behind it, its bay, the hours."""
    page = open_page(start("tiny"), "desk")
    go(page, "/")
    heading = page.locator("h1").inner_text()
    first = page.locator("main .caution").first
    assert first.bounding_box()["y"] < page.locator("h1").bounding_box()["y"]  # type: ignore[index]  # both are there

    page.locator(".decide a").first.click()
    page.get_by_role("heading", name="Its place in the plan").wait_for()
    name = page.locator("h1").inner_text()
    assert heading.startswith(name)
    assert page.title().startswith(name)

    page.get_by_role("link", name="Bays over time").click()
    page.locator("#bays-chart .main-svg").first.wait_for()
    assert name in page.locator(".floors .names").inner_text()

    page.get_by_role("link", name="Staff hours").click()
    page.get_by_role("heading", name="Staff hours").wait_for()
    settled(page)
    assert page.locator(".dash-graph").count() == 2


def test_hovering_tells_and_a_click_opens_the_object(start: Start, open_page: Open) -> None:
    """On the bays the pointer brings up a bar's months, and choosing it opens the object."""
    page = open_page(start("tiny"), "desk")
    go(page, "/bays")
    bar = page.locator("#bays-chart .barlayer .trace").nth(1).locator("path").first
    box = bar.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    told = page.locator("#bays-chart .hoverlayer .hovertext").first
    told.wait_for()
    assert "2027" in told.text_content()  # type: ignore[operator]  # it has text once it is there

    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.wait_for_url("**/object/*")
    page.get_by_role("heading", name="Its place in the plan").wait_for()


def test_names_stand_beside_their_bars(start: Start, open_page: Open) -> None:
    """The names left of the chart line up with the chart's lines, at every width."""
    for size in ("desk", "phone"):
        page = open_page(start("tiny"), size)
        go(page, "/bays")
        names = [page.locator(".floors .names li").nth(i).bounding_box() for i in (0, -1)]
        plot = page.locator("#bays-chart .cartesianlayer .bg, #bays-chart .bglayer .bg").first.bounding_box()
        assert plot is not None
        assert names[0] is not None
        assert names[1] is not None
        assert abs(names[0]["y"] - plot["y"]) <= 3
        assert abs(names[1]["y"] + names[1]["height"] - plot["y"] - plot["height"]) <= 3


def test_fewer_months_can_be_shown_and_addressed(start: Start, open_page: Open) -> None:
    """Choosing fewer months redraws the chart, marks the choice and can be bookmarked."""
    page = open_page(start("tiny"), "desk")
    go(page, "/bays")
    page.get_by_role("link", name="first 12 months").click()
    page.wait_for_url("**/bays?months=12")
    page.locator("li[aria-current=true]", has_text="first 12 months").wait_for()
    settled(page)

    assert page.locator(".ruler span").count() == 12


def test_the_keyboard_reaches_everything(start: Start, open_page: Open) -> None:
    """The first stop skips to the sheet, every stop is seen, Enter opens a sheet where reading starts."""
    page = open_page(start("tiny"), "desk")
    go(page, "/")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    assert page.evaluate("getComputedStyle(document.activeElement).top") != "-96px"

    for _ in range(12):
        page.keyboard.press("Tab")
        assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") != "none"

    page.get_by_role("link", name="Objects").focus()
    page.keyboard.press("Enter")
    page.locator("main h1", has_text="Objects").wait_for()
    until(page, "document.activeElement.tagName === 'H1'")


def test_every_chart_has_its_table(start: Start, open_page: Open) -> None:
    """Beside each chart is a folded table that can be opened."""
    page = open_page(start("tiny"), "desk")
    for path in ("/bays", "/hours", "/object/GLIDER"):
        go(page, path)
        charts = page.locator(".dash-graph").count()
        folded = page.locator("details:has(table) > summary")
        assert charts >= 1
        assert folded.count() >= charts
        folded.first.click()
        page.locator("details[open] table").first.wait_for()


def test_an_address_without_a_sheet_says_so(start: Start, open_page: Open, watch: Watch) -> None:
    """An unknown object or address: a sheet in words and a way back."""
    watch.allowed.append("404")
    page = open_page(start("tiny"), "desk")
    for path in ("/object/NOBODY", "/no/such/place"):
        go(page, path)
        assert "There is no such sheet" in page.locator("h1").inner_text()

    page.locator("main").get_by_role("link", name="Next off display").click()
    page.locator(".decide").wait_for()


def test_the_sheet_prints_without_its_handles(start: Start, open_page: Open) -> None:
    """On paper the index of sheets is gone and cautions keep their ground."""
    page = open_page(start("tiny"), "desk")
    go(page, "/")
    page.emulate_media(media="print")

    assert not page.locator(".index ol").is_visible()
    assert page.locator(".caution").first.is_visible()


def test_what_is_tapped_is_large_enough_on_touch_widths(start: Start, open_page: Open) -> None:
    """Sheets of the index, folds, months and names of objects are 44 px high where fingers choose them."""
    page = open_page(start("tiny"), "phone")
    taps = ".index li a, summary, .choices a, button, .queue .name a, .even td:first-child a"
    for path in ("/", "/bays", "/objects", "/object/GLIDER"):
        go(page, path)
        boxes = [box for tap in page.locator(taps).all() if (box := tap.bounding_box()) is not None]
        assert boxes, path
        assert not [box for box in boxes if box["height"] < 44], path


def test_on_paper_the_bays_are_a_table(start: Start, open_page: Open) -> None:
    """Chart rows would be cut between pages: the print shows the table that is folded on screen instead."""
    page = open_page(start("tiny"), "desk")
    go(page, "/bays")
    height = "document.querySelector('.floors + details table').getBoundingClientRect().height"
    assert page.locator(".floors").is_visible()
    folded_away = not page.locator(".floors + details table").is_visible()

    page.emulate_media(media="print")

    assert folded_away
    assert not page.locator(".floors").is_visible()
    assert page.evaluate(height) > 0
