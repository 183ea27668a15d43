"""An open practice file in a folder of its own."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from sennight.store.files import PracticeFile
from support.practice_files import new_practice


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "practice.sennight"


@pytest.fixture
def file(path: Path) -> Iterator[PracticeFile]:
    with new_practice(path) as practice:
        yield practice.file
