"""What was entered in error is struck out: it stays on record, and nothing follows from it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from sennight.desktop.course.session import Session
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import MOST_IN_A_REASON, PairedForm
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.compare_words import sentence
from sennight.domain.courses.courses import Course
from sennight.domain.courses.revision_words import revision_sentence
from sennight.domain.directions.plain_words import plain_date
from sennight.practice.course_reading import CourseReading

StrikeReaction = Callable[[int, str], None]
"""Strikes a reaction of the client out, by its place, for a reason."""


class StrikeOut(FormDialog):
    """Asks which entry was made in error, and why.

    An entry is a decision, an accepted or discussed finding, a reaction or the whole course;
    `struck_reaction` is called for a reaction, which is the client's.
    """

    def __init__(
        self,
        session: Session,
        struck_reaction: StrikeReaction,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(
            parent,
            translate("StrikeOut", "Strike out what was entered in error"),
            do=translate("StrikeOut", "Strike out"),
        )
        self.session, self._struck_reaction = session, struck_reaction
        self.today = session.reading.today
        self.entry = QComboBox()
        self._strikes: list[Callable[[str], Course] | int] = []
        self._fill()
        self.changes_label = text_label("", Role.STRONG, wrap=True)
        self.changes_label.setAccessibleName(self.tr("What will change"))
        self.reason = QLineEdit()
        self.reason.setMaxLength(MOST_IN_A_REASON)
        self.form = PairedForm()
        self.form.row(self.tr("Entry"), self.entry)
        self.reason_row = self.form.row(self.tr("Why"), self.reason)
        self.reason.textEdited.connect(lambda: self.reason_row.explain(""))
        session.refused.connect(self.reason_row.wrong)
        note = self.tr(
            "It stays on record with your reason but no longer counts. This cannot be undone."
        )
        self.aside_label.setText(note)
        self.foot.addWidget(self.changes_label)
        self.form.keep_together()
        self.set_body(self.form, columns=84, lines=16)
        self.entry.currentIndexChanged.connect(self._try)
        self._try()
        self.reason.setFocus(Qt.FocusReason.OtherFocusReason)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show both fields side by side where height is short."""
        super().resizeEvent(event)
        self.pair_fields(self.form, event.size())

    def _fill(self) -> None:
        course = self.session.course
        for place, revision in enumerate(course.revisions):
            if not revision.is_void:
                words = revision_sentence(revision, course)
                self._add(words, partial(self._strike_revision, place))
        for key, accepts in (("accepts", course.accepts), ("discussed", course.discussed)):
            for place, accept in enumerate(accepts):
                if not accept.is_void:
                    self._add(
                        self._accept_words(accept, accepted=key == "accepts"),
                        partial(self._strike_accept, key, place),
                    )
        for place, reaction in enumerate(course.client.reactions):
            if not reaction.is_void:
                words = self.tr("Reaction on {day}: {what}").format(
                    day=plain_date(reaction.day), what=reaction.what
                )
                self._add(words, place)
        if not course.is_void:
            self._add(self.tr("The whole course"), self._strike_course)

    def _add(self, words: str, strike: Callable[[str], Course] | int) -> None:
        """An entry: how its course is made for a reason, or the place of a reaction."""
        self.entry.addItem(words)
        self._strikes.append(strike)

    def _accept_words(self, accept: Accept, *, accepted: bool) -> str:
        line = self.session.reading.safety.line_of(accept.finding)
        head = line.heading if line else accept.finding
        words = self.tr("Accepted: {finding}") if accepted else self.tr("Discussed: {finding}")
        return words.format(finding=head)

    # Striking out

    def _strike_revision(self, place: int, why: str) -> Course:
        revisions = list(self.session.course.revisions)
        revisions[place] = replace(revisions[place], void=why, void_on=self.today)
        return replace(self.session.course, revisions=tuple(revisions))

    def _strike_accept(self, key: str, place: int, why: str) -> Course:
        course = self.session.course
        accepts = list(course.accepts if key == "accepts" else course.discussed)
        accepts[place] = replace(accepts[place], void=why, void_on=self.today)
        if key == "accepts":
            return replace(course, accepts=tuple(accepts))
        return replace(course, discussed=tuple(accepts))

    def _strike_course(self, why: str) -> Course:
        return replace(self.session.course, void=why, void_on=self.today)

    def _try(self) -> None:
        """Show over the timeline, and say, what is left without the entry."""
        strike = self._strikes[self.entry.currentIndex()] if self._strikes else -1
        tried: CourseReading | str = self.session.reading
        if not isinstance(strike, int):
            tried = self.session.try_out(strike(self.tr("Entered in error")))
        if isinstance(tried, str):
            self.changes_label.setText(tried)
            self.session.trying.emit(None)
            return
        comparison = tried.changed_from(self.session.reading)
        words = sentence(comparison, tried.course) if comparison else self.tr("No dose changes.")
        self.changes_label.setText(words)
        self.session.trying.emit(tried if comparison else None)

    def done(self, result: int) -> None:
        """Close; nothing is tried any more."""
        self.session.trying.emit(None)
        super().done(result)

    def _strike(self, why: str) -> bool:
        strike = self._strikes[self.entry.currentIndex()]
        if isinstance(strike, int):
            self._struck_reaction(strike, why)
            return True
        return self.session.keep(strike(why))

    def is_changed(self) -> bool:
        """Whether a reason was typed."""
        return bool(self.reason.text().strip())

    def submit(self) -> None:
        """Strike the entry out, or ask for the reason."""
        why = self.reason.text().strip()
        if not why:
            self.reason_row.wrong(self.tr("Enter a reason; it is recorded with the entry"))
            self.reason.setFocus(Qt.FocusReason.OtherFocusReason)
        elif self._strikes and self._strike(why):
            self.accept()
