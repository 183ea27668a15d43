"""Give to client: says what will be written and told, writes it, and says where it is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from PySide6.QtCore import QStandardPaths, Qt, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFileDialog,
    QHBoxLayout,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.course.handing_over import HandOverDialog
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, text_label
from sennight.domain.courses.courses import Course
from sennight.domain.directions.plain_words import listed
from sennight.domain.reminders.events import ReminderChoices
from sennight.practice.course_reading import CourseReading
from sennight.practice.giving import (
    GiveChoices,
    give,
    last_given,
    left_over,
    planned_files,
)
from sennight.practice.opening import MissingRecordError, OpenPractice, PracticeFileError
from sennight.practice.papers import UnwrittenError, write_again
from sennight.practice.reminding import Reminders, reminders, usual_choices
from sennight.practice.safety import UnacceptedError
from sennight.practice.writing import FolderError

PAPERS = ("A4", "Letter")
_MOST_NAMED = 2
"""So many calendar files of earlier times are named."""


def _path(text: str) -> Path | None:
    """The folder that was typed, None for none."""
    return Path(text.strip()).expanduser() if text.strip() else None


def _kilobytes(size: int) -> str:
    return f"{max(1, round(size / 1024))}\u00a0kB"


@dataclass(frozen=True, slots=True)
class HandoutRequest:
    """The course that is given, out of which practice, and when."""

    practice: OpenPractice
    course_id: str
    reading: CourseReading
    now: datetime

    @property
    def course(self) -> Course:
        """The course itself."""
        return self.reading.course

    @property
    def today(self) -> date:
        """The day it is given."""
        return self.now.date()


class GiveDialog(FormDialog):
    """Chooses paper, folder and reminders; previews, then writes."""

    def __init__(self, to: HandoutRequest, parent: QWidget | None = None) -> None:
        super().__init__(
            parent,
            translate("GiveDialog", "Handout and reminders"),
            do=translate("GiveDialog", "Save files"),
        )
        self.to = to
        self.is_done = False
        self._kept: tuple[int, GiveChoices] | None = None
        self.paths: tuple[Path, ...] = ()
        self._build()
        self._lay_out_body()
        self.preview()

    def _build(self) -> None:
        usual = usual_choices(self.to.course)
        documents = QStandardPaths.StandardLocation.DocumentsLocation
        self.folder = QLineEdit(QStandardPaths.writableLocation(documents))
        self.choose = button(self.tr("Choose a folder…"))
        self.choose.clicked.connect(self._choose_folder)
        self.paper = QComboBox()
        self.paper.addItems(PAPERS)
        self.zone = QLineEdit(usual.zone or "")
        self.alarm = QLineEdit(str(usual.alarm if usual.alarm is not None else ""))
        self.joined = QLineEdit(str(usual.join_within))
        self.discreet = QCheckBox(self.tr("Hide remedy names on the lock screen"))
        self.markers = QCheckBox(self.tr("Also add phases, days off and reviews"))
        self.markers.setChecked(usual.markers)
        self.by_phase = QCheckBox(self.tr("One calendar file per phase"))
        self.fresh = QCheckBox(
            self.tr("Send a fresh calendar (if the phone shows reminders twice)")
        )
        self.named = QCheckBox(self.tr("The client's name in the files' names"))
        self.signs = QCheckBox(self.tr("Print □ for letters this font lacks"))
        self.email = QCheckBox(self.tr("Also save an e-mail with the calendar attached"))
        self.subscribed = QLineEdit()
        self.phone_button = button(self.tr("To the phone…"))
        self.phone_button.clicked.connect(self._hand_over)
        self.phone_button.setVisible(False)
        calendar = (self.discreet, self.markers, self.by_phase, self.fresh, self.email)
        self.boxes = (*calendar, self.named, self.signs)
        for field in (self.folder, self.zone, self.alarm, self.joined, self.subscribed):
            field.textChanged.connect(self.preview)
        for box in self.boxes:
            box.toggled.connect(self.preview)
        self.paper.currentIndexChanged.connect(self.preview)

    def _lay_out_body(self) -> None:
        form = FieldForm()
        self.folder_row = form.row(self.tr("Folder"), self.folder)
        line = QHBoxLayout()
        line.addWidget(self.choose)
        line.addStretch(1)
        form.line(
            (self.tr("Paper"), self.paper),
            (self.tr("Time zone (empty: the phone’s own)"), self.zone),
        )
        self.alarm_row, self.joined_row = form.line(
            (self.tr("Alert, minutes before a dose (empty: none)"), self.alarm),
            (self.tr("Combine doses within minutes"), self.joined),
        )
        form.row(
            self.tr("Folder kept in step with the phone, for a subscribed calendar (optional)"),
            self.subscribed,
        )
        self.summary_label = text_label("", wrap=True)
        self.note = text_label("", Role.QUIET, wrap=True)
        body = QWidget()
        room = QVBoxLayout(body)
        room.setContentsMargins(0, 0, 0, 0)
        room.addLayout(line)
        room.addWidget(form)
        room.addSpacing(self.fontMetrics().height() // 2)
        for box in self.boxes:
            room.addWidget(box)
        # Beneath the fields, not in the foot, which would leave large text no room for the fields.
        room.addWidget(self.note)
        for part in (self.summary_label, self.phone_button):
            self.foot.addWidget(part)
        room.addStretch(1)
        self.set_body(body, columns=92, lines=38)

    def _choose_folder(self) -> None:
        folder = QFileDialog.getExistingDirectory(self, self.tr("Folder"), self.folder.text())
        if folder:
            self.folder.setText(folder)

    def choices(self) -> GiveChoices:
        """What was chosen; raises ValueError where minutes cannot be read."""
        alarm = self.alarm.text().strip()
        return GiveChoices(
            ReminderChoices(
                zone=self.zone.text().strip() or None,
                discreet=self.discreet.isChecked(),
                alarm=int(alarm) if alarm else None,
                join_within=int(self.joined.text().strip() or 0),
                markers=self.markers.isChecked(),
                by_phase=self.by_phase.isChecked(),
            ),
            paper=self.paper.currentText(),
            fresh=self.fresh.isChecked(),
            named=self.named.isChecked(),
            replace_missing=self.signs.isChecked(),
            email=self.email.isChecked(),
            subscribed=_path(self.subscribed.text()),
        )

    def _check_minutes(self) -> bool:
        wrong = False
        for row, field in ((self.alarm_row, self.alarm), (self.joined_row, self.joined)):
            text = field.text().strip()
            if text and not (text.isdecimal() and int(text) <= 1440):
                row.wrong(self.tr("Enter minutes, from 0 to 1440"))
                wrong = True
            else:
                row.explain("")
        return not wrong

    def preview(self) -> None:
        """Say what would be written, and what the client would be told."""
        if self.is_done:
            return
        can = self._check_minutes() and bool(self.folder.text().strip())
        self.main_button.setEnabled(can)
        if not can:
            return
        choices = self.choices()
        try:
            plan = reminders(
                self.to.reading.layout,
                last_given(self.to.practice, self.to.course_id),
                now=self.to.now,
                today=self.to.today,
                choices=choices.reminders,
                fresh=choices.fresh,
            )
        except ValueError as error:
            self._update_text(str(error), "")
            self.main_button.setEnabled(False)
            return
        text = self._files(plan, choices)
        changes = plan.changes
        notices = "".join(f" {notice[:1].upper()}{notice[1:]}." for notice in plan.notices)
        changes = f"{changes[:1].upper()}{changes[1:]}.{notices}"
        self._update_text(f"{text} {changes}", self._client(plan.note))

    def _files(self, plan: Reminders, choices: GiveChoices) -> str:
        """Which files will be written, and how large the calendar files are."""
        planned = planned_files(
            self.to.practice, self.to.course, plan, choices, today=self.to.today
        )
        files = [
            f"{name} ({choices.paper})" if size is None else f"{name} ({_kilobytes(size)})"
            for name, size in planned.items()
        ]
        text = self.tr("{count} files will be saved: {names}.")
        return text.format(count=len(files), names=listed(files))

    def _left_over(self) -> str:
        """Which calendar files of an earlier time the client should not get as well."""
        names = left_over(self.to.practice, self.to.course_id, self.paths)
        if not names:
            return ""
        text = self.tr(
            " Calendar files of an earlier time are still in the folder: {names}. Do not give "
            "them as well, or the phone reminds twice."
        )
        shown = [*names[:_MOST_NAMED], *([self.tr("older ones")] if names[_MOST_NAMED:] else [])]
        return text.format(names=listed(shown))

    def _calendars(self) -> list[Path]:
        """The calendar files for the client, without the one that a phone is subscribed to."""
        folder = self.paths[0].parent
        own = (path for path in self.paths if path.parent == folder)
        return [path for path in own if path.suffix == ".ics"]

    def _hand_over(self) -> None:
        """Show a code of the calendar file to the phone in the room."""
        (calendar,) = self._calendars()
        name = last_given(self.to.practice, self.to.course_id).calendar_name
        HandOverDialog(calendar, name, self).exec()

    def _client(self, note: str) -> str:
        return self.tr("Tell the client: ") + note

    def _update_text(self, text: str, note: str) -> None:
        self.summary_label.setText(text)
        self.note.setText(note)
        self.note.setVisible(bool(note))

    def submit(self) -> None:
        """Write the files, then show where they are; the second press opens the sheet."""
        if self.is_done:
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(self.paths[0])))
            return
        note, folder = self.note.text(), Path(self.folder.text().strip()).expanduser()
        try:
            self.paths = self._write(folder)
        except UnwrittenError as error:
            self._kept = error.number, self.choices()
            self.folder_row.wrong(str(error))
        except FolderError as error:
            self.folder_row.wrong(str(error))
        except (ValueError, MissingRecordError, PracticeFileError, UnacceptedError) as error:
            self._update_text(str(error), "")
        else:
            self._done(note)

    def _write(self, folder: Path) -> tuple[Path, ...]:
        """Give the papers; those that are on record already are written as they were kept."""
        if self._kept is not None and self._kept[1] == self.choices():
            return write_again(self.to.practice, self._kept[0], folder)
        return give(
            self.to.practice,
            self.to.course_id,
            folder,
            now=self.to.now,
            today=self.to.today,
            choices=self.choices(),
        )

    def _done(self, note: str) -> None:
        self.is_done = True
        self.heading.setText(self.tr("Saved"))
        self.foot.insertWidget(1, self.note)  # what to tell the client is what counts now
        self._update_text(
            "\n".join(str(path) for path in self.paths), f"{note}{self._left_over()}"
        )
        self.summary_label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.main_button.setText(self.tr("Open the sheet"))
        self.leave_button.setText(self.tr("Close"))
        fields = (self.folder, self.choose, self.paper, self.zone, self.alarm, self.joined)
        for field in (*fields, self.subscribed):
            field.setEnabled(False)
        self.phone_button.setVisible(len(self._calendars()) == 1)
        for box in self.boxes:
            box.setEnabled(False)
