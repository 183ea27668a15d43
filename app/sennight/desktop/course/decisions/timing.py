"""Decisions about time: a flare-up, a pause, moving on, a longer phase, the end."""

from __future__ import annotations

import re
from datetime import date, timedelta

from PySide6.QtWidgets import QWidget

from sennight.desktop.course.decisions.base import Decision, FieldError
from sennight.desktop.course.session import Session
from sennight.desktop.kit.translating import translate
from sennight.domain.courses.courses import (
    Advance,
    End,
    Extend,
    Flare,
    Pause,
    PauseMode,
    Revision,
    Stay,
)
from sennight.domain.courses.phase_names import phase_title

_BY = re.compile(r"([+-]?)\s*([0-9]{1,3})\s*(d|w)[a-z]*", re.IGNORECASE)
WEEK = timedelta(days=6)


class RecordFlare(Decision):
    """The rescue phase runs for a flare-up."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(
            session,
            parent,
            title=translate("RecordFlare", "Record a flare-up"),
            do=translate("RecordFlare", "Record"),
        )
        phases = self.session.course.protocol.phases
        rescues = [(phase_title(phase.id), phase.id) for phase in phases if phase.is_rescue]
        self.rescue = self.add_choice("rescue", self.tr("Flare-up plan"), rescues)
        self.first = self.add_date("from", self.tr("From"), self.session.day)
        self.last = self.add_date("to", self.tr("To (optional; usually the plan’s length)"), None)
        self.ready()

    def revision(self) -> Revision:
        """A Flare."""
        rescue = self.rescue.currentData()
        if rescue is None:
            message = self.tr("This course has no flare-up plan; add one first")
            raise FieldError("rescue", message)
        return Flare(
            on=self.today,
            reason=self.why,
            first=self.day_of("from", self.first),
            rescue=rescue,
            last=self.day_or_none("to", self.last),
        )


class TakePause(Decision):
    """No doses for some days; the rest stays, or moves."""

    def __init__(
        self,
        session: Session,
        parent: QWidget | None = None,
        *,
        first: date | None = None,
        last: date | None = None,
    ) -> None:
        super().__init__(
            session,
            parent,
            title=translate("TakePause", "Pause"),
            do=translate("TakePause", "Pause"),
        )
        begin, end = first or session.day, last or session.day + WEEK
        self.first = self.add_date("from", self.tr("First day without doses"), begin)
        self.last = self.add_date("to", self.tr("Last day without doses"), end)
        modes = [
            (self.tr("Everything after it moves later"), PauseMode.FREEZE.value),
            (self.tr("No dates move; those doses are left out"), PauseMode.SKIP.value),
        ]
        self.mode = self.add_choice("mode", self.tr("The rest of the course"), modes)
        self.ready()

    def revision(self) -> Revision:
        """A Pause."""
        return Pause(
            on=self.today,
            reason=self.why,
            first=self.day_of("from", self.first),
            last=self.day_of("to", self.last),
            mode=PauseMode(self.mode.currentData()),
        )


class MoveOn(Decision):
    """The running phase ends; a later one begins."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(
            session,
            parent,
            title=translate("MoveOn", "Start a later phase early"),
            do=translate("MoveOn", "Start the phase"),
        )
        runs = self.session.reading.layout.phases
        later = [run.phase.id for run in runs if run.span.first > self.session.day]
        self.to = self.add_choice(
            "to", self.tr("To phase"), [(phase_title(name), name) for name in later]
        )
        self.first = self.add_date("from", self.tr("From"), self.session.day)
        self.ready()

    def revision(self) -> Revision:
        """An Advance."""
        to = self.to.currentData()
        if to is None:
            raise FieldError("to", self.tr("No phase comes after the selected day"))
        first = self.day_of("from", self.first)
        return Advance(on=self.today, reason=self.why, to=to, first=first)


class ChangeLength(Decision):
    """A phase gets longer or shorter."""

    def __init__(
        self, session: Session, parent: QWidget | None = None, *, phase: str = "", days: int = 0
    ) -> None:
        super().__init__(
            session,
            parent,
            title=translate("ChangeLength", "Lengthen or shorten a phase"),
            do=translate("ChangeLength", "Change"),
        )
        ids = [run.phase.id for run in self.session.reading.layout.phases]
        self.phase = self.add_choice(
            "phase", self.tr("Phase"), [(phase_title(name), name) for name in ids]
        )
        self.phase.setCurrentIndex(max(0, self.phase.findData(phase or session.phase_id)))
        weeks, rest = divmod(days, 7)
        text = f"{days:+} d" if rest else f"{weeks:+} w"
        help_text = self.tr("Days or weeks: 2 w, 10 d, or -1 w to shorten it")
        self.by = self.add_text("by", self.tr("By how much"), text if days else "1 w", help_text)
        self.ready()

    def revision(self) -> Revision:
        """An Extend."""
        match = _BY.fullmatch(self.by.text().strip().replace("−", "-"))
        if not match or int(match[2]) == 0:
            raise FieldError("by", self.tr("Enter days or weeks, for example 2 w, 10 d or -1 w"))
        by = int(match[2]) * (-1 if match[1] == "-" else 1)
        return Extend(
            on=self.today,
            reason=self.why,
            phase=str(self.phase.currentData()),
            by=by,
            in_weeks=match[3].lower() == "w",
        )


class StayAsItIs(Decision):
    """Nothing changes, which is on record with the day and the reason."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(
            session,
            parent,
            title=translate("StayAsItIs", "The course stays as it is"),
            do=translate("StayAsItIs", "Record"),
        )
        self.ready()

    def revision(self) -> Revision:
        """A Stay."""
        return Stay(on=self.today, reason=self.why)

    def check(self) -> None:
        """Nothing would change, and it can be recorded all the same."""
        super().check()
        self.main_button.setEnabled(self._tried is not None)


class EndCourse(Decision):
    """Nothing is taken any more."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(
            session,
            parent,
            title=translate("EndCourse", "End the course"),
            do=translate("EndCourse", "End the course"),
        )
        label = self.tr("First day on which nothing is taken")
        self.first = self.add_date("from", label, self.session.day)
        self.ready()

    def revision(self) -> Revision:
        """An End."""
        first = self.day_of("from", self.first)
        return End(on=self.today, reason=self.why, first=first)
