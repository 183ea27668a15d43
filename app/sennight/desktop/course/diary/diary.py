"""Enter diary: what was taken, keyed in fast.

Arrows move; Space goes from all to part to missed; digits set a count; D takes the whole day as
taken, W the whole week; Delete takes a draft back, or a saved entry away; N goes to the note of
the day; Ctrl+Z takes the last step back. A draft is kept on disk until it is saved.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from sennight.desktop.course.diary.diary_grid import DiaryGrid
from sennight.desktop.course.diary.diary_model import DiaryModel
from sennight.desktop.course.diary.diary_values import short_day
from sennight.desktop.course.diary.sheet_dialog import SheetDialog
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.drafts import Fields
from sennight.desktop.kit.file_dialogs import ask_for_file
from sennight.desktop.kit.short_dialogs import confirm, message_dialog
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, text_label
from sennight.domain.follow_up.adherence import Adherence
from sennight.domain.follow_up.diaries import LONGEST_NOTE, Reported
from sennight.practice.diary_tables import DiaryFileError, read_diary_file

_ENTERS = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
OpenSheets = Callable[["DiaryDialog"], SheetDialog | None]
"""Makes the dialog that reads sheets; None where that was refused, and told."""
NO_BREAK = "\u00a0"
"""A space at which a line does not end."""


class DiaryDialog(FormDialog):
    """The grid, what the draft would come to, and saving it.

    With `sheets` photos of the sheets that were given can be read.
    """

    def __init__(
        self,
        model: DiaryModel,
        theme: Theme,
        parent: QWidget | None = None,
        sheets: OpenSheets | None = None,
    ) -> None:
        super().__init__(
            parent,
            translate("DiaryDialog", "Enter diary"),
            do=translate("DiaryDialog", "Save the diary"),
        )
        self.model, self._open_sheets = model, sheets
        self.leave_button.setText(self.tr("Finish later"))
        self.main_button.setAutoDefault(False)
        self.main_button.setDefault(False)
        self.grid = DiaryGrid(model, theme)
        self.figure = text_label("", Role.STRONG, wrap=True)
        keys = self.tr(
            "Space: all, part, missed. Digits: a count. D: the day taken. W: the week taken. "
            "Delete: no entry. N: note. Ctrl+Z: undo."
        )
        self.letters = text_label(self._letters(), Role.QUIET, wrap=True)
        self.grid.names_shown.connect(self.letters.setHidden)
        body = QWidget()
        room = QVBoxLayout(body)
        room.setContentsMargins(0, 0, 0, 0)
        room.addWidget(text_label(keys, Role.QUIET, wrap=True))
        room.addWidget(self.letters)
        room.addWidget(self.grid, 1)
        room.addLayout(self._note_line())
        self._make_foot()
        self.save_height()
        self.set_body(body, columns=112, lines=40)
        model.dataChanged.connect(self._update_text)
        model.note_changed.connect(self._update_text)
        model.note_changed.connect(self._show_note)
        self.grid.selectionModel().currentChanged.connect(self._show_note)
        self._show_note()
        self._update_text()
        self.grid.setFocus()

    def _make_foot(self) -> None:
        """What was taken so far, and the other ways to fill the diary."""
        self.from_file = button(self.tr("From a table…"))
        self.from_file.setAutoDefault(False)
        self.from_file.setToolTip(self.tr("A CSV file with a date column and one for each remedy"))
        self.from_file.clicked.connect(self.read_table)
        self.from_sheet = button(self.tr("Read a sheet…"))
        self.from_sheet.setToolTip(self.tr("Photos or scans of the diary sheet that was given"))
        self.from_sheet.clicked.connect(self.read_sheet)
        line = QHBoxLayout()
        line.addWidget(self.figure, 1)
        line.addWidget(self.from_sheet)
        line.addWidget(self.from_file)
        self.foot.addLayout(line)
        self.from_sheet.setVisible(self._open_sheets is not None)

    def _note_line(self) -> QHBoxLayout:
        """The field for the note of the day in hand; Enter goes back to the grid."""
        self.note_day = text_label("", Role.QUIET)
        self.note = QLineEdit()
        self.note.setMaxLength(LONGEST_NOTE)
        self.note.setPlaceholderText(self.tr("What the client said of this day"))
        self.note.textEdited.connect(lambda typed: self.model.set_note(self._row, typed))
        self.grid.note_wanted.connect(self.note.setFocus)
        line = QHBoxLayout()
        line.addWidget(self.note_day)
        line.addWidget(self.note, 1)
        return line

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter in the note go back to the grid, instead of saving all."""
        is_done = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        if event.key() in _ENTERS and self.focusWidget() is self.note and not is_done:
            self.grid.setFocus()
        else:
            super().keyPressEvent(event)

    @property
    def _row(self) -> int:
        return self.grid.currentIndex().row()

    def _show_note(self) -> None:
        """Show what is said of the day in hand; the field is left alone while it is typed into."""
        self.note.setEnabled(self._row >= 0)
        if self._row < 0:
            return
        day = short_day(self.model.days[self._row])
        self.note_day.setText(self.tr("Note for {day}").format(day=day))
        self.note.setAccessibleName(self.note_day.text())
        if self.note.text() != self.model.note(self._row):
            self.note.setText(self.model.note(self._row))

    def read_table(self) -> None:
        """Key in what a table holds, to be looked at before it is saved."""
        kinds = self.tr("Tables (*.csv *.txt)")
        path = ask_for_file(self, self.tr("A diary kept as a table"), kinds=kinds)
        if path is None:
            return
        reading = self.model.reading
        try:
            reported = read_diary_file(path, reading.course, reading.measures)
        except DiaryFileError as error:
            title = self.tr("{name} cannot be read").format(name=error.name)
            message_dialog(self, title, "\n".join(error.problems)).exec()
            return
        self.take_in(reported)

    def read_sheet(self) -> None:
        """Key in what photos of sheets hold, once what is unclear was looked at."""
        if self._open_sheets is None or (dialog := self._open_sheets(self)) is None:
            return
        dialog.keep_draft_within(self, "sheet")
        if dialog.exec() == QDialog.DialogCode.Accepted:
            self.take_in(dialog.reported())
        dialog.deleteLater()

    def take_in(self, reported: Reported) -> None:
        """Key in what was reported; what the diary holds otherwise is asked about first."""
        differing = self.model.differing(reported)
        over = bool(differing) and confirm(
            self,
            self.tr("Entries that differ from the diary: {n}").format(n=differing),
            self.tr("What is saved stays on record; what you choose now counts."),
            do=self.tr("Take the new ones"),
            stay=self.tr("Keep the diary as it is there"),
        )
        self.model.take_in(reported, over_saved=over)
        if outside := self.model.outside(reported):
            left = self.tr("Entries left out, outside the days up to today: {n}.")
            self.figure.setText(f"{self.figure.text()} {left.format(n=outside)}")

    def draft_fields(self) -> Fields:
        """What was keyed in and not saved."""
        return {"diary": self.model}

    def is_changed(self) -> bool:
        """Whether anything was keyed in that is not saved."""
        return bool(self.model.draft or self.model.notes or self.model.scores)

    def reject(self) -> None:
        """Leave, to finish later; asks only where the draft cannot be kept."""
        if self.draft is not None and self.draft.keep():
            QDialog.reject(self)
        else:
            super().reject()

    def _letters(self) -> str:
        """Remedies and advice by their letters; no name is parted from its letter."""
        return "   ".join(
            f"{self.model.headerData(n, Qt.Orientation.Horizontal)} {name}".replace(" ", NO_BREAK)
            for n, name in enumerate(self.model.names)
        )

    def _update_text(self) -> None:
        entries = self.model.with_draft()
        report = self.model.reading.adherence(entries)
        overall = report.overall if report else None
        if overall is None or not overall.due:
            self.figure.setText(self.tr("No entry yet."))
        else:
            self.figure.setText(self._figure(overall) + self._not_saved())
        self.main_button.setEnabled(bool(self.model.keyed_in))

    def _figure(self, overall: Adherence) -> str:
        """What was taken of what was due, in percent where enough days have an entry."""
        if overall.proportion is None:
            text = self.tr("{taken} of {due} due doses taken; too few days have an entry yet.")
        else:
            text = self.tr("{percent} of due doses taken ({taken} of {due}).")
        percent = "" if overall.proportion is None else f"{round(overall.proportion * 100)} %"
        return text.format(percent=percent, taken=overall.taken, due=overall.due)

    def _not_saved(self) -> str:
        keyed = self.model.keyed_in
        if not keyed:
            return ""
        return " " + self.tr("Entries not saved yet: {n}.").format(n=keyed)
