"""The remedy editor on the sample practice."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from sennight.desktop.kit.theme import Theme
from sennight.desktop.remedies.page import RemedyPage
from support.sample_practice import TODAY, Sample


@pytest.fixture
def page(qtbot: QtBot, sample: Sample, theme: Theme) -> Iterator[RemedyPage]:
    made = RemedyPage(sample.practice, theme, lambda: TODAY)
    qtbot.addWidget(made)
    made.resize(1180, 700)
    made.open("tea")
    made.show()
    yield made
    made.hide()
