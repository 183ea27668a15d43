"""Having what was written on the disk, so that a power cut does not take it back."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path


def sync(path: Path) -> None:
    """Wait until a file's bytes are on the disk; raises OSError."""
    with path.open("rb+") as written:
        os.fsync(written.fileno())


def sync_folder(folder: Path) -> None:
    """Have the folder's new names on the disk, where the system can."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
