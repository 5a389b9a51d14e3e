"""Files at the edge: read as text with a message that helps, written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from triage.errors import UnusableInput


def read_text(path: Path) -> str:
    """Return a file's text (UTF-8, a byte order mark is dropped).

    Raises
    ------
    UnusableInput
        If there is no such file, it cannot be read, or it is not UTF-8.
    """
    try:
        return path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise UnusableInput(f"There is no file {path}. Check the name, or make it first.") from None
    except IsADirectoryError:
        raise UnusableInput(f"{path} is a folder; a JSON file is needed here.") from None
    except UnicodeDecodeError:
        raise UnusableInput(f"{path} is not UTF-8 text. Save it as UTF-8.") from None
    except OSError as error:
        raise UnusableInput(f"{path} cannot be read: {error.strerror}.") from None


def must_be_writable(path: Path) -> None:
    """Find out before long work whether a file can be written.

    Raises
    ------
    UnusableInput
        If its folder does not exist or may not be written, or the path is a folder itself.
    """
    if path.is_dir():
        raise UnusableInput(f"{path} is a folder; name a file to write to.")
    folder = path.resolve().parent
    if not folder.is_dir():
        raise UnusableInput(f"There is no folder {folder}. Make it first, or choose another file.")
    if not os.access(folder, os.W_OK):
        raise UnusableInput(f"The folder {folder} may not be written to. Choose another file.")


def write_text(path: Path, text: str) -> None:
    """Write a file whole or leave it as it was: into a neighbour first, which then takes its place.

    Raises
    ------
    UnusableInput
        If it cannot be written; whatever stood there is untouched.
    """
    try:
        handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".part", dir=path.resolve().parent)
    except OSError as error:
        raise UnusableInput(f"{path} cannot be written: {error.strerror}.") from None
    neighbour = Path(name)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        neighbour.chmod(_usual_mode(path))
        neighbour.replace(path.resolve())
    except OSError as error:
        raise UnusableInput(f"{path} cannot be written: {error.strerror}.") from None
    finally:
        neighbour.unlink(missing_ok=True)


def _usual_mode(path: Path) -> int:
    """Return the rights a file already has, or those the user's mask gives a new one."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
