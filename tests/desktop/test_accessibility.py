"""By construction: every field has a name, the keyboard reaches everything, focus is seen."""

from collections.abc import Callable
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QTextEdit,
    QToolButton,
    QWidget,
)
from pytestqt.qtbot import QtBot

from sennight.desktop.clients.client_dialog import ClientDialog
from sennight.desktop.clients.folder_page import FolderPage
from sennight.desktop.clients.list_page import ClientsPage
from sennight.desktop.clients.start_dialog import StartDialog
from sennight.desktop.course.page import CoursePage
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.widgets import Shortened, button
from sennight.desktop.materia_medica.herb_page import HerbPage
from sennight.desktop.materia_medica.list_page import HerbsPage
from sennight.desktop.materia_medica.own_herb_dialog import OwnHerbDialog
from sennight.desktop.materia_medica.own_range_dialog import OwnRangeDialog
from sennight.desktop.remedies.page import RemedyPage
from sennight.desktop.remedies.shelf_page import ShelfPage
from sennight.desktop.shell.actions import action_specs, make_actions
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.card_dialog import CardDialog
from sennight.desktop.shell.find import everything
from sennight.desktop.shell.find_field import FindField
from sennight.desktop.shell.first_start import FirstStartDialog
from sennight.desktop.shell.keys_dialog import KeysDialog
from sennight.desktop.shell.rail import Rail
from sennight.desktop.shell.sections import SECTIONS
from sennight.desktop.shell.settings import Settings
from sennight.domain.courses.clients import Client
from sennight.domain.practices import PracticeCard
from sennight.practice.clients import client_entry
from sennight.practice.materia_medica import supplied_materia_medica
from sennight.practice.own_herbs import new_own_herb
from sennight.practice.protocols import list_protocols
from support.sample_practice import NOW, TODAY, Sample

UNSPOKEN = ("qt_clear_button", "qt_tableview_cornerbutton")
"""Buttons of Qt's own that have a role in place of a name, or do nothing."""

FIELDS = (QLineEdit, QPlainTextEdit, QTextEdit, QComboBox, QAbstractItemView)
Make = Callable[[Sample, Theme], QWidget]


def _folder(sample: Sample, theme: Theme) -> QWidget:
    page = FolderPage(sample.practice, theme, lambda: NOW)
    page.open(sample.clients["efua"])
    return page


def _clients(sample: Sample, theme: Theme) -> QWidget:
    page = ClientsPage(sample.practice, theme, lambda: TODAY)
    page.load()
    return page


def _shelf(sample: Sample, theme: Theme) -> QWidget:
    page = ShelfPage(sample.practice, theme)
    page.load()
    return page


def _remedy(sample: Sample, theme: Theme) -> QWidget:
    page = RemedyPage(sample.practice, theme, lambda: TODAY)
    page.open("tea")
    return page


def _herbs(sample: Sample, theme: Theme) -> QWidget:
    page = HerbsPage(sample.practice, theme)
    page.load()
    return page


def _herb(sample: Sample, theme: Theme) -> QWidget:
    page = HerbPage(sample.practice, theme)
    page.open("ginger")
    return page


def _course(sample: Sample, theme: Theme) -> QWidget:
    page = CoursePage(sample.practice, theme, now=lambda: NOW)
    page.open(sample.course)
    return page


GINGER = supplied_materia_medica().herbs["ginger"]
SCREENS: dict[str, Make] = {
    "clients": _clients,
    "folder": _folder,
    "client dialog": lambda s, _: ClientDialog(
        None, client_entry(s.practice, s.clients["efua"]), today=TODAY
    ),
    "start dialog": lambda s, _: StartDialog(
        None, Client("Noor"), list_protocols(s.practice), today=TODAY
    ),
    "card dialog": lambda *_: CardDialog(None, PracticeCard("")),
    "first start": lambda s, _: FirstStartDialog(
        None, s.practice.path, Settings(s.practice.path.with_suffix(".ini"))
    ),
    "keys": lambda *_: KeysDialog(None, action_specs()),
    "remedies": _shelf,
    "remedy": _remedy,
    "herbs": _herbs,
    "herb": _herb,
    "course": _course,
    "own herb dialog": lambda *_: OwnHerbDialog(None, new_own_herb(""), is_new=True),
    "own range dialog": lambda *_: OwnRangeDialog(None, GINGER, GINGER, ()),
}


@pytest.fixture(params=SCREENS.values(), ids=list(SCREENS))
def screen(request: pytest.FixtureRequest, sample: Sample, theme: Theme, qtbot: QtBot) -> QWidget:
    made: QWidget = request.param(sample, theme)
    qtbot.addWidget(made, before_close_func=QWidget.hide)
    made.resize(1180, 700)
    made.show()
    return made


def _named(widget: QWidget) -> bool:
    return bool(widget.accessibleName())


def test_every_field_and_list_has_a_name(screen: QWidget) -> None:
    fields: list[QWidget] = [
        one for kind in FIELDS for one in screen.findChildren(kind) if one.isVisible()
    ]
    silent = [one for one in fields if not _named(one) and not isinstance(one, QHeaderView)]
    assert silent == []


