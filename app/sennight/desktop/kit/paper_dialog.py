"""A paper as it will be, beside what is asked about it: to be printed, or saved."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.paper_preview import PapersPreview
from sennight.desktop.kit.printing import print_papers
from sennight.desktop.kit.save_as import give_one_paper
from sennight.desktop.kit.short_dialogs import message_dialog
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button
from sennight.practice.opening import MissingRecordError, OpenPractice, PracticeFileError
from sennight.practice.papers import About, Paper, record_paper

_COLUMNS, _LINES = 120, 40


class PaperDialog(FormDialog):
    """Asks beside a look at the paper; `answer` has it once it was to be printed or saved.

    Whoever inherits it says in `plan` what the fields come to, and calls `refresh` after a change.
    """

    def __init__(self, parent: QWidget | None, title: str, *, do: str) -> None:
        self.print_button = button(translate("PaperDialog", "Print…"))
        super().__init__(parent, title, do=do)
        self.answer: Paper | None = None
        self.is_for_printer = False
        self.print_button.clicked.connect(self.submit_to_printer)
        self.preview = PapersPreview(lambda: (self._planned(),))
        self.preview.which.hide()  # there is but one
        expanding = QSizePolicy.Policy.Expanding
        self.preview.view.setSizePolicy(expanding, expanding)  # a page is to be read

    def plan(self) -> Callable[[], Paper]:
        """How the paper is made of what the fields hold now; the work may be done elsewhere."""
        raise NotImplementedError

    def _buttons(self) -> QHBoxLayout:
        row = super()._buttons()
        row.insertWidget(1, self.print_button)
        return row

    def show_beside(self, asked: QWidget) -> None:
        """Show what is asked, and the paper beside it."""
        body = QWidget()
        layout = QHBoxLayout(body)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(self.fontMetrics().height() * 2)
        column = QVBoxLayout()
        column.addWidget(asked)
        column.addStretch(1)
        layout.addLayout(column, 1)
        layout.addWidget(self.preview, 1)
        self.set_body(body, columns=_COLUMNS, lines=_LINES)
        self.refresh()

    def refresh(self) -> None:
        """Show the paper as the fields have it, a moment after the last change."""
        self._planned = self.plan()
        self.preview.refresh()

    def submit_to_printer(self) -> None:
        """Done, and it is to be printed."""
        self.is_for_printer = True
        self.submit()

    def submit(self) -> None:
        """Done, and it is to be saved."""
        self.answer = self.plan()()
        self.accept()

    def done(self, result: int) -> None:
        """Close, once nothing is drawn any more."""
        self.preview.finish()
        super().done(result)


def hand_out(
    dialog: PaperDialog, title: str, practice: OpenPractice, about: About, *, now: datetime
) -> bool:
    """Print or save what a dialog came to, and keep it on record; whether that was done."""
    paper, parent = dialog.answer, dialog.parentWidget()
    if paper is None:
        return False
    if dialog.is_for_printer:
        return print_one_paper(parent, practice, about, paper, now=now)
    return give_one_paper(parent, title, practice, about, paper, now=now) is not None


def print_one_paper(
    parent: QWidget | None, practice: OpenPractice, about: About, paper: Paper, *, now: datetime
) -> bool:
    """Ask for a printer, keep the paper on record, then print it; whether it is on record."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    if QPrintDialog(printer, parent).exec() != QPrintDialog.DialogCode.Accepted:
        return False
    failed = translate("Papers", "Could not be printed")
    try:
        record_paper(practice, about, paper, now=now, today=now.date())
    except (MissingRecordError, PracticeFileError) as error:
        message_dialog(parent, failed, str(error)).exec()
        return False
    if not print_papers([paper], printer):
        kept = translate("Papers", "It is kept under Given, and can be saved from there.")
        message_dialog(parent, failed, kept).exec()
    return True
