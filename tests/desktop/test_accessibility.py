"""By construction: fields are named, focus is seen; test_every_screen.py looks all over."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QLineEdit,
    QWidget,
)
from pytestqt.qtbot import QtBot

from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.widgets import Shortened, button
from sennight.desktop.shell.actions import action_specs, make_actions
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.find_field import FindField
from sennight.desktop.shell.find_index import everything
from sennight.desktop.shell.rail import Rail
from sennight.desktop.shell.sections import SECTIONS
from support.sample_practice import Sample


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
