"""What the tests of the window share."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from sennight.desktop.kit.theme import Theme
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.settings import Scheme, Settings
from sennight.practice.opening import OpenPractice, open_practice
from support.sample_practice import NOW, Sample, filled


@pytest.fixture
def empty_practice(tmp_path: Path) -> Iterator[OpenPractice]:
    with open_practice(tmp_path / "practice.sennight", clock=lambda: NOW) as practice:
        yield practice


@pytest.fixture
def sample(empty_practice: OpenPractice) -> Sample:
    return filled(empty_practice)


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
