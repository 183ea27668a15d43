"""A course out of its page: as a protocol, as a course file, and its diary as a table."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.file_dialogs import ask_where
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.short_dialogs import choose, message_dialog
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.parts.counting import counted_remedies
from sennight.desktop.parts.shelf_name import ShelfNameForm
from sennight.domain.courses.courses import Course
from sennight.domain.directions.plain_words import counted
from sennight.practice.diary_tables import write_diary_file
from sennight.practice.giving import file_stem
from sennight.practice.importing import (
    save_as_protocol,
    template_of,
    write_course_file,
)
from sennight.practice.opening import MissingRecordError, OpenPractice, PracticeFileError
from sennight.practice.writing import FolderError

TOML = "TOML (*.toml)"
CSV = "CSV (*.csv)"


class SaveAsProtocolDialog(FormDialog):
    """Asks for the name under which a course's protocol goes onto the shelf."""

    def __init__(self, practice: OpenPractice, course: Course, parent: QWidget | None) -> None:
        super().__init__(
            parent,
            translate("SaveAsProtocolDialog", "Save as protocol"),
            do=translate("SaveAsProtocolDialog", "Save"),
        )
        self._course = course
        self.shelf = ShelfNameForm(practice, self.tr("Name"), course.protocol.name)
        self.shelf.keep_together()
        self.foot.addWidget(text_label(self._sentence(), Role.STRONG, wrap=True))
        self.set_body(self.shelf, columns=76, lines=18)
        self.shelf.name.selectAll()
        self.shelf.name.setFocus(Qt.FocusReason.OtherFocusReason)

    def _sentence(self) -> str:
        protocol, remedies = template_of(self._course, "")
        text = self.tr(
            "{phases} and {remedies} are saved to Protocols, without the client and without dates."
        ).format(
            phases=counted(len(protocol.phases), self.tr("phase")),
            remedies=counted_remedies(len(remedies)),
        )
        decisions = len(self._course.revisions)
        if decisions:
            left = self.tr("The {decisions} made for this client are not included.")
            text += " " + left.format(decisions=counted(decisions, self.tr("decision")))
        return text

    def submit(self) -> None:
        """Accept with a name that the shelf does not have yet."""
        if self.shelf.is_right():
            self.accept()


def save_to_shelf(practice: OpenPractice, course: Course, parent: QWidget) -> None:
    """Ask for a name, and put the course's protocol onto the shelf."""
    sheet = SaveAsProtocolDialog(practice, course, parent)
    sheet.keep_draft(practice, "save-as-protocol", course.id)
    saved_from(sheet, lambda: save_as_protocol(practice, course, sheet.shelf.text))
    sheet.deleteLater()


def write_as_file(practice: OpenPractice, course_id: str, course: Course, parent: QWidget) -> None:
    """Say what a course file holds, ask where it goes, and write it."""
    title = translate("Filing", "Save a course file")
    warning = translate(
        "Filing",
        "The file contains the whole course with the client's name, date of birth, conditions, "
        "medicines, allergies, diary and scores, readable by anyone who gets it.",
    )
    path = _asked_where(parent, title, warning, f"{file_stem(course)}.toml", TOML)
    if path is not None:
        _write(parent, partial(write_course_file, practice, course_id, path))


def write_as_table(
    practice: OpenPractice, course_id: str, course: Course, parent: QWidget
) -> None:
    """The same for the diary as a table."""
    title = translate("Filing", "Save the diary as a table")
    warning = translate(
        "Filing",
        "The table contains what the client took, did, rated and said day by day, readable by "
        "anyone who gets it.",
    )
    path = _asked_where(parent, title, warning, f"{file_stem(course)}-diary.csv", CSV)
    if path is not None:
        _write(parent, partial(write_diary_file, practice, course_id, path))


def _asked_where(parent: QWidget, title: str, warning: str, name: str, kind: str) -> Path | None:
    do, stay = translate("Filing", "Choose where…"), translate("Filing", "Cancel")
    if not choose(parent, title, warning, do=do, stay=stay):
        return None
    return ask_where(parent, title, name, kind)


def _write(parent: QWidget, write: Callable[[], Path]) -> None:
    try:
        written = write()
    except (FolderError, MissingRecordError, PracticeFileError) as error:
        message_dialog(parent, translate("Filing", "Could not be saved"), str(error)).exec()
        return
    message_dialog(parent, translate("Filing", "Saved"), str(written)).exec()