def test_every_button_says_what_it_does(screen: QWidget) -> None:
    silent = [
        one
        for one in screen.findChildren(QAbstractButton)
        if one.isVisible() and not (one.text() or _named(one))
    ]
    assert [one for one in silent if one.objectName() not in UNSPOKEN] == []


def test_every_field_can_be_reached_by_tab(screen: QWidget) -> None:
    wanted: set[QWidget] = {
        one
        for kind in (QLineEdit, QPlainTextEdit, QAbstractButton, QAbstractItemView)
        for one in screen.findChildren(kind)
        if one.isVisible() and one.isEnabled() and one.focusPolicy() & Qt.FocusPolicy.TabFocus
    }
    seen: set[QWidget] = set()
    for _ in range(len(wanted) * 2 + 2):
        screen.focusNextPrevChild(True)  # noqa: FBT003 - Qt takes it by position
        focused: Any = screen.focusWidget()
        seen.add(focused)
    assert wanted <= seen


def test_no_text_is_cut(screen: QWidget) -> None:
    cut = [
        label.text()
        for label in screen.findChildren(QLabel)
        if label.isVisible()
        and not label.wordWrap()
        and not isinstance(label, Shortened)  # which ends in …, and has it whole in its tip
        and label.fontMetrics().horizontalAdvance(label.text()) > label.width() + 1
    ]
    assert cut == []


def test_buttons_are_as_wide_as_their_words(screen: QWidget) -> None:
    for one in screen.findChildren(QAbstractButton):
        if one.isVisible() and one.text() and not isinstance(one, QToolButton):
            assert one.fontMetrics().horizontalAdvance(one.text()) < one.width(), one.text()


def test_a_form_gives_its_field_label_name_and_description(qtbot: QtBot) -> None:
    form, field = FieldForm(), QLineEdit()
    qtbot.addWidget(form)
    row = form.row("Contact", field, help_text="How to reach the client")
    assert row.label.buddy() is field
    assert field.accessibleName() == "Contact"
    assert field.accessibleDescription() == "How to reach the client"
    row.wrong("Too long")
    assert field.accessibleDescription() == "Too long"
    assert field.property("wrong") is True
    row.explain("")
    assert field.accessibleDescription() == "How to reach the client"
    assert field.property("wrong") is False


def test_narrow_fields_share_one_line_that_names_the_field(qtbot: QtBot) -> None:
    form = FieldForm()
    qtbot.addWidget(form)
    one, two = form.narrow_line(("Lunch", QLineEdit()), ("Supper", QLineEdit()))
    two.wrong("too early")
    one.explain("")
    assert one.beneath is two.beneath
    assert two.beneath.text() == "Supper: too early"
    assert form.to_first_wrong()
    two.explain("")
    assert two.beneath.isHidden()
    assert not form.to_first_wrong()


def test_the_rail_names_its_places(qtbot: QtBot, appearance: Appearance) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    actions = make_actions(window, {spec.id: lambda: None for spec in action_specs()})
    rail = Rail(actions, SECTIONS, appearance)
    qtbot.addWidget(rail)
    rail.apply_theme(appearance.theme)
    for section in SECTIONS:
        made = rail.places[section.spec().id]
        assert made.accessibleName()
        assert not made.icon().isNull()
        assert made.focusPolicy() & Qt.FocusPolicy.TabFocus


def test_the_find_field_says_how_it_is_used(sample: Sample, theme: Theme, qtbot: QtBot) -> None:
    assert theme
    window = QWidget()
    qtbot.addWidget(window)
    field = FindField(window, lambda: everything(sample.practice))
    field.setParent(window)
    assert field.accessibleName() == "Find"
    assert "Escape" in field.accessibleDescription()


def _pixels(widget: QWidget) -> bytes:
    image = widget.grab().toImage()
    return bytes(image.constBits())


@pytest.mark.parametrize("kind", ["", "main", "link"])
def test_focus_is_seen_on_buttons(kind: str, theme: Theme, qtbot: QtBot) -> None:
    assert theme
    window = QWidget()
    qtbot.addWidget(window)
    one, other = button("One", kind=kind), QLineEdit(window)
    one.setParent(window)
    other.move(0, 100)
    window.resize(300, 200)
    window.show()
    window.activateWindow()
    qtbot.waitActive(window)
    other.setFocus()
    without = _pixels(one)
    one.setFocus()
    qtbot.waitUntil(one.hasFocus)
    assert _pixels(one) != without


def test_a_line_that_gives_way_keeps_its_whole_text(theme: Theme, qtbot: QtBot) -> None:
    assert theme
    line = Shortened("Marguerite Auclair-Featherstonehaugh of the Long Meadow")
    qtbot.addWidget(line)
    line.resize(90, line.sizeHint().height())
    line.show()
    assert line.minimumSizeHint().width() < line.sizeHint().width()
    assert line.text() == line.toolTip()
