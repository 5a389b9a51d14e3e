"""Who may talk to the dashboard, and what it sends along."""

from __future__ import annotations

import pytest
from flask import Flask

from dashboard.guard import host_name


@pytest.mark.parametrize("host", ["127.0.0.1:8050", "localhost:8050", "LOCALHOST", "[::1]:8050"])
def test_this_machine_is_answered(server: Flask, host: str) -> None:
    """Names of this machine are answered, with or without a port."""
    assert server.test_client().get("/", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "host", ["museum.example", "127.0.0.1.museum.example", "192.168.1.5:8050", "10.0.0.1"]
)
def test_any_other_host_is_refused(server: Flask, host: str) -> None:
    """A name that was made to point here from outside is refused, whatever is asked for."""
    for path in ("/", "/_dash-layout", "/assets/00-tokens.css"):
        with server.test_client().get(path, headers={"Host": host}) as answer:
            assert answer.status_code == 403


@pytest.mark.parametrize("headers", [{"Origin": "http://evil.example"}, {"Sec-Fetch-Site": "cross-site"}])
def test_posts_from_foreign_pages_are_refused(server: Flask, headers: dict[str, str]) -> None:
    """Another page open in the same browser cannot press our buttons."""
    answer = server.test_client().post("/_dash-update-component", json={}, headers=headers)

    assert answer.status_code == 403


def test_every_answer_carries_the_security_headers(server: Flask) -> None:
    """Page, data and refusal alike say: nothing foreign, no frame, no sniffing."""
    client = server.test_client()
    answers = [client.get("/"), client.get("/_dash-layout"), client.get("/", headers={"Host": "x.example"})]

    for answer in answers:
        assert "default-src 'self'" in answer.headers["Content-Security-Policy"]
        assert "frame-ancestors 'none'" in answer.headers["Content-Security-Policy"]
        assert "unsafe-eval" not in answer.headers["Content-Security-Policy"]
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["X-Frame-Options"] == "DENY"
        assert answer.headers["Referrer-Policy"] == "no-referrer"


def test_the_page_names_its_language_and_nothing_foreign(server: Flask) -> None:
    """The page has a language, a viewport, and no address of another machine."""
    page = server.test_client().get("/").get_data(as_text=True)

    assert '<html lang="en">' in page
    assert "width=device-width" in page
    assert "http://" not in page
    assert "https://" not in page


def test_long_answers_are_compressed(server: Flask) -> None:
    """What is long goes out compressed where the browser takes it."""
    client = server.test_client()
    for path in ("/_dash-dependencies", "/_dash-component-suites/plotly/package_data/plotly.min.js"):
        with client.get(path, headers={"Accept-Encoding": "gzip"}) as answer:
            assert answer.headers.get("Content-Encoding") == "gzip", path


def test_a_host_that_is_none_has_no_name() -> None:
    """A mangled Host header gives no name, and so is refused."""
    assert host_name("[::1") == ""
