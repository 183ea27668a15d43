"""Writes several files into a folder, all or none."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path


class FolderError(Exception):
    """A folder that cannot be written to; the message says which and why."""


def write_files(folder: Path, files: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Write files of these names into a folder, made if need be; other files stay as they are.

    All are written under other names first, inside the folder, so that a full disk leaves the
    old ones. Raises FolderError.
    """
    if folder.exists() and not folder.is_dir():
        raise FolderError(f"{folder} is a file; expected a folder to write into")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name in files:
            if (folder / name).is_dir():
                raise FolderError(f"{folder / name} is a folder; expected room for a file")
        return _moved_in(folder, files)
    except OSError as error:
        why = error.strerror or str(error)
        raise FolderError(f"{folder} cannot be written to ({why.lower()})") from error


def _moved_in(folder: Path, files: Mapping[str, bytes]) -> tuple[Path, ...]:
    waiting = Path(tempfile.mkdtemp(prefix=".sennight-", dir=folder))
    try:
        for name, data in files.items():
            (waiting / name).write_bytes(data)
        return tuple((waiting / name).replace(folder / name) for name in files)
    finally:
        shutil.rmtree(waiting, ignore_errors=True)
