"""One study of the tiny museum, and the dashboard that shows it."""

from __future__ import annotations

import pytest
from flask import Flask

from dashboard.app import create_app
from dashboard.source import FixedSource, Ready
from tests.studies import study as tiny_study
from triage.reports.study import Study


@pytest.fixture(scope="session")
def study() -> Study:
    """Return the tiny museum's study with its plan made by hand."""
    return tiny_study()


@pytest.fixture(scope="session")
def server(study: Study) -> Flask:
    """Return the dashboard's WSGI application, showing that study."""
    server: Flask = create_app(FixedSource(Ready(study), "tiny")).server
    return server
