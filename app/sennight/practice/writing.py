"""Writes several files, all or none."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path


class FolderError(Exception):
    """A folder that cannot be written to; the message says which and why."""


def write_files(folder: Path, files: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Write files of these names into a folder, as `write_paths` does."""
    return write_paths({folder / name: data for name, data in files.items()})


def write_paths(files: Mapping[Path, bytes]) -> tuple[Path, ...]:
    """Write files, making their folders if need be; other files stay as they are.

    All are written under other names first, beside their places, so that a full disk or a
    folder that cannot be written to leaves the old ones. Raises FolderError.
    """
    waiting: dict[Path, Path] = {}
    try:
        for path, data in files.items():
            _check(path)
            waiting[path] = _reserved_beside(path)
            waiting[path].write_bytes(data)
        return tuple(new.replace(path) for path, new in waiting.items())
    except OSError as error:
        where = ", ".join(sorted({str(path.parent) for path in files}))
        why = (error.strerror or str(error)).lower()
        raise FolderError(f"{where} cannot be written to ({why}); choose another") from error
    finally:
        for new in waiting.values():
            new.unlink(missing_ok=True)


def _check(path: Path) -> None:
    if path.is_dir():
        raise FolderError(f"{path} is a folder; expected a file or nothing there")
    if path.parent.exists() and not path.parent.is_dir():
        raise FolderError(f"{path.parent} is a file; expected a folder to write into")


def _reserved_beside(path: Path) -> Path:
    """A new empty file in the folder of another, readable by its owner alone."""
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(prefix=".sennight-", dir=path.parent)
    os.close(handle)
    return Path(name)
