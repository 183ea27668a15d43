"""Bringing a course file in: it is read, told what is in it, and taken as far as wanted."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QComboBox, QVBoxLayout, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.file_dialogs import ask_for_file
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.parts.counting import counted_remedies
from sennight.desktop.parts.phases_view import PhasesView
from sennight.desktop.parts.shelf_name import ShelfNameForm
from sennight.domain.directions.plain_words import counted, plain_date
from sennight.practice.carried_herbs import HerbChoice, HerbMeeting, to_be_asked
from sennight.practice.clients import list_clients
from sennight.practice.importing import (
    CourseFile,
    ImportFileError,
    ImportResult,
    import_course,
    import_protocol,
    read_for_import,
    template_of,
)
from sennight.practice.opening import OpenPractice
from sennight.practice.protocol_files import read_shared
from sennight.practice.protocols import ShelfProtocol


class ProblemsDialog(FormDialog):
    """A file that cannot be used: every problem, each with its place."""

    def __init__(self, parent: QWidget | None, error: ImportFileError) -> None:
        title = translate("ProblemsDialog", "{name} cannot be imported").format(name=error.name)
        super().__init__(parent, title, do=translate("ProblemsDialog", "Close"))
        self.leave_button.hide()
        body = QWidget()
        layout = QVBoxLayout(body)
        layout.setContentsMargins(0, 0, 0, 0)
        for problem in error.problems:
            label = text_label(problem, wrap=True)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            layout.addWidget(label)
        layout.addStretch(1)
        note = self.tr("Nothing was changed. Correct these in the file, and import it again.")
        self.foot.addWidget(text_label(note, Role.QUIET, wrap=True))
        self.set_body(body, columns=92, lines=22 + 2 * len(error.problems))


class ImportDialog(FormDialog):
    """What a course file holds, and how much of it is taken."""

    def __init__(
        self,
        practice: OpenPractice,
        file: CourseFile,
        parent: QWidget | None,
        *,
        protocol_only: bool = False,
    ) -> None:
        super().__init__(
            parent,
            translate("ImportDialog", "Import a protocol")
            if protocol_only
            else translate("ImportDialog", "Import a course file"),
            do=translate("ImportDialog", "Import"),
        )
        self.file = file
        self._same = [
            entry
            for entry in list_clients(practice)
            if entry.client.name.casefold() == file.course.client.name.casefold()
        ]
        self._meetings = to_be_asked(practice, file)
        self._choices: dict[str, QComboBox] = {}
        self._build(practice)
        self.whole.setHidden(protocol_only)
        self._tell()
        self.shelf.name.setFocus(Qt.FocusReason.OtherFocusReason)

    def _build(self, practice: OpenPractice) -> None:
        course = self.file.course
        protocol, remedies = template_of(course, course.protocol.name)
        asked = self.tr("Name of the protocol")
        self.shelf = ShelfNameForm(practice, asked, protocol.name)
        phases = PhasesView()
        phases.show_protocol(ShelfProtocol("", protocol, remedies), course.client)
        self.whole = QCheckBox(
            self.tr("Also {client} and the course from {day}").format(
                client=course.client.name, day=plain_date(course.start)
            )
        )
        self.into = QComboBox()
        self.into.addItem(self.tr("To a new client"), "")
        for entry in self._same:
            template = self.tr("To {name}, whose record stays as it is")
            self.into.addItem(template.format(name=entry.client.name), entry.id)
        self.into.setAccessibleName(self.tr("To which client"))
        self.into.setVisible(False)
        self.message = text_label("", Role.STRONG, wrap=True)
        self.message.setAccessibleName(self.tr("What this does"))
        body = QWidget()
        layout = QVBoxLayout(body)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.shelf)
        layout.addWidget(phases, 1)
        for meeting in self._meetings:
            self._ask_about(meeting)
        for part in (self.whole, self.into, self.message):
            self.foot.addWidget(part)
        self.set_body(body, columns=92, lines=42)
        self.whole.toggled.connect(self._tell)
        self.into.currentIndexChanged.connect(self._tell)

    def _ask_about(self, meeting: HerbMeeting) -> None:
        """Which record of a herb holds, where this practice knows it otherwise."""
        if meeting.is_same_id:
            template = self.tr("The file has other details of your own herb {name}: {what}.")
            told = template.format(name=meeting.ours_name, what=", ".join(meeting.differences))
        else:
            template = self.tr(
                "The file contains its own {name}; you already have a herb of that name."
            )
            told = template.format(name=meeting.theirs.herb.name)
        box = QComboBox()
        box.addItem(self.tr("Choose which to use"), None)
        box.addItem(self.tr("Keep ours"), HerbChoice.OURS)
        box.addItem(
            self.tr("Use the file’s as a new version")
            if meeting.is_same_id
            else self.tr("Keep both"),
            HerbChoice.THEIRS,
        )
        box.setAccessibleName(told)
        self._choices[meeting.theirs.herb.id] = box
        self.foot.addWidget(text_label(told, wrap=True))
        self.foot.addWidget(box)

    @property
    def herbs(self) -> dict[str, HerbChoice]:
        """Which record of each herb that is known otherwise holds; without those not chosen."""
        return {
            herb: HerbChoice(box.currentData())
            for herb, box in self._choices.items()
            if box.currentData() is not None
        }

    @property
    def folder(self) -> str:
        """The id of the folder chosen, empty for a new one."""
        return str(self.into.currentData())

    def _tell(self) -> None:
        self.into.setVisible(self.whole.isChecked() and bool(self._same))
        protocol, remedies = template_of(self.file.course, "")
        phases = counted(len(protocol.phases), self.tr("phase"))
        template = self.tr("A protocol of {phases} with {remedies} is saved to Protocols.")
        sentences = [template.format(phases=phases, remedies=counted_remedies(len(remedies)))]
        if self.whole.isChecked():
            entries = counted(len(self.file.diary), self.tr("diary line"))
            came = self.tr("The course comes with {entries} and {scores}.")
            scores = counted(len(self.file.scores), self.tr("score"))
            sentences.append(came.format(entries=entries, scores=scores))
        self.message.setText(" ".join(sentences))

    def submit(self) -> None:
        """Accept with a name that the shelf does not have yet."""
        unsaid = [box for box in self._choices.values() if box.currentData() is None]
        if unsaid:
            unsaid[0].setFocus(Qt.FocusReason.OtherFocusReason)
        elif self.shelf.is_right():
            self.accept()
        else:
            self.shelf.name.setFocus(Qt.FocusReason.OtherFocusReason)


def import_protocol_file(parent: QWidget | None, practice: OpenPractice) -> str:
    """Ask for a protocol file and put it onto the shelf; its id there, or empty."""
    path = ask_for_file(
        parent,
        translate("BringIn", "Import a protocol"),
        kinds=translate("BringIn", "Protocol files (*.toml)"),
    )
    if path is None:
        return ""
    try:
        file = read_shared(practice, path)
    except ImportFileError as error:
        ProblemsDialog(parent, error).exec()
        return ""
    sheet, results = ImportDialog(practice, file, parent, protocol_only=True), list[ImportResult]()

    def save() -> None:
        name = sheet.shelf.text
        results.append(import_protocol(practice, file, name=name, herbs=sheet.herbs))

    saved_from(sheet, save)
    sheet.deleteLater()
    return results[0].protocol_id if results else ""


def import_file(
    parent: QWidget | None, practice: OpenPractice, now: datetime
) -> ImportResult | None:
    """Ask for a course file and take of it what is wanted; what came in, or None."""
    path = ask_for_file(
        parent,
        translate("BringIn", "Import a course file"),
        kinds=translate("BringIn", "Course files (*.toml)"),
    )
    if path is None:
        return None
    try:
        file = read_for_import(practice, path)
    except ImportFileError as error:
        ProblemsDialog(parent, error).exec()
        return None
    sheet, results = ImportDialog(practice, file, parent), list[ImportResult]()

    def save() -> None:
        if sheet.whole.isChecked():
            folder = sheet.folder
            results.append(
                import_course(
                    practice,
                    file,
                    name=sheet.shelf.text,
                    client_id=folder,
                    herbs=sheet.herbs,
                    now=now,
                )
            )
        else:
            name = sheet.shelf.text
            results.append(import_protocol(practice, file, name=name, herbs=sheet.herbs))

    saved_from(sheet, save)
    sheet.deleteLater()
    return results[0] if results else None
