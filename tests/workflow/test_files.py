"""Files are written whole or not at all."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from triage.errors import UnusableInput
from triage.files import must_be_writable, read_text, write_text


def test_a_file_takes_the_place_of_the_old_one(tmp_path: Path) -> None:
    """And leaves no neighbour behind."""
    path = tmp_path / "plan.json"
    path.write_text("old")
    write_text(path, "new é\n")

    assert path.read_text(encoding="utf-8") == "new é\n"
    assert list(tmp_path.iterdir()) == [path]


def test_a_write_that_fails_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk in the middle: the old text stands, the half-written neighbour is gone."""
    path = tmp_path / "plan.json"
    path.write_text("old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)

    with pytest.raises(UnusableInput, match="No space left"):
        write_text(path, "new")
    assert path.read_text() == "old"
    assert list(tmp_path.iterdir()) == [path]


def test_rights_of_a_file_are_kept(tmp_path: Path) -> None:
    """A file others may read stays so."""
    path = tmp_path / "plan.json"
    path.write_text("old")
    path.chmod(0o640)
    write_text(path, "new")

    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_a_link_is_followed(tmp_path: Path) -> None:
    """The file it points at changes; the link stays a link."""
    real, link = tmp_path / "real.json", tmp_path / "link.json"
    real.write_text("old")
    link.symlink_to(real)
    write_text(link, "new")

    assert (link.is_symlink(), real.read_text()) == (True, "new")


@pytest.mark.parametrize("name", ["no/plan.json", "."])
def test_a_place_that_cannot_be_written_is_refused_before_any_work(tmp_path: Path, name: str) -> None:
    """No folder, or a folder in its place."""
    with pytest.raises(UnusableInput):
        must_be_writable(tmp_path / name)


def test_a_byte_order_mark_is_dropped(tmp_path: Path) -> None:
    """Editors that write one do no harm."""
    path = tmp_path / "p.json"
    path.write_bytes(b"\xef\xbb\xbf{}")

    assert read_text(path) == "{}"
