"""A real Chromium and dashboards on ports of their own; console errors and foreign requests fail the test."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, sync_playwright

ROOT = Path(__file__).resolve().parents[2]
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
FLAGS = ["--no-sandbox", "--disable-dev-shm-usage", "--disable-gpu"]
HOW = (
    "NO CHROMIUM: the browser tests did not run. Install it (Debian: apt-get install -y chromium; "
    "elsewhere: .venv/bin/playwright install chromium) or name one in CHROMIUM."
)
START_SECONDS = 60
WAIT_SECONDS = 15
SIZES = {"desk": (1280, 900), "tablet": (820, 1180), "phone": (390, 844)}


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark everything here, so that ``-m "not browser"`` leaves it out."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.browser)


def find_chromium() -> str | None:
    """Return a Chromium: the one named, one of the system, or playwright's own."""
    named = os.environ.get("CHROMIUM") or next((w for n in BROWSERS if (w := shutil.which(n))), None)
    if named:
        return named
    with sync_playwright() as play:
        own = Path(play.chromium.executable_path)
    return str(own) if own.exists() else None


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Yield a Chromium; missing: a loud skip by hand, a failure in continuous integration."""
    path = find_chromium()
    if path is None:
        if os.environ.get("CI"):
            pytest.fail(HOW)
        pytest.skip(HOW)
    with sync_playwright() as play:
        found = play.chromium.launch(executable_path=path, headless=True, args=FLAGS)
        yield found
        found.close()


@dataclass
class Served:
    """A running dashboard."""

    url: str
    process: subprocess.Popen[bytes]
    log: Path


@dataclass
class Watch:
    """What a page did that it should not have."""

    url: str
    problems: list[str] = field(default_factory=list)
    foreign: list[str] = field(default_factory=list)
    allowed: list[str] = field(default_factory=list)
    """Pieces of console messages that a test expects."""

    def told(self, message: ConsoleMessage) -> None:
        """Remember an error on the console that nobody expected."""
        if message.type == "error" and not any(a in message.text for a in self.allowed):
            self.problems.append(message.text)

    def asked(self, url: str) -> None:
        """Remember a request to any other machine."""
        if not url.startswith((self.url, "data:", "blob:")):
            self.foreign.append(url)


Start = Callable[..., Served]


def _free_port() -> int:
    with socket.socket() as sock:
        sock.bind(("127.0.0.1", 0))
        return int(sock.getsockname()[1])


def _wait_for(served: Served) -> None:
    until = time.monotonic() + START_SECONDS
    while time.monotonic() < until:
        if served.process.poll() is not None:
            pytest.fail(served.log.read_text())
        try:
            with urllib.request.urlopen(served.url, timeout=2):
                return
        except (urllib.error.URLError, OSError):
            time.sleep(0.1)
    pytest.fail(f"the dashboard did not start: {served.log.read_text()}")


@pytest.fixture(scope="session")
def start(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Start]:
    """Yield a function that starts a dashboard in a state, once for each state and folder."""
    running: dict[tuple[str, Path], Served] = {}

    def begin(state: str, folder: Path = ROOT / "demo_collection") -> Served:
        if (state, folder) not in running:
            port, log = _free_port(), tmp_path_factory.mktemp(state) / "log.txt"
            command = [sys.executable, "-m", "tests.browser.serving", state, str(port), str(folder)]
            with log.open("wb") as out:
                process = subprocess.Popen(command, stdout=out, stderr=subprocess.STDOUT, cwd=ROOT)
            running[state, folder] = Served(f"http://127.0.0.1:{port}", process, log)
            _wait_for(running[state, folder])
        return running[state, folder]

    yield begin
    for served in running.values():
        served.process.terminate()
        served.process.wait(10)


@pytest.fixture
def watch() -> Watch:
    """Return what is watched of the page of this test."""
    return Watch("")


@pytest.fixture
def open_page(browser: Browser, watch: Watch) -> Iterator[Callable[[Served, str], Page]]:
    """Yield a function that opens a page of a size; afterwards nothing may have gone wrong on it."""
    contexts = []

    def opened(served: Served, size: str = "desk") -> Page:
        width, height = SIZES[size]
        context = browser.new_context(
            base_url=served.url, viewport={"width": width, "height": height}, has_touch=size != "desk"
        )
        contexts.append(context)
        context.set_default_timeout(15_000)
        page = context.new_page()
        watch.url = served.url
        page.on("console", watch.told)
        page.on("pageerror", lambda error: watch.problems.append(str(error)))
        context.on("request", lambda request: watch.asked(request.url))
        return page

    yield opened
    for context in contexts:
        context.close()
    assert watch.foreign == []
    assert watch.problems == []


def go(page: Page, path: str) -> None:
    """Open an address and wait until its sheet and charts are drawn."""
    page.goto(path)
    settled(page)


def settled(page: Page) -> None:
    """Wait until the sheet is there and every chart on it is drawn."""
    page.wait_for_selector("main h1")
    until(page, "!document.querySelector('[data-dash-is-loading=true]')")
    until(page, "[...document.querySelectorAll('.dash-graph')].every(g => g.querySelector('.main-svg'))")


def until(page: Page, true: str) -> None:
    """Wait until an expression is true; asked from outside, since the page may not evaluate text."""
    end = time.monotonic() + WAIT_SECONDS
    while not page.evaluate(true):
        assert time.monotonic() < end, f"never came true: {true}"
        page.wait_for_timeout(50)
