"""Which paper is offered first: Letter in the United States, A4 nearly everywhere (ISO 216)."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QLocale

from sennight.desktop.kit.paper import usual_paper


@pytest.mark.parametrize(
    ("locale", "paper"), [("en_GB", "A4"), ("en_US", "Letter"), ("de_DE", "A4"), ("fr_FR", "A4")]
)
def test_the_paper_of_the_country(
    locale: str, paper: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(QLocale, "system", staticmethod(lambda: QLocale(locale)))
    assert usual_paper() == paper
