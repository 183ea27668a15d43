"""The list of clients by what is due: what it shows, orders and leaves out."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from sennight.desktop.clients.choosing import Order, Which
from sennight.desktop.clients.list_page import ClientsPage
from sennight.desktop.clients.list_table import DIARY, FLAGS, NEXT, TREND, points_of
from sennight.desktop.kit.theme import Theme
from sennight.domain.follow_up.consultations import (
    Appointment,
    Consultation,
    ConsultationKind,
    Part,
)
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.safety.red_flags import RedFlagCheck
from sennight.practice.client_list import Trend
from sennight.practice.consultations import add_consultation
from sennight.practice.diaries import enter_diary, enter_scores
from sennight.practice.red_flags import record_check
from support.sample_practice import NOW, Sample

TODAY = date(2027, 2, 16)
"""Two days after the review of the sample's first phase."""


@pytest.fixture
def page(qtbot: QtBot, sample: Sample, theme: Theme) -> ClientsPage:
    """Efua's review is overdue, Noor has red flags and comes in a week, Oskar has nothing."""
    last = TODAY - timedelta(days=12)
    enter_diary(sample.practice, sample.course, [Taken(last, "tea", 1)])
    pains = [Score(last + timedelta(days=n), "pain", Fraction(7 - n)) for n in range(3)]
    enter_scores(sample.practice, sample.course, [*pains, Score(last, "sleep", Fraction(4))])
    noor = sample.clients["noor"]
    record_check(sample.practice, noor, RedFlagCheck(TODAY, ("clot",)), now=NOW)
    after = Appointment(TODAY + timedelta(days=8))
    written = (Part("Said", "tired"),)
    add_consultation(
        sample.practice, noor, Consultation(TODAY, ConsultationKind.FIRST, written, next=after)
    )
    made = ClientsPage(sample.practice, theme, lambda: TODAY)
    qtbot.addWidget(made)
    made.resize(1200, 600)
    made.load()
    return made


def names(page: ClientsPage) -> list[str]:
    model = page.list.model
    return [str(model.data(model.index(row, 0))) for row in range(model.rowCount())]


def cell(page: ClientsPage, row: int, column: int) -> object:
    return page.list.model.data(page.list.model.index(row, column))


def test_what_is_due_stands_with_the_client(page: ClientsPage, theme: Theme) -> None:
    assert names(page) == ["Efua Prendergast", "Noor Müller", "Oskar Teale"]
    assert [cell(page, 0, column) for column in (NEXT, DIARY, FLAGS)] == [
        "review 14 Feb",
        "11 days",
        "not asked",
    ]
    assert [cell(page, 1, column) for column in (NEXT, DIARY, FLAGS)] == [
        "visit 24 Feb",
        "",
        "1 red flag",
    ]
    assert [cell(page, 2, column) for column in (NEXT, DIARY, FLAGS)] == ["", "", "not asked"]
    model, role = page.list.model, Qt.ItemDataRole.ForegroundRole
    late = [model.data(model.index(row, NEXT), role) for row in range(2)]
    assert late == [QColor(theme.alarm), None]
    flags = [model.data(model.index(row, FLAGS), role) for row in range(2)]
    assert flags == [QColor(theme.doubt), QColor(theme.alarm)]


def test_asked_and_none_is_not_the_same_as_not_asked(page: ClientsPage, sample: Sample) -> None:
    record_check(sample.practice, sample.clients["efua"], RedFlagCheck(TODAY, ()), now=NOW)
    page.load()
    assert [cell(page, row, FLAGS) for row in range(3)] == ["none", "1 red flag", "not asked"]
    page.order.setCurrentIndex(page.order.findData(Order.FLAGS))
    assert [name.split()[0] for name in names(page)] == ["Noor", "Oskar", "Efua"]


def test_the_trend_is_of_what_was_rated_most_and_is_read_aloud(page: ClientsPage) -> None:
    index = page.list.model.index(0, TREND)
    assert cell(page, 0, TREND) == ""
    aloud = Qt.ItemDataRole.AccessibleTextRole
    assert page.list.model.data(index, aloud) == "Pain 7 to 5"
    trend = page.list.model.data(index, Qt.ItemDataRole.UserRole)
    assert trend == Trend("Pain", 0, 10, (Fraction(7), Fraction(6), Fraction(5)))
    assert not page.grab().isNull()


def test_a_line_lies_between_the_ends_of_its_scale() -> None:
    place = QRectF(0, 0, 20, 10)
    rated = Trend("Pain", 0, 10, (Fraction(10), Fraction(5), Fraction(0)))
    assert [(p.x(), p.y()) for p in points_of(rated, place)] == [(0, 0), (10, 5), (20, 10)]
    minutes = Trend("Stiffness", 0, 1440, (Fraction(60), Fraction(30)))
    assert [p.y() for p in points_of(minutes, place)] == [0, 5]


@pytest.mark.parametrize(
    ("order", "first"),
    [(Order.NEXT, "Efua"), (Order.DIARY, "Efua"), (Order.FLAGS, "Noor"), (Order.NAME, "Efua")],
)
def test_it_is_ordered_by_what_is_due(page: ClientsPage, order: Order, first: str) -> None:
    page.order.setCurrentIndex(page.order.findData(order))
    assert names(page)[0].startswith(first)
    assert len(names(page)) == 3


@pytest.mark.parametrize(
    ("which", "shown"),
    [
        (Which.ALL, ["Efua Prendergast", "Noor Müller", "Oskar Teale"]),
        (Which.RUNNING, ["Efua Prendergast"]),
        (Which.DUE, ["Efua Prendergast"]),
        (Which.DIARY, ["Efua Prendergast"]),
        (Which.FLAGS, ["Noor Müller"]),
    ],
)
def test_it_is_narrowed_to_what_is_due(page: ClientsPage, which: Which, shown: list[str]) -> None:
    page.which.setCurrentIndex(page.which.findData(which))
    assert names(page) == shown


def test_the_keyboard_alone_is_enough(page: ClientsPage, qtbot: QtBot) -> None:
    page.show()
    page.activateWindow()
    page.which.setFocus()
    qtbot.keyClick(page.which, Qt.Key.Key_End)
    assert names(page) == ["Noor Müller"]
    opened: list[str] = []
    page.opened.connect(opened.append)
    page.take_focus()
    qtbot.keyClick(page.list.rows, Qt.Key.Key_Return)
    assert len(opened) == 1


def test_nobody_is_said_in_words(page: ClientsPage) -> None:
    page.which.setCurrentIndex(page.which.findData(Which.FLAGS))
    page.list.narrow.setText("efua")
    assert page.list.body.currentWidget() is page.list.empty
    page.list.narrow.clear()
    assert names(page) == ["Noor Müller"]
