"""Give to client: choices with a look at the papers beside them; prints, saves, says where."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLineEdit,
    QScrollArea,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.course.giving.done import SavedFiles, open_file
from sennight.desktop.course.giving.fields import GiveFields
from sennight.desktop.course.giving.request import HandoutRequest
from sennight.desktop.kit.choices import Choices
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.file_dialogs import ask_for_folder, documents_folder
from sennight.desktop.kit.forms import MOST_IN_A_PATH, FieldRow
from sennight.desktop.kit.paper_preview import PapersPreview
from sennight.desktop.kit.printing import print_papers
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, text_label
from sennight.domain.directions.plain_words import listed
from sennight.domain.papers import PaperKind
from sennight.practice.card import practice_card
from sennight.practice.diaries import diary, scores
from sennight.practice.given_papers import GiveChoices, Reported, printed_papers
from sennight.practice.giving import (
    for_phone,
    give,
    last_given,
    left_over,
    planned_files,
    reading_to_give,
    record_printed,
)
from sennight.practice.opening import MissingRecordError, PracticeFileError
from sennight.practice.papers import Paper, UnwrittenError, write_again
from sennight.practice.reminding import Reminders, reminders, usual_choices
from sennight.practice.returned import told_by_what_is_left
from sennight.practice.safety import UnacceptedError
from sennight.practice.supplying import Reorders, lasting_for, reorders_of
from sennight.practice.writing import FolderError

_MOST_NAMED = 2
"""So many calendar files of earlier times are named."""
_BESIDE = (0, 0, 1, 2)
"""What is seen beside each page of the choices: the papers, the reminders, the files."""
_REFUSED = (ValueError, MissingRecordError, PracticeFileError, UnacceptedError)


class GiveDialog(FormDialog):
    """Chooses papers, reminders and folder, with a look at what they come to; then gives."""

    def __init__(self, to: HandoutRequest, theme: Theme, parent: QWidget | None = None) -> None:
        self.print_button = button(translate("GiveDialog", "Print…"))
        super().__init__(
            parent,
            translate("GiveDialog", "Handout and reminders"),
            do=translate("GiveDialog", "Save files"),
        )
        self.to = to
        self.is_done = False
        self.paths: tuple[Path, ...] = ()
        self._kept: tuple[int, GiveChoices] | None = None
        reading = reading_to_give(to.practice, to.course_id, to.reading)
        reported = Reported(
            diary(to.practice, to.course_id),
            scores(to.practice, to.course_id),
            told_by_what_is_left(to.practice, to.course_id, reading),
        )
        self._known = practice_card(to.practice), reported, reading
        self.fields = GiveFields(usual_choices(to.course))
        # Without its folder a subscribed phone would stay on what it was told before, unsaid.
        self.fields.subscribed.setText(last_given(to.practice, to.course_id).subscribed_in)
        self.papers = PapersPreview(self._make)
        self.saved = SavedFiles()
        self.tabs = Choices((), theme)
        self._build()
        self.fields.changed.connect(self.preview)
        self.folder.textChanged.connect(self.preview)
        self.print_button.clicked.connect(self.print_them)
        self.preview()

    def _buttons(self) -> QHBoxLayout:
        row = super()._buttons()
        row.insertWidget(1, self.print_button)
        return row

    def _build(self) -> None:
        self.heading.hide()  # the window's title says it, and large text needs the room
        self.summary_label = text_label("", wrap=True)
        self.phone_label = text_label("", wrap=True)
        self.status = text_label("", Role.ALARM, wrap=True)
        self.folder = QLineEdit(str(documents_folder()))
        self.folder.setMaxLength(MOST_IN_A_PATH)
        self.choose = button(self.tr("Choose a folder…"))
        self.choose.clicked.connect(self._choose_folder)
        self.folder_row = FieldRow(self.tr("Folder"), self.folder)
        self.left, self.right = QStackedWidget(), QStackedWidget()
        expanding = QSizePolicy.Policy.Expanding
        self.right.setSizePolicy(expanding, expanding)  # a page is to be read
        names = []
        for name, page in self.fields.pages():
            names.append((name, ""))
            self.left.addWidget(page)
        for seen in (self.papers, _scrolled(self.phone_label), _scrolled(self.summary_label)):
            self.right.addWidget(seen)
        self.tabs.show_texts(tuple(names), 0)
        self.tabs.chosen.connect(self._turn_to)
        row = QHBoxLayout()
        row.addWidget(self.folder_row, 1)
        row.addWidget(self.choose, 0, Qt.AlignmentFlag.AlignBottom)
        self.where = QWidget()
        self.where.setLayout(row)
        row.setContentsMargins(0, 0, 0, 0)
        self.body = QStackedWidget()
        self.choosing = self._choosing()
        self.body.addWidget(self.choosing)
        self.body.addWidget(self.saved)
        self.foot.addWidget(self.status)
        self.save_height()
        self.set_body(self.body, columns=130, lines=44)

    def _choosing(self) -> QWidget:
        chooser, choosing = QWidget(), QWidget()
        column, halves = QVBoxLayout(chooser), QHBoxLayout(choosing)
        for layout in (column, halves):
            layout.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.tabs)
        column.addSpacing(self.fontMetrics().height() // 2)
        column.addWidget(self.left)
        column.addStretch(1)
        column.addWidget(self.where)
        halves.setSpacing(self.fontMetrics().height() * 2)
        halves.addWidget(chooser, 1)
        halves.addWidget(self.right, 1)
        return choosing

    def _turn_to(self, page: int) -> None:
        self.left.setCurrentIndex(page)
        self.right.setCurrentIndex(_BESIDE[page])

    def _choose_folder(self) -> None:
        folder = ask_for_folder(self, self.tr("Folder"), self.folder.text())
        if folder:
            self.folder.setText(str(folder))

    def _make(self) -> tuple[Paper, ...]:
        """The papers as they would be printed now; on another thread."""
        card, known, reading = self._known
        return printed_papers(reading, card, known, self._now_chosen)

    def preview(self) -> None:
        """Show what would be printed and saved, and what the client would be told."""
        if self.is_done:
            return
        self._now_chosen = choices = self.fields.choices()
        card, known, reading = self._known
        before = last_given(self.to.practice, self.to.course_id)
        self._known = (card, known, for_phone(reading, before, choices))
        self._tell("")
        self.folder_row.explain("")
        self.print_button.setEnabled(bool(choices.parts - {PaperKind.REMINDERS}))
        self.main_button.setEnabled(False)
        self.papers.refresh()
        try:
            plan = self._plan(choices)
        except ValueError as error:
            self._tell(str(error))
            return
        files = planned_files(self.to.practice, self.to.reading, plan, choices)
        printed = replace(choices, parts=choices.parts - {PaperKind.REMINDERS}, email=False)
        papers = planned_files(self.to.practice, self.to.reading, plan, printed)
        self.print_button.setEnabled(bool(papers))
        self.main_button.setEnabled(bool(files) and bool(self.folder.text().strip()))
        self._say_files(files)
        self._say_reminders(plan, choices)

    def _plan(self, choices: GiveChoices) -> Reminders:
        return reminders(
            self.to.reading.layout,
            last_given(self.to.practice, self.to.course_id),
            now=self.to.now,
            today=self.to.today,
            choices=replace(choices.reminders, reorders=self._reorders()),
            fresh=choices.fresh,
        )

    def _reorders(self) -> Reorders:
        layout = self.to.reading.layout
        return reorders_of(layout.course, lasting_for(self.to.practice, layout))

    def _say_files(self, planned: tuple[str, ...]) -> None:
        if not planned:
            self.summary_label.setText(self.tr("Nothing can be made of what is ticked."))
            return
        text = (
            self.tr("1 file will be saved:")
            if len(planned) == 1
            else self.tr("{count} files will be saved:")
        )
        lines = (text.format(count=len(planned)), *planned)
        self.summary_label.setText("\n".join(lines))

    def _say_reminders(self, plan: Reminders, choices: GiveChoices) -> None:
        """What the phone gets, and what to tell the client with it."""
        if PaperKind.REMINDERS not in choices.parts:
            self._note = ""
            self.phone_label.setText(self.tr("The phone gets nothing."))
            return
        told = (f"{words[:1].upper()}{words[1:]}." for words in (plan.changes, *plan.notices))
        self._note = self.tr("Tell the client: ") + plan.note
        self.phone_label.setText("\n\n".join((*told, self._note)))

    def _tell(self, words: str) -> None:
        self.status.setText(words)
        self.status.setVisible(bool(words))

    def print_them(self) -> None:
        """Ask for a printer, keep the papers on record, then print them."""
        self.papers.finish()
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        dialog = QPrintDialog(printer, self)
        if dialog.exec() != QPrintDialog.DialogCode.Accepted:
            self.papers.refresh()
            return
        try:
            papers = record_printed(
                self.to.practice,
                self.to.course_id,
                now=self.to.now,
                today=self.to.today,
                choices=self.fields.choices(),
            )
        except _REFUSED as error:
            self._tell(str(error))
            return
        pages = print_papers(papers, printer)
        text = self.tr("{pages} pages were sent to the printer, and are kept under Given.")
        failed = self.tr(
            "Nothing was printed. The papers are kept under Given, and can be saved "
            "and printed from there."
        )
        self._tell(text.format(pages=pages) if pages else failed)

    def submit(self) -> None:
        """Write the files, then show where they are; the second press opens the first."""
        if self.is_done:
            open_file(self.paths[0])
            return
        self.papers.finish()
        folder = Path(self.folder.text().strip()).expanduser()
        try:
            self.paths = self._write(folder)
        except UnwrittenError as error:
            self._kept = error.number, self.fields.choices()
            self.folder_row.wrong(str(error))
        except FolderError as error:
            self.folder_row.wrong(str(error))
        except _REFUSED as error:
            self._tell(str(error))
        else:
            self._done()

    def _write(self, folder: Path) -> tuple[Path, ...]:
        """Give the papers; those that are on record already are written as they were kept."""
        choices = self.fields.choices()
        if self._kept is not None and self._kept[1] == choices:
            return write_again(self.to.practice, self._kept[0], folder)
        return give(
            self.to.practice,
            self.to.course_id,
            folder,
            now=self.to.now,
            today=self.to.today,
            choices=choices,
        )

    def _left_over(self) -> str:
        """Which calendar files of an earlier time the client should not get as well."""
        names = left_over(self.to.practice, self.to.course_id, self.paths)
        if not names:
            return ""
        text = self.tr(
            " Older calendar files are in this folder: {names}. Send only the new ones, "
            "or the phone reminds twice."
        )
        shown = [*names[:_MOST_NAMED], *([self.tr("older ones")] if names[_MOST_NAMED:] else [])]
        return text.format(names=listed(shown))

    def _done(self) -> None:
        self.is_done = True
        self.heading.setText(self.tr("Saved"))
        self.heading.show()
        name = last_given(self.to.practice, self.to.course_id).calendar_name
        self.saved.show_files(self.paths, f"{self._note}{self._left_over()}", name)
        self.body.removeWidget(self.choosing)  # or what is saved would need its height
        self.choosing.setParent(self)
        self.choosing.hide()
        self.body.setCurrentWidget(self.saved)
        self.print_button.hide()
        self._tell("")
        self.main_button.setText(self.tr("Open the sheet"))
        self.main_button.setEnabled(True)
        self.leave_button.setText(self.tr("Close"))

    def done(self, result: int) -> None:
        """Close, once nothing is worked out any more."""
        self.papers.finish()
        super().done(result)


def _scrolled(label: QWidget) -> QWidget:
    """Words that may be longer than there is room."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    label.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
    inner = QWidget()
    layout = QVBoxLayout(inner)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.addWidget(label)
    layout.addStretch(1)
    area.setWidget(inner)
    return area
