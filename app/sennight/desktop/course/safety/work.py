"""What is done about safety on a course: going ahead, stopping to give, recording a reaction."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from sennight.desktop.course.safety.accept_dialog import AcceptDialog, DiscussDialog
from sennight.desktop.course.safety.panel import SafetyPanel
from sennight.desktop.course.safety.reaction_dialog import ReactionDialog
from sennight.desktop.course.safety.report_dialog import ReportDialog
from sennight.desktop.course.safety.rows import FindingRow, finding_rows
from sennight.desktop.course.session import Session
from sennight.desktop.kit.paper_dialog import hand_out
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.short_dialogs import choose
from sennight.desktop.kit.translating import translate
from sennight.practice.card import practice_card
from sennight.practice.courses import CourseEntry, course_entry
from sennight.practice.opening import OpenPractice
from sennight.practice.papers import About, NameParts
from sennight.practice.reactions import (
    Reaction,
    reaction_report,
    record_reaction,
    strike_out_reaction,
)

ACCEPTING = "accept/"
"""Before the id of a finding: the word of the form that asks for the reason to go ahead."""

DISCUSSING = "discuss/"
"""The same, of the form that asks what was said about it."""

TOLD = 3
"""How many findings a refusal tells one by one."""


class SafetyWork(QObject):
    """Acts for one course page; `recorded` has the course as a reaction left it.

    `findings_wanted` says that the findings are about to be gone to.
    """

    recorded = Signal(object)
    flags_wanted = Signal()
    findings_wanted = Signal()

    def __init__(
        self,
        practice: OpenPractice,
        session: Session,
        panel: SafetyPanel,
        page: QWidget,
        *,
        now: Callable[[], datetime],
    ) -> None:
        super().__init__(page)
        self._practice, self._session, self._panel, self._page = practice, session, panel, page
        self._now = now
        panel.ahead_wanted.connect(self.go_ahead)
        panel.discuss_wanted.connect(self.discuss)

    def go_ahead(self, finding_id: str) -> None:
        """Ask for the reason to go ahead with a finding."""
        rows = finding_rows(self._session.reading.safety, self._session.course, ())
        row = next((row for row in rows if finding_id in (row.id, *row.ids)), None)
        if row is None:  # it was told of in a draft, and the course is another now
            return
        if not row.may_be_accepted:
            self._until_gone(row)
            return
        sheet = AcceptDialog(self._session, row, self._page)
        sheet.keep_draft(self._practice, f"{ACCEPTING}{row.id}", self._session.course.id)
        sheet.exec()
        sheet.deleteLater()
        self._panel.go_to(finding_id)

    def discuss(self, finding_id: str) -> None:
        """Ask what was said about a caution, and keep that it was discussed."""
        rows = finding_rows(self._session.reading.safety, self._session.course, ())
        row = next((row for row in rows if finding_id in (row.id, *row.ids)), None)
        if row is not None:
            sheet = DiscussDialog(self._session, row, self._page)
            sheet.keep_draft(self._practice, f"{DISCUSSING}{row.id}", self._session.course.id)
            sheet.exec()
            sheet.deleteLater()
            self._panel.go_to(finding_id)

    def strike_reaction(self, place: int, why: str) -> None:
        """Strike a reaction of the client out, and show the course without it."""
        course, now = self._session.course, self._now()
        entry = course_entry(self._practice, course.id)
        strike_out_reaction(
            self._practice, entry.client_id, place, why=why, on=now.date(), now=now
        )
        self.recorded.emit(course_entry(self._practice, course.id))

    def _until_gone(self, row: FindingRow) -> None:
        """Nothing is given against a sign that needs a doctor at once; it may be asked anew."""
        if choose(
            self._page,
            translate("SafetyWork", "Nothing can be given while this stands"),
            row.text,
            do=translate("SafetyWork", "Check again…"),
            stay=translate("SafetyWork", "Close"),
        ):
            self.flags_wanted.emit()

    def may_give(self) -> bool:
        """Whether nothing stands against giving; else it is told, and leads to the findings."""
        findings = self._session.reading.safety.stopping
        if not findings:
            return True
        lines = [f"– {finding.text}" for finding in findings[:TOLD]]
        if len(findings) > TOLD:
            more = translate("SafetyWork", "and {number} more")
            lines.append(more.format(number=len(findings) - TOLD))
        lines.append(
            translate("SafetyWork", "Change the course, or accept each with a reason.")
            if any(finding.may_be_accepted for finding in findings)
            else translate("SafetyWork", "Nothing can be given while this stands.")
        )
        if choose(
            self._page,
            translate("SafetyWork", "This course has not been given yet"),
            "\n".join(lines),
            do=translate("SafetyWork", "Go to the finding"),
            stay=translate("SafetyWork", "Not now"),
        ):
            self.findings_wanted.emit()
            self._panel.go_to(findings[0].id)
        return False

    def record_reaction(self, entry: CourseEntry) -> None:
        """Ask for a reaction, record it, and offer the report."""
        sheet = ReactionDialog(
            self._session, self._session.reading.materia_medica.names, self._page
        )
        sheet.keep_draft(self._practice, "reaction", entry.id, about=entry.client_name)
        recorded: list[CourseEntry] = []

        def save() -> None:
            if sheet.answer is not None:
                remedy, reaction = sheet.answer
                now = self._now()
                recorded.append(
                    record_reaction(
                        self._practice, entry.id, remedy, reaction, on=now.date(), now=now
                    )
                )

        if saved_from(sheet, save) and sheet.answer is not None:
            self.recorded.emit(recorded[0])
            self._offer_report(recorded[0], *sheet.answer)
        sheet.deleteLater()

    def _offer_report(self, entry: CourseEntry, remedy: str, reaction: Reaction) -> None:
        """Show the report that can be sent, to be printed or saved, or neither."""
        reading, card = self._session.reading.of(entry.course), practice_card(self._practice)

        def report(paper_size: str) -> bytes:
            return reaction_report(reading, remedy, reaction, card, paper=paper_size)

        sheet = ReportDialog(report, self._page)
        if sheet.exec():
            about = About(entry.client_id, NameParts(entry.course.client.name), entry.id)
            title = translate("SafetyWork", "Report of a reaction")
            hand_out(sheet, title, self._practice, about, now=self._now())
        sheet.deleteLater()
