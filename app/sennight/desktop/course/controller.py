"""One course at work: saves its edits, asks for decisions, and keeps the parts up to date."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from functools import partial

from PySide6.QtCore import QTimer
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QDialog, QVBoxLayout, QWidget

from sennight.desktop.course.consequences.aims import AimsDialog
from sennight.desktop.course.consequences.supply_dialog import SupplyDialog
from sennight.desktop.course.context_menus import ContextMenus
from sennight.desktop.course.deciding import Deciding
from sennight.desktop.course.drafted_formula import (
    remedies_to_give,
    with_formulas_saved,
)
from sennight.desktop.course.giving.dialog import GiveDialog
from sennight.desktop.course.giving.request import HandoutRequest
from sennight.desktop.course.history.looking_back import LookBack
from sennight.desktop.course.history.versions import VersionsDialog
from sennight.desktop.course.lines.line_cells import LineEditRequest
from sennight.desktop.course.lines.running_line import add_to_running
from sennight.desktop.course.records import ClientRecords
from sennight.desktop.course.reviewing import ReviewWork
from sennight.desktop.course.safety.work import ACCEPTING, DISCUSSING, SafetyWork
from sennight.desktop.course.save_as import save_to_shelf, write_as_file, write_as_table
from sennight.desktop.course.session import SaveError, Session
from sennight.desktop.course.view import CourseView
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.short_dialogs import confirm
from sennight.desktop.kit.theme import Theme
from sennight.desktop.red_flags.flags_banner import FlagsBanner
from sennight.domain.courses.compare import Comparison
from sennight.domain.courses.compare_words import sentence
from sennight.domain.courses.courses import Course
from sennight.domain.courses.phase_ends import is_running, move_end
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.courses.plan import LayoutError
from sennight.domain.safety.acting import (
    Act,
    LeaveHerbOut,
    MoveHour,
    SwapHerb,
    moved,
    with_hour_moved,
)
from sennight.practice.course_reading import CourseReading, read_course
from sennight.practice.courses import (
    CourseEntry,
    RevisionsChangedError,
    StaleCourseError,
    course_history,
    save_course,
)
from sennight.practice.diaries import diary, measures, scores
from sennight.practice.dispensary import settings_of
from sennight.practice.drafts import DraftKey
from sennight.practice.opening import MissingRecordError, OpenPractice, PracticeFileError
from sennight.practice.own_herbs import known_herbs
from sennight.practice.pricing import costing_of
from sennight.practice.red_flags import last_check
from sennight.practice.supplying import lasting_for, next_visit

OF_A_PHASE = frozenset({"line", "phase", "rename"})
"""The words of forms that are opened from the phase that stands behind them: `phase/loading`."""


class CourseController(QWidget):
    """A course of a practice, with everything that is done to it."""

    def __init__(
        self,
        practice: OpenPractice,
        entry: CourseEntry,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        undo_stack: QUndoStack,
        now: Callable[[], datetime],
    ) -> None:
        super().__init__(parent)
        self.practice, self._entry, self.theme, self.now = practice, entry, theme, now
        self.session = Session(self._read(entry), self._save, undo_stack=undo_stack, parent=self)
        self.session.keep_draft = self._keep_draft
        self.banner = FlagsBanner(practice, now, self)
        self.banner.apply_theme(theme)
        self.view = CourseView(self.session, theme, self)
        self.safety = SafetyWork(
            practice, self.session, self.view.consequences.safety, self, now=now
        )
        self.records = ClientRecords(
            practice, lambda: self.entry.id, self.session, self.view, theme, now=now
        )
        self.deciding = Deciding(
            practice,
            self.view,
            theme,
            keep_draft=self._keep_draft,
            strike_reaction=self.safety.strike_reaction,
        )
        self.review = ReviewWork(practice, self.session, self.records, self.view)
        room = QVBoxLayout(self)
        room.setContentsMargins(0, 0, 0, 0)
        room.setSpacing(0)
        for part in (self.banner, self.view):
            room.addWidget(part)
        self.menus = ContextMenus(self.view, act=self.act, decide=self.decide)
        self._connect()
        self._show_records()

    def _read(self, entry: CourseEntry) -> CourseReading:
        reading = read_course(
            entry.course,
            today=self.now().date(),
            materia_medica=known_herbs(self.practice),
            standing=last_check(self.practice, entry.client_id),
        )
        return replace(
            reading,
            measures=measures(self.practice, entry.id),
            settings=settings_of(self.practice).supply,
        )

    def open(self, entry: CourseEntry) -> None:
        """Show another course in the same parts; what was not saved of this one is saved."""
        self.session.save_now()
        self.view.lines.keep_typed()
        self.deciding.put_away()
        self.review.close()
        reading = self._read(entry)
        self._entry = entry
        self.session.open(reading)
        self._show_records()

    def _show_records(self) -> None:
        """Show what stands beside the course: red flags, the shelf, the diary, the supply."""
        entry, reading = self._entry, self.session.reading
        self.banner.show_client(entry.client_id)
        self.view.lines.set_shelf(remedies_to_give(self.practice))
        lasts = lasting_for(self.practice, reading.layout)
        taken, rated = diary(self.practice, entry.id), scores(self.practice, entry.id)
        self.view.consequences.supply.costing = costing_of(self.practice)
        self.view.consequences.refresh(reading, taken, lasts, rated)
        self.view.lines.keep_drafts(self.practice, DraftKey("lines", entry.id), self.title)

    @property
    def title(self) -> str:
        """The client and the protocol."""
        return f"{self._entry.client_name} · {self._entry.course.protocol.name}"

    @property
    def today(self) -> date:
        """The day it is here."""
        return self.session.reading.today

    def _connect(self) -> None:
        self.session.changed.connect(
            lambda: self.view.consequences.refresh_after_edit(self.session.reading)
        )
        self.session.refused.connect(self.view.lines.refuse)
        self.session.save_failed.connect(self._offer_again)
        self.view.lines.asked.connect(self.edit)
        self.view.timeline.end_moved.connect(self.move_end)
        self.view.decision_wanted.connect(self.decide)
        self.safety.recorded.connect(self._take_over)
        self.safety.flags_wanted.connect(self.banner.ask)
        self.view.consequences.safety.act_wanted.connect(self.act)
        self.review.wanted.connect(self.decide)
        self.safety.findings_wanted.connect(self.review.leave)
        self.banner.changed.connect(lambda: self.session.stand(self.banner.check))

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.theme = self.records.theme = theme
        self.view.apply_theme(theme)
        self.deciding.apply_theme(theme)
        self.review.apply_theme(theme)
        self.banner.apply_theme(theme)

    # Saving

    @property
    def entry(self) -> CourseEntry:
        """The course as it is saved, with the last edit."""
        self.session.save_now()
        return self._entry

    def _save(self, course: Course) -> None:
        try:
            self._entry = save_course(self.practice, self._entry, course, now=self.now())
        except (
            StaleCourseError,
            RevisionsChangedError,
            LayoutError,
            MissingRecordError,
            PracticeFileError,
        ) as error:
            raise SaveError(str(error)) from error

    def _take_over(self, entry: CourseEntry) -> None:
        """Show the course as something else has saved it."""
        self._entry = entry
        self.session.take_over(entry.course)

    # Edits

    def edit(self, asked: LineEditRequest) -> None:
        """Make an edit; one that would change days that are past is asked about first.

        It is asked about a moment later, when the field that it was typed into is closed.
        """
        try:
            course = with_formulas_saved(self.practice, self.session.course, asked.course, self)
        except PracticeFileError as error:
            self.view.lines.refuse(str(error))
            return
        if course is None:
            self.session.changed.emit()
            return
        asked = replace(asked, course=course)
        past = self.session.past_changes(asked.course)
        if past is None:
            self.session.edit(asked.words, asked.course)
        else:
            QTimer.singleShot(0, self, partial(self.edit_past, asked, past))

    def edit_past(self, asked: LineEditRequest, past: Comparison) -> None:
        """Other directions hold from some day on, as a decision; a line too, in a new phase.

        The rest changes the record.
        """
        session = self.session
        if asked.directions is not None:
            self.deciding.change_directions(asked.remedy, asked.directions)
            session.changed.emit()
        elif asked.added is not None:
            add_to_running(session, asked, past, self)
        elif confirm(
            self,
            self.tr("This changes past days"),
            sentence(past, asked.course),
            do=self.tr("Change the record"),
            stay=self.tr("Cancel"),
        ):
            self.session.edit(asked.words, asked.course)
        else:
            session.changed.emit()

    def _offer_again(self, words: str, course: Course) -> None:
        self.view.lines.offer_again(partial(self.session.edit, words, course))

    def move_end(self, phase: str, end: date) -> None:
        """Let a phase end the day before `end`: an edit, or a decision on a running course."""
        session = self.session
        run = next(run for run in session.reading.layout.phases if run.phase.id == phase)
        if is_running(session.course, self.today):
            days = (end - run.span.end).days
            self.deciding.change_length(phase, days)
            return
        course = move_end(session.reading.layout, phase, end, today=self.today)
        self.session.edit(
            self.tr("Move the end of {phase}").format(phase=phase_title(phase)), course
        )

    # Giving, diary

    def give(self) -> None:
        """Give the course to the client, unless it is empty or a finding stands against it."""
        if not any(phase.lines for phase in self.session.course.protocol.phases):
            self.view.lines.refuse(self.tr("Nothing is taken in this course; add a line first."))
            return
        if not self.safety.may_give():
            return
        to = HandoutRequest(self.practice, self.entry.id, self.session.reading, self.now())
        self._show(GiveDialog(to, self.theme, self))
        self.review.refresh()

    # Decisions

    def decide(self, kind: str) -> None:
        """Ask for a decision of that kind, or look back on them."""
        if kind in self._filing:
            self._filing[kind]()
        else:
            self.deciding.ask(kind)

    def resume(self, form: str) -> None:
        """Open a form again that was left unfinished."""
        if form.startswith(ACCEPTING):
            self.safety.go_ahead(form.removeprefix(ACCEPTING))
        elif form.startswith(DISCUSSING):
            self.safety.discuss(form.removeprefix(DISCUSSING))
        elif form.startswith("formula-"):
            _, remedy, herb = form.split("/")
            swap = form.startswith("formula-swap/")
            self.act(SwapHerb(remedy, herb) if swap else LeaveHerbOut(remedy, herb))
        elif form == "lines":
            self.view.show_lines()
        elif form.partition("/")[0] in OF_A_PHASE:
            self.session.choose_phase(form.split("/")[1])
            self.view.show_lines()
        else:
            self.decide({"save-as-protocol": "keep"}.get(form, form))

    def act(self, act: Act) -> None:
        """Do what was chosen about a finding: an edit at once, a decision by its dialog."""
        session = self.session
        match act:
            case MoveHour(remedy):
                course = with_hour_moved(session.course, act)
                lines = (line for line in session.phase.lines if line.remedy == remedy)
                ways = [moved(line.directions, act, session.course.client.day) for line in lines]
                words = self.tr("Change the time of {remedy}").format(
                    remedy=session.course.remedy(remedy).name
                )
                self.edit(LineEditRequest(words, course, remedy, next(iter(ways), None)))
            case _:
                self.deciding.act(act)

    @property
    def _filing(self) -> dict[str, Callable[[], None]]:
        """What is chosen among the decisions and is none."""
        course, reading = self.session.course, self.session.reading
        history = partial(course_history, self.practice, self.entry.id)
        return {
            "stood": lambda: self._show(LookBack(reading, history(), self.theme, self)),
            "versions": lambda: self._show(VersionsDialog(reading, history(), self)),
            "aims": self.choose_aims,
            "supply": self.show_supply,
            "diary": self.records.enter_diary,
            "scores": self.records.enter_scores,
            "left": self.records.enter_left,
            "review": lambda: self.review.open(self.theme),
            "gate": self.review.set_gate,
            "give": self.give,
            "reaction": lambda: self.safety.record_reaction(self.entry),
            "flags": self.banner.ask,
            "keep": lambda: save_to_shelf(self.practice, course, self),
            "file": lambda: write_as_file(self.practice, self.entry.id, course, self),
            "table": lambda: write_as_table(self.practice, self.entry.id, course, self),
        }

    def show_supply(self) -> None:
        """Say how much is taken to the next review, or on other days."""
        reading, client = self.session.reading, self._entry.client_id
        visit = next_visit(self.practice, client, reading.layout, reading.today)
        self._show(SupplyDialog(reading, visit, self))

    def choose_aims(self) -> None:
        """Ask which actions are wanted of the course."""
        sheet = AimsDialog(self.session.reading, self)
        self._keep_draft(sheet, "aims")
        if sheet.exec() == QDialog.DialogCode.Accepted and sheet.is_changed():
            self.session.edit(self.tr("Choose wanted actions"), sheet.course)
        sheet.deleteLater()

    def _keep_draft(self, dialog: FormDialog, kind: str, *, bring_back: bool = True) -> None:
        dialog.keep_draft(
            self.practice, kind, self.entry.id, about=self.title, bring_back=bring_back
        )

    def _show(self, dialog: FormDialog) -> None:
        dialog.exec()
        dialog.deleteLater()
