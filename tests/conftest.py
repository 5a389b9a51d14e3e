"""What every test may use: the demo folder; and chance that is the same in every run."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("repeatable", derandomize=True, deadline=None)
settings.load_profile("repeatable")

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture(scope="session")
def demo_folder() -> Path:
    """Return the folder of the invented museum."""
    return ROOT / "demo_collection"
