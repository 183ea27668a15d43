"""What the client reports of a course: the diary and the scores, keyed in and saved."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from functools import partial

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QDialog

from sennight.desktop.course.diary.diary import DiaryDialog
from sennight.desktop.course.diary.diary_model import DiaryModel
from sennight.desktop.course.diary.left import LeftDialog
from sennight.desktop.course.diary.scores import ScoresDialog
from sennight.desktop.course.diary.scores_model import ScoresModel
from sennight.desktop.course.diary.sheet_dialog import SheetDialog
from sennight.desktop.course.session import Session
from sennight.desktop.course.view import CourseView
from sennight.desktop.kit.short_dialogs import message_dialog
from sennight.desktop.kit.theme import Theme
from sennight.practice.diaries import (
    DiaryError,
    diary,
    enter_scores,
    enter_whole_diary,
    scores,
    whole_diary,
)
from sennight.practice.given_sheets import given_sheets, keep_pictures
from sennight.practice.opening import MissingRecordError, OpenPractice, PracticeFileError
from sennight.practice.returned import (
    ReturnedError,
    enter_returned,
    had_at_home,
    returned_of,
)
from sennight.practice.sheet_pages import SeenPage
from sennight.practice.supplying import lasting_for


class ClientRecords(QObject):
    """Brings up the dialogs, saves what was keyed in, and shows what it comes to.

    `course_id` saves first what the page has not saved yet.
    """

    saved = Signal()

    def __init__(
        self,
        practice: OpenPractice,
        course_id: Callable[[], str],
        session: Session,
        view: CourseView,
        theme: Theme,
        *,
        now: Callable[[], datetime],
    ) -> None:
        super().__init__(view)
        self._now = now
        self._practice, self.course_id = practice, course_id
        self._session, self._view, self.theme = session, view, theme

    def enter_diary(self) -> None:
        """Key the client's diary in; what is not saved stays as a draft."""
        self._enter_diary(None)

    def enter_diary_on(self, day: date) -> None:
        """The same, with a day in hand."""
        self._enter_diary(day)

    def _enter_diary(self, day: date | None) -> None:
        saved = whole_diary(self._practice, self.course_id())
        model = DiaryModel(self._session.reading, saved, {}, self._view)
        dialog = DiaryDialog(model, self.theme, self._view, self._sheets)
        if day is not None:
            dialog.grid.go_to(day)
        self._session.keep_draft(dialog, "diary")
        dialog.is_saved_later = True
        if dialog.exec() == QDialog.DialogCode.Accepted and self.save_diary(model):
            dialog.forget_draft()
        dialog.deleteLater()

    def _sheets(self, diary_dialog: DiaryDialog) -> SheetDialog | None:
        """The dialog that reads sheets, or None where those that were given cannot be opened."""
        reading = self._session.reading
        names = {remedy.id: remedy.name for remedy in reading.course.remedies}
        try:
            sheets = given_sheets(self._practice, self.course_id())
        except (MissingRecordError, PracticeFileError) as error:
            title = self.tr("The diary sheets that were given cannot be opened")
            message_dialog(diary_dialog, title, str(error)).exec()
            return None
        for measure in sheets.measures:
            known = reading.measures.of(measure)
            names[measure] = known.name if known else measure
        keep = partial(self._keep_pictures, today=reading.today)
        return SheetDialog(sheets, names, self.theme, keep, diary_dialog)

    def _keep_pictures(self, number: int, pages: tuple[SeenPage, ...], *, today: date) -> None:
        keep_pictures(self._practice, number, pages, today=today)
        self.saved.emit()

    def save_diary(self, model: DiaryModel) -> bool:
        """Save what was keyed in, and show what it comes to; whether that was done."""
        try:
            reported, withdrawn = model.reported(), model.withdrawn()
            enter_whole_diary(self._practice, self.course_id(), reported, withdrawn=withdrawn)
        except (DiaryError, MissingRecordError, PracticeFileError) as error:
            self._session.refused.emit(str(error))
            return False
        self._view.consequences.refresh_diary(diary(self._practice, self.course_id()))
        if model.scores:
            self._show_scores()
        self.saved.emit()
        return True

    def enter_scores(self) -> None:
        """Key the client's scores in; what is not saved stays as a draft."""
        self._enter_scores(None)

    def enter_scores_on(self, day: date) -> None:
        """The same, with a day in hand."""
        self._enter_scores(day)

    def _enter_scores(self, day: date | None) -> None:
        model = ScoresModel(
            self._session.reading, scores(self._practice, self.course_id()), self._view
        )
        dialog = ScoresDialog(model, self.theme, self._view)
        if day is not None:
            dialog.grid.go_to_day(day)
        self._session.keep_draft(dialog, "scores")
        dialog.is_saved_later = True
        if dialog.exec() == QDialog.DialogCode.Accepted and self.save_scores(model):
            dialog.forget_draft()
        dialog.deleteLater()

    def save_scores(self, model: ScoresModel) -> bool:
        """Save the scores that were keyed in; whether that was done."""
        entered, withdrawn = model.entered(), model.withdrawn()
        try:
            enter_scores(
                self._practice,
                self.course_id(),
                entered,
                withdrawn=withdrawn,
                own=model.own.values(),
            )
        except (DiaryError, MissingRecordError, PracticeFileError) as error:
            self._session.refused.emit(str(error))
            return False
        if model.own:
            self._session.reading = replace(self._session.reading, measures=model.known)
        self._show_scores()
        self.saved.emit()
        return True

    def enter_left(self) -> None:
        """Key in what is left of each remedy; what was not saved stays as a draft."""
        course = self.course_id()
        had = had_at_home(self._practice, course)
        if not had:
            text = self.tr("Nothing was handed over for this course yet, so nothing can be left.")
            self._session.refused.emit(text)
            return
        today = self._session.reading.today
        dialog = LeftDialog(course, had, returned_of(self._practice, course), today, self._view)
        self._session.keep_draft(dialog, "left")
        dialog.is_saved_later = True
        if dialog.exec() == QDialog.DialogCode.Accepted and self.save_left(dialog):
            dialog.forget_draft()
        dialog.deleteLater()

    def save_left(self, dialog: LeftDialog) -> bool:
        """Save what was counted, and show until when it lasts; whether that was done."""
        today = self._session.reading.today
        try:
            enter_returned(
                self._practice, dialog.kept, dialog.withdrawn, today=today, now=self._now()
            )
        except (ReturnedError, MissingRecordError, PracticeFileError) as error:
            self._session.refused.emit(str(error))
            return False
        lasts = lasting_for(self._practice, self._session.reading.layout)
        self._view.consequences.refresh_supply(self._session.reading, lasts)
        self.saved.emit()
        return True

    def _show_scores(self) -> None:
        self._view.consequences.refresh_scores(
            self._session.reading, scores(self._practice, self.course_id())
        )
