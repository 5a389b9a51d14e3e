"""What every test may use: the demo folder."""

from __future__ import annotations

from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture(scope="session")
def demo_folder() -> Path:
    """Return the folder of the invented museum."""
    return ROOT / "demo_collection"
