"""The folder beside a practice file for what is under way.

It holds the plans of papers that are being written and the papers that were opened to be read. It
is its owner's alone, goes when the practice is closed, and is cleared when it is opened.
"""

from __future__ import annotations

import shutil
from contextlib import suppress
from pathlib import Path

from sennight.practice.writing import settle

_READ = "read"


def work_folder(path: Path) -> Path:
    """The folder of a practice file; it need not be there."""
    return path.with_name(f"{path.name}.papers")


def reading_folder(path: Path) -> Path:
    """Where papers lie that were opened to be read."""
    return work_folder(path) / _READ


def clear_work(path: Path) -> None:
    """End or undo what is under way; the practice file is ours alone.

    What another program holds stays for the next time.
    """
    folder = work_folder(path)
    if not folder.is_dir():
        return
    settle(folder)
    shutil.rmtree(reading_folder(path), ignore_errors=True)
    with suppress(OSError):
        folder.rmdir()
