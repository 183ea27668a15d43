"""The shelf of remedies: search by name, form or herb; begin a new one."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.matching import matching
from sennight.desktop.kit.narrowed_list import Columns, ListWords, NarrowedList
from sennight.desktop.kit.section import Page
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, fill_with
from sennight.desktop.parts.form_names import form_name
from sennight.desktop.remedies.formula import parts_words
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Remedy
from sennight.practice.formula_drafts import formula_drafts
from sennight.practice.formulating import new_remedy
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs
from sennight.practice.remedies import ShelfRemedy, list_remedies


class NewRemedyDialog(FormDialog):
    """Asks for a name and a form; `remedy` is the one begun."""

    def __init__(self, parent: QWidget | None) -> None:
        super().__init__(
            parent, translate("Remedies", "New formula"), do=translate("Remedies", "Create")
        )
        self.remedy: Remedy | None = None
        fields = FieldForm()
        self.name = QLineEdit()
        self.form = QComboBox()
        for form in Form:
            self.form.addItem(form_name(form), form)
        self._row = fields.row(self.tr("Name"), self.name)
        fields.row(
            self.tr("Form"),
            self.form,
            help_text=self.tr("A remedy’s form cannot be changed later."),
        )
        self.name.textEdited.connect(lambda: self._row.explain(""))
        self.set_body(fields, columns=58, lines=19)
        self.name.setFocus(Qt.FocusReason.OtherFocusReason)

    def is_changed(self) -> bool:
        """Whether a name was typed."""
        return bool(self.name.text().strip())

    def submit(self) -> None:
        """Begin, where there is a name."""
        name = " ".join(self.name.text().split())
        if not name:
            self._row.wrong(self.tr("Enter a name, for example Evening tea"))
            self.name.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self.remedy = new_remedy(name, Form.named(self.form.currentData()))
        self.accept()


class ShelfPage(Page):
    """All remedies by name, with what is in them."""

    opened = Signal(str)
    new_wanted = Signal()

    def __init__(self, practice: OpenPractice, theme: Theme) -> None:
        super().__init__()
        self._practice = practice
        self._materia_medica = MateriaMedica()
        self._all: tuple[ShelfRemedy, ...] = ()
        self._shown: tuple[ShelfRemedy, ...] = ()
        self._unsaved: frozenset[str] = frozenset()
        self._make_parts()
        self._connect()
        self.apply_theme(theme)

    # Layout

    def _make_parts(self) -> None:
        self.new = button(self.tr("New formula"), kind="main")
        self.first_new = button(self.tr("New formula"), kind="main")
        headings = (self.tr("Name"), self.tr("Form"), self.tr("Formula"), self.tr("Version"))
        words = ListWords(
            title=self.tr("Formulas"),
            rows=self.tr("Formulas"),
            field=self.tr("Filter the list of formulas"),
            hint=self.tr("Name, form or herb"),
            drawing="formulas",
        )
        self.list = NarrowedList(
            words,
            Columns(headings, (6, 2, 9, 2), narrow=(6, 3, 8, 3)),
            after=(self.new,),
            first_steps=(self.first_new,),
        )
        fill_with(self, self.list)

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self.list.apply_theme(theme)

    # Behaviour

    def _connect(self) -> None:
        self.list.narrowed.connect(self._fill)
        self.list.opened.connect(self.opened)
        self.new.clicked.connect(self.new_wanted)
        self.first_new.clicked.connect(self.new_wanted)

    def take_focus(self) -> None:
        """Give the keyboard to the list, or to what makes a first remedy."""
        self.list.take_focus(otherwise=self.first_new)

    def load(self) -> None:
        """Read the shelf anew; the list stays on the remedy that it was on."""
        at = self.list.current()
        self._materia_medica = known_herbs(self._practice)
        self._all = self._saved_and_begun()
        self._fill()
        self.list.select(at)

    def _saved_and_begun(self) -> tuple[ShelfRemedy, ...]:
        """The shelf, and what was begun and never saved, which has version 0."""
        saved = list_remedies(self._practice)
        drafts = {draft.remedy.id: draft for draft in formula_drafts(self._practice)}
        self._unsaved = frozenset(drafts)
        begun = drafts.keys() - {shelf.id for shelf in saved}
        new = (ShelfRemedy(key, 0, drafts[key].remedy, drafts[key].note) for key in begun)
        return tuple(sorted((*saved, *new), key=lambda shelf: shelf.remedy.name.casefold()))

    def _version_words(self, shelf: ShelfRemedy) -> str:
        if not shelf.version:
            return self.tr("not saved yet")
        changed = self.tr("{n}, changed since") if shelf.id in self._unsaved else "{n}"
        return changed.format(n=shelf.version)

    def _fill(self) -> None:
        typed, every = self.list.narrow.text(), len(self._all)
        self._shown = tuple(
            matching(typed, self._all, lambda shelf: " ".join(self._searched(shelf)))
        )
        self.list.fill(
            tuple(shelf.id for shelf in self._shown),
            self._cells,
            of=every,
            whole=self.tr("1 formula") if every == 1 else self.tr("{n} formulas").format(n=every),
        )
        self._say_if_empty()

    def _searched(self, shelf: ShelfRemedy) -> Iterator[str]:
        """All that a remedy is found by: its names and those of its herbs."""
        yield shelf.remedy.name
        yield form_name(shelf.remedy.form)
        for ingredient in shelf.remedy.ingredients:
            herb = self._materia_medica.herb(ingredient.herb)
            yield ingredient.herb
            if herb:
                yield from (herb.name, herb.latin, *herb.other_names)

    def _cells(self, row: int) -> tuple[str, ...]:
        shelf = self._shown[row]
        parts = parts_words(shelf.remedy, self._materia_medica)
        return shelf.remedy.name, form_name(shelf.remedy.form), parts, self._version_words(shelf)

    def _say_if_empty(self) -> None:
        self.new.setVisible(bool(self._all))
        if self._all:
            self.list.empty.say(
                self.tr("No match for “{typed}”").format(typed=self.list.narrow.text()),
                self.tr("Try fewer letters, or create a new formula."),
            )
        else:
            self.list.empty.say(
                self.tr("No formulas yet"),
                self.tr("Create the first one: a tea, a tincture, a cream and so on."),
            )
