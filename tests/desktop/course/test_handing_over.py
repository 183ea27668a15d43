"""The dialog that brings a calendar file to a phone, on loopback."""

from __future__ import annotations

import urllib.request
from pathlib import Path

import pytest
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from sennight.desktop.course.handing_over import HandOverDialog
from sennight.practice.hand_over import LinkState, qr_squares


@pytest.fixture
def calendar(tmp_path: Path) -> Path:
    path = tmp_path / "una-example-reminders.ics"
    path.write_bytes(b"BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n")
    return path


@pytest.fixture
def dialog(qtbot: QtBot, calendar: Path) -> HandOverDialog:
    dialog = HandOverDialog(calendar, "My plan 417", find_addresses=lambda: ("127.0.0.1",))
    qtbot.addWidget(dialog)
    dialog.show()
    return dialog


def fetched(url: str) -> tuple[bytes, str]:
    with urllib.request.urlopen(url, timeout=10) as answer:  # noqa: S310 - our own loopback link
        return answer.read(), answer.headers["Content-Disposition"]


def test_nothing_listens_before_the_code_is_asked_for(dialog: HandOverDialog) -> None:
    assert dialog.link is None
    assert not dialog.code.isVisible()
    dialog.look()
    assert dialog.status.text() == ""


def test_the_phone_takes_the_file_once(
    dialog: HandOverDialog, calendar: Path, qtbot: QtBot
) -> None:
    dialog.main_button.click()
    link = dialog.link
    assert link is not None
    assert dialog.code.squares == qr_squares(link.url)
    assert f"Listening on 127.0.0.1, port {link.port}, for " in dialog.status.text()
    content, disposition = fetched(link.url)
    assert content == calendar.read_bytes()
    assert "una" not in disposition
    qtbot.waitUntil(lambda: dialog.status.text().startswith("The phone has taken the file."))
    assert not dialog.code.isVisible()
    dialog.main_button.click()
    assert dialog.link is not None
    assert dialog.link.url != link.url


def test_the_code_is_drawn_in_black_on_white(dialog: HandOverDialog) -> None:
    dialog.main_button.click()
    side = len(dialog.code.squares)
    dialog.code.resize(side * 4, side * 4)
    image = dialog.code.grab().toImage()
    scale = image.width() / (side * 4)
    for top, row in enumerate(dialog.code.squares):
        for left, is_dark in enumerate(row):
            at = [round((place * 4 + 2) * scale) for place in (left, top)]
            colour = QColor("black" if is_dark else "white")
            assert image.pixelColor(*at) == colour


def test_the_link_closes_with_the_dialog(dialog: HandOverDialog) -> None:
    dialog.main_button.click()
    assert dialog.link is not None
    dialog.reject()
    assert dialog.link.state is LinkState.CLOSED


def test_a_link_that_was_closed_is_told(dialog: HandOverDialog) -> None:
    dialog.main_button.click()
    assert dialog.link is not None
    dialog.link.close()
    dialog.look()
    assert dialog.status.text() == "The link is closed; nobody has used it."
    assert dialog.main_button.isEnabled()


def test_without_a_network_the_e_mail_is_named(qtbot: QtBot, calendar: Path) -> None:
    dialog = HandOverDialog(calendar, "My plan 417", find_addresses=tuple)
    qtbot.addWidget(dialog)
    assert not dialog.main_button.isEnabled()
    assert "by e-mail instead" in dialog.status.text()


def test_what_cannot_be_opened_is_told(dialog: HandOverDialog, calendar: Path) -> None:
    calendar.unlink()
    dialog.main_button.click()
    assert "cannot be read" in dialog.status.text()
    assert dialog.link is None
