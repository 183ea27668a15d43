"""What the tests of the window share."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from sennight.desktop.kit.theme import Theme
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.settings import Scheme, Settings
from sennight.practice.opening import OpenPractice
from support.practice_files import new_practice, new_sample
from support.sample_practice import NOW, Sample
from support.windows import reap


@pytest.fixture(autouse=True)
def windows_reaped(qapp: QApplication) -> Iterator[None]:
    assert qapp
    yield
    reap()


@pytest.fixture
def empty_practice(tmp_path: Path) -> Iterator[OpenPractice]:
    with new_practice(tmp_path / "practice.sennight", clock=lambda: NOW) as practice:
        yield practice


@pytest.fixture
def sample(tmp_path: Path) -> Iterator[Sample]:
    made = new_sample(tmp_path / "practice.sennight")
    yield made
    made.practice.close()


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    made = Settings(tmp_path / "settings.ini")
    made.scheme = Scheme.LIGHT
    return made


@pytest.fixture
def appearance(qapp: QApplication, settings: Settings) -> Iterator[Appearance]:
    made = Appearance(qapp, settings)
    yield made
    made.deleteLater()


@pytest.fixture
def theme(appearance: Appearance) -> Theme:
    return appearance.theme
