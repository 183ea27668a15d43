"""The shelf of remedies: search by name, form or herb; begin a new one."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLineEdit,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.clients.list_page import NarrowField
from sennight.desktop.dialogs import Sheet
from sennight.desktop.forms import Form as FieldForm
from sennight.desktop.matching import matching
from sennight.desktop.remedies.formula import form_name, parts_words
from sennight.desktop.tables import RowsView, TextTable
from sennight.desktop.theme import Look, Role
from sennight.desktop.translating import translate
from sennight.desktop.widgets import Empty, button, words
from sennight.domain.herbs import MateriaMedica
from sennight.domain.remedies import Form, Remedy
from sennight.practice.formulating import new_remedy
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs
from sennight.practice.remedies import ShelfRemedy, list_remedies


class NewRemedySheet(Sheet):
    """Asks for a name and a form; `remedy` is the one begun."""

    def __init__(self, parent: QWidget | None) -> None:
        super().__init__(
            parent, translate("Remedies", "New remedy"), do=translate("Remedies", "Begin")
        )
        self.remedy: Remedy | None = None
        fields = FieldForm()
        self.name = QLineEdit()
        self.form = QComboBox()
        for form in Form:
            self.form.addItem(form_name(form), form)
        self._row = fields.row(self.tr("Name"), self.name)
        fields.row(
            self.tr("Form"), self.form, help_text=self.tr("A remedy keeps the form it begins in.")
        )
        self.name.textEdited.connect(lambda: self._row.explain(""))
        self.set_body(fields, columns=58, lines=19)
        self.name.setFocus(Qt.FocusReason.OtherFocusReason)

    def is_changed(self) -> bool:
        """Whether a name was typed."""
        return bool(self.name.text().strip())

    def carry_on(self) -> None:
        """Begin, where there is a name."""
        name = " ".join(self.name.text().split())
        if not name:
            self._row.wrong(self.tr("A name is expected here, such as Evening tea"))
            self.name.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self.remedy = new_remedy(name, Form(self.form.currentData()))
        self.accept()


class ShelfPage(QWidget):
    """All remedies by name, with what is in them."""

    opened = Signal(str)
    new_wanted = Signal()

    def __init__(self, practice: OpenPractice, look: Look) -> None:
        super().__init__()
        self._practice = practice
        self._held = MateriaMedica()
        self._all: tuple[ShelfRemedy, ...] = ()
        self._shown: tuple[ShelfRemedy, ...] = ()
        self._make_parts()
        self._lay_out()
        self._connect()
        self.set_look(look)

    # Layout

    def _make_parts(self) -> None:
        self.title = words(self.tr("Remedies"), Role.TITLE)
        self.count = words("", Role.QUIET)
        self.narrow = NarrowField()
        self.narrow.setPlaceholderText(self.tr("Name, form or herb"))
        self.narrow.setAccessibleName(self.tr("Narrow the list of remedies"))
        self.narrow.setClearButtonEnabled(True)
        self.new = button(self.tr("New remedy"), kind="main")
        headings = (self.tr("Name"), self.tr("Form"), self.tr("Formula"), self.tr("Version"))
        self.model = TextTable(headings, self)
        self.rows = RowsView(self.model, shares=(6, 2, 9, 2))
        self.rows.setAccessibleName(self.tr("Remedies"))
        self.first_new = button(self.tr("New remedy"), kind="main")
        self.empty = Empty("", "", self.first_new)
        self.body = QStackedWidget()
        self.body.addWidget(self.rows)
        self.body.addWidget(self.empty)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.title, 0, Qt.AlignmentFlag.AlignBottom)
        head.addWidget(self.count, 0, Qt.AlignmentFlag.AlignBottom)
        head.addStretch(1)
        head.addWidget(self.narrow)
        head.addWidget(self.new)
        self._layout = QVBoxLayout(self)
        self._layout.addLayout(head)
        self._layout.addWidget(self.body, 1)

    def set_look(self, look: Look) -> None:
        """Distances for the size of text."""
        self._layout.setContentsMargins(look.unit * 8, look.unit * 4, look.unit * 8, look.unit * 4)
        self._layout.setSpacing(look.unit * 5)
        wide = self.fontMetrics().horizontalAdvance("n")
        self.narrow.setMinimumWidth(wide * 12)
        self.narrow.setMaximumWidth(wide * 26)

    # Behaviour

    def _connect(self) -> None:
        self.narrow.textChanged.connect(self._fill)
        self.narrow.into_list.connect(self._into_list)
        self.rows.chosen.connect(lambda row: self.opened.emit(self._shown[row].id))
        self.new.clicked.connect(self.new_wanted)
        self.first_new.clicked.connect(self.new_wanted)

    def _into_list(self) -> None:
        if self._shown:
            self.rows.setFocus(Qt.FocusReason.OtherFocusReason)

    def take_keyboard(self) -> None:
        """Give the keyboard to the list, or to what makes a first remedy."""
        first = self.rows if self._shown else self.first_new
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def load(self) -> None:
        """Read the shelf anew; the list stays on the remedy that it was on."""
        row = self.rows.currentIndex().row()
        at = self._shown[row].id if 0 <= row < len(self._shown) else ""
        self._held = known_herbs(self._practice)
        self._all = list_remedies(self._practice)
        self._fill()
        for n, shelf in enumerate(self._shown):
            if shelf.id == at:
                self.rows.select_row(n)

    def _fill(self) -> None:
        typed = self.narrow.text()
        self._shown = matching(typed, self._all, lambda shelf: " ".join(self._searched(shelf)))
        self.model.show_rows(len(self._shown), self._cells)
        self._say_count()
        self._say_if_empty()

    def _searched(self, shelf: ShelfRemedy) -> Iterator[str]:
        """All that a remedy is found by: its names and those of its herbs."""
        yield shelf.remedy.name
        yield form_name(shelf.remedy.form)
        for one in shelf.remedy.ingredients:
            herb = self._held.herb(one.herb)
            yield one.herb
            if herb:
                yield from (herb.name, herb.latin, *herb.other_names)

    def _cells(self, row: int) -> tuple[str, ...]:
        shelf = self._shown[row]
        parts = parts_words(shelf.remedy, self._held)
        return shelf.remedy.name, form_name(shelf.remedy.form), parts, str(shelf.version)

    def _say_count(self) -> None:
        shown, every = len(self._shown), len(self._all)
        told = self.tr("{shown} of {all}").format(shown=shown, all=every)
        whole = self.tr("1 remedy") if every == 1 else self.tr("{n} remedies").format(n=every)
        self.count.setText(told if shown != every else whole if every else "")

    def _say_if_empty(self) -> None:
        self.body.setCurrentWidget(self.rows if self._shown else self.empty)
        self.narrow.setVisible(bool(self._all))
        self.new.setVisible(bool(self._all))
        if self._all:
            self.empty.say(
                self.tr("No remedy fits “{typed}”").format(typed=self.narrow.text()),
                self.tr("Type less of the name or of a herb, or begin a new remedy."),
            )
        else:
            self.empty.say(
                self.tr("No remedies yet"),
                self.tr("A remedy is a formula in one form: a tea, tincture, rub or capsule."),
            )
