"""The editor of one remedy.

Edits are steps that can be undone. They are a draft, kept on disk, until they are saved as one
more version with Ctrl+S, or given to a course. Courses keep the version that they were given.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QUndoStack

from sennight.desktop.kit.draft_note import brought_back_words
from sennight.desktop.kit.drafts import DraftKeeper
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.undo import ValueStep
from sennight.desktop.remedies.calculators.menu import CalculatorMenu
from sennight.desktop.remedies.formula import Formula, standing_words
from sennight.desktop.remedies.parts_model import FormulaEditRequest
from sennight.desktop.remedies.versions import chosen_version
from sennight.desktop.remedies.view import RemedyView
from sennight.domain.formulas.formulas import usual_trial
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.remedies.remedies import Remedy
from sennight.practice.dispensary import settings_of
from sennight.practice.drafts import Draft, Json
from sennight.practice.formula_drafts import (
    FIELD,
    formula_draft,
    formula_from_json,
    formula_key,
    formula_to_json,
)
from sennight.practice.formulating import copy_of
from sennight.practice.opening import MissingRecordError, OpenPractice, PracticeFileError
from sennight.practice.own_herbs import known_herbs
from sennight.practice.remedies import ShelfRemedy, save_remedy, shelf_remedy, why_not_kept

CELLS = "cells"
"""The field of the draft that holds what is typed into cells and not taken."""


class RemedyPage(RemedyView):
    """One remedy at a time; each remedy's edits can be undone while the program runs."""

    status_message = Signal(str)
    changed = Signal()
    opened = Signal(str)

    def __init__(self, practice: OpenPractice, theme: Theme, today: Callable[[], date]) -> None:
        super().__init__(theme)
        self._practice, self._today = practice, today
        self.materia_medica = MateriaMedica()
        self._kept: ShelfRemedy | None = None
        self.formula: Formula | None = None
        self._formulas: dict[str, Formula] = {}
        self._stacks: dict[str, QUndoStack] = {}
        self.draft = DraftKeeper(self, practice, lambda: {FIELD: self, CELLS: self.table})
        self.calculator_menu = CalculatorMenu(self, practice, today)
        self._connect()

    # Opening

    def _connect(self) -> None:
        doing = {"versions": self.show_versions, "copy": self.copy, "keep": self.keep}
        for name, do in doing.items():
            self.buttons[name].clicked.connect(do)
        self.asked.connect(self.ask)
        self.model.asked.connect(self._asked)
        self.model.wrong_changed.connect(self._say_wrong)
        self.making.asked.connect(self._asked)
        self.name.editingFinished.connect(self._take_name)
        self.note.left.connect(self._take_note)
        self.dose_contents.tried.connect(self._preview)
        self.dose_contents.settled.connect(self._take_trial)
        self.draft.brought_back.connect(self._brought_back)
        self.draft.refused.connect(self.status_message)

    @property
    def undo_stack(self) -> QUndoStack | None:
        """The edits of the remedy in view."""
        return self._stacks.get(self.formula.remedy.id) if self.formula else None

    def begin(self, remedy: Remedy, note: str = "") -> None:
        """Take a remedy in hand that is not on the shelf yet; `open` then shows it."""
        self._formulas[remedy.id] = Formula(remedy, note, usual_trial(remedy))

    def open(self, remedy_id: str) -> None:
        """Show a remedy; raises MissingRecordError."""
        self.materia_medica = known_herbs(self._practice)
        self.making.usual = settings_of(self._practice).supply
        self.model.set_herbs(
            {name: self.materia_medica.herbs[name] for name in self.materia_medica.names}
        )
        try:
            self._kept = shelf_remedy(self._practice, remedy_id)
        except MissingRecordError:
            self._kept = None
        in_hand = remedy_id in self._formulas
        if not in_hand:
            self._take_in_hand(remedy_id)
        if remedy_id not in self._stacks:
            self._stacks[remedy_id] = QUndoStack(self)
        self._put(self._formulas[remedy_id])
        self._begin_draft(bring_back=not in_hand)

    def _begin_draft(self, *, bring_back: bool) -> None:
        if self.formula is not None:
            key, saved = formula_key(self.formula.remedy.id), self._saved()
            self.draft.begin(key, self.name.text(), saved=saved, bring_back=bring_back)

    def _take_in_hand(self, remedy_id: str) -> None:
        """Begin with what is on the shelf, else with a draft; raises MissingRecordError."""
        if self._kept is not None:
            self.begin(self._kept.remedy, self._kept.note)
            return
        draft = formula_draft(self._practice, remedy_id)
        if draft is None:
            raise MissingRecordError("remedy", remedy_id)
        self.begin(draft.remedy, draft.note)

    # The draft

    def _saved(self) -> dict[str, Json]:
        """What is on the shelf, as the draft is compared with it."""
        saved: dict[str, Json] = {CELLS: []}
        if self._kept is not None:
            saved[FIELD] = formula_to_json(self._kept.remedy, self._kept.note)
        return saved

    def draft_value(self) -> Json:
        """The formula with what is typed into the name and the note."""
        if self.formula is None:
            return None
        name = " ".join(self.name.text().split()) or self.formula.remedy.name
        return formula_to_json(replace(self.formula.remedy, name=name), self.note.toPlainText())

    def put_draft_value(self, value: Json) -> None:
        """Take a formula in hand again that was not saved."""
        content = formula_from_json(value)
        if content is not None and self.formula is not None:
            remedy, note = content
            self._put(replace(self.formula, remedy=remedy, note=note))

    def _brought_back(self, draft: Draft, otherwise: list[str]) -> None:
        self.status_message.emit(brought_back_words(draft, otherwise))

    def leave(self) -> None:
        """Keep what was edited as a draft, before the page goes out of view."""
        self.take_over()
        if not self.draft.keep() or not self.is_changed or self.formula is None:
            return
        text = self.tr("{name}: the changes are a draft until you save them.")
        self.status_message.emit(text.format(name=self.formula.remedy.name))

    def take_focus(self) -> None:
        """Give the keyboard to the herbs, or to the name of a remedy that has none."""
        empty = self.formula is not None and not self.formula.remedy.name
        (self.name if empty else self.table).setFocus(Qt.FocusReason.OtherFocusReason)

    # Editing

    def _put(self, formula: Formula) -> bool:
        """Show a formula; it is what will be kept."""
        self.formula = formula
        self._formulas[formula.remedy.id] = formula
        if self.name.text() != formula.remedy.name:
            self.name.setText(formula.remedy.name)
            self.name.setCursorPosition(0)  # a long one is seen from its beginning
        self.model.show_remedy(formula.remedy)
        self.table.fit()
        self.making.show_remedy(formula.remedy)
        if self.note.toPlainText() != formula.note:
            self.note.setPlainText(formula.note)
        self.dose_contents.show_formula(formula, self.materia_medica)
        self._say_standing()
        self.changed.emit()
        return True

    def edit(self, text: str, after: Formula) -> bool:
        """Make an edit that can be undone; whether there was anything to change."""
        stack = self.undo_stack
        if stack is None or self.formula is None or after == self.formula:
            return False
        stack.push(ValueStep(text, self.formula, after, self._put))
        return True

    def _asked(self, wanted: FormulaEditRequest) -> None:
        if self.formula is not None:
            self.edit(wanted.words, replace(self.formula, remedy=wanted.remedy))

    def ask(self, question: str) -> None:
        """Ask one of the questions; its answer can be applied as an edit."""
        self.take_over()
        if self.formula is not None:
            self.calculator_menu.ask(question, self.formula, self.materia_medica, self.edit)

    def _preview(self, tried: str) -> None:
        """What a dose holds that is still being typed."""
        if self.formula is not None:
            self.dose_contents.show_formula(
                replace(self.formula, tried=tried), self.materia_medica
            )

    def _take_trial(self, tried: str) -> None:
        if self.formula is not None:
            self.edit(self.tr("Try another dose"), replace(self.formula, tried=tried))

    def _take_name(self) -> None:
        if self.formula is None:
            return
        name = " ".join(self.name.text().split())
        if not name:
            self.status_message.emit(self.tr("A remedy needs a name; the old one stays."))
            self.name.setText(self.formula.remedy.name)
            return
        remedy = replace(self.formula.remedy, name=name)
        self.edit(self.tr("Change the name"), replace(self.formula, remedy=remedy))

    def _take_note(self) -> None:
        if self.formula is not None:
            note = self.note.toPlainText()
            self.edit(self.tr("Change the note"), replace(self.formula, note=note))

    def _say_wrong(self) -> None:
        message = self.model.first_wrong()
        self.wrong.setText(message)
        self.wrong.setVisible(bool(message))

    def _say_standing(self) -> None:
        if self.formula is None:
            return
        version = self._kept.version if self._kept else None
        form = self.formula.remedy.form
        self.standing.setText(standing_words(form, version, is_changed=self.is_changed))
        self.buttons["versions"].setEnabled(self._kept is not None)
        self.buttons["keep"].setEnabled(self.is_changed)

    # Keeping

    @property
    def is_changed(self) -> bool:
        """Whether what is on the page differs from the version on the shelf."""
        formula, kept = self.formula, self._kept
        if formula is None:
            return False
        return kept is None or (kept.remedy, kept.note) != (formula.remedy, formula.note)

    def take_over(self) -> None:
        """Take what was typed into the name and the note, if they have not been left yet."""
        if self.formula is not None:
            self._take_name()
            self._take_note()

    def keep(self) -> bool:
        """Keep the formula on the shelf as one more version; whether nothing is left unkept."""
        self.take_over()
        formula = self.formula
        if formula is None or not self.is_changed:
            return True
        if why := why_not_kept(formula.remedy):
            self.status_message.emit(why)
            return False
        try:
            self._kept = save_remedy(self._practice, formula.remedy, note=formula.note)
        except PracticeFileError as error:
            self.status_message.emit(str(error))
            return False
        self.draft.forget()
        self._begin_draft(bring_back=False)  # what cannot be taken is not saved
        self._say_standing()
        template = self.tr(
            "{name}: version {n} is saved. Courses keep the version they were given."
        )
        self.status_message.emit(template.format(name=formula.remedy.name, n=self._kept.version))
        return True

    def copy(self) -> None:
        """Begin another remedy with the same formula."""
        if self.formula is None:
            return
        self.leave()
        name = self.tr("Copy of {name}").format(name=self.formula.remedy.name)
        remedy = copy_of(self.formula.remedy, name)
        self.begin(remedy, self.formula.note)
        self.opened.emit(remedy.id)

    def show_versions(self) -> None:
        """Look at what was kept before; one of them can be brought back as an edit."""
        if self.formula is None or self._kept is None:
            return
        back = chosen_version(self, self._practice, self._kept.id, self.materia_medica)
        if back is not None:
            words_of = self.tr("Restore version {n}").format(n=back.version)
            self.edit(words_of, replace(self.formula, remedy=back.remedy, note=back.note))
