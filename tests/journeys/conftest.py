"""What the journeys share."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtWidgets import QApplication

from support.windows import reap


@pytest.fixture(autouse=True)
def windows_reaped(qapp: QApplication) -> Iterator[None]:
    assert qapp
    yield
    reap()
