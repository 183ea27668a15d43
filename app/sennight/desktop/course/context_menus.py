"""What the right button offers on the course page: on lanes, days, lines and findings.

It only offers: nothing is chosen, moved or opened before an entry is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, timedelta
from functools import partial

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QMenu, QWidget

from sennight.desktop.course.safety.acts import act_words
from sennight.desktop.course.safety.rows import CHECKED, NOTES
from sennight.desktop.course.view import CourseView
from sennight.desktop.kit.plain_text import add_choice
from sennight.desktop.kit.translating import translate
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.directions.plain_words import plain_day
from sennight.domain.safety.acting import Act, GiveOtherwise, PauseOver, StopFrom, acts
from sennight.practice.safety import Severity

Entry = tuple[str, Callable[[], object]] | None
"""What an entry says and does; None draws a line."""

WEEK_LESS_A_DAY = timedelta(days=6)


class ContextMenus:
    """Opens a menu where the right button, or the menu key, asks for one."""

    def __init__(
        self,
        view: CourseView,
        *,
        act: Callable[[Act], None],
        decide: Callable[[str], None],
    ) -> None:
        self.view, self._act, self._decide = view, act, decide
        self.menu: QMenu | None = None
        calendar, lines, safety = view.calendar, view.lines.table, view.consequences.safety.view
        askers: tuple[tuple[QWidget, Callable[[QPoint], Iterator[Entry]]], ...] = (
            (view.timeline, self._on_timeline),
            (calendar.sheet, partial(self._on_day, calendar.sheet)),
            (calendar.month, partial(self._on_day, calendar.month)),
            (lines, self._on_line),
            (safety, self._on_finding),
        )
        for widget, entries in askers:
            widget.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
            widget.customContextMenuRequested.connect(partial(self._open, widget, entries))

    def _open(
        self, widget: QWidget, entries: Callable[[QPoint], Iterator[Entry]], at: QPoint
    ) -> None:
        """Show the entries for a point of a widget; nothing where there are none."""
        offered = tuple(entries(at))
        if not any(offered):
            return
        self.menu = QMenu(widget)
        self.menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        for entry in offered:
            if entry is None:
                self.menu.addSeparator()
            else:
                add_choice(self.menu, entry[0]).triggered.connect(lambda _on, do=entry[1]: do())
        self.menu.popup(widget.mapToGlobal(at))

    # What there is to offer

    @property
    def _today(self) -> date:
        return self.view.session.reading.today

    def _on_timeline(self, at: QPoint) -> Iterator[Entry]:
        timeline, session = self.view.timeline, self.view.session
        place = timeline.lane_at(at)
        day = timeline.shown.scale.day_under(at.x())
        if at.y() < timeline.heights.band and any(
            day == flag.day for flag in timeline.shown.flags
        ):
            strike = translate("Menu", "Strike out an entry made in error…")
            yield strike, partial(self._decide, "strike")
        if place is not None:
            yield from self._of_remedy(session.course.remedies[place].id, day)
        if at.x() >= timeline.shown.scale.left and day in session.reading.layout.days:
            yield None
            yield from self._of_day(day)

    def _on_day(self, grid: QWidget, at: QPoint) -> Iterator[Entry]:
        calendar = self.view.calendar
        shown = calendar.sheet if grid is calendar.sheet else calendar.month
        index = shown.indexAt(at)
        if not index.isValid():
            index = shown.currentIndex()
        if index.isValid():
            yield from self._of_day(shown.weeks.day_at(index.row(), index.column()))

    def _on_line(self, at: QPoint) -> Iterator[Entry]:
        table, lines = self.view.lines.table, self.view.lines
        index = table.indexAt(at)
        if not index.isValid():
            index = table.currentIndex()
        remedy = lines.model.remedy_at(index.row()) if index.isValid() else None
        if remedy is not None and index.row() < len(lines.model.lines):
            row = index.row()
            yield translate("Menu", "Where, how, steps…"), partial(self._open_line, row)
            yield translate("Menu", "Remove line"), partial(lines.model.remove, row)
            yield None
            yield from self._of_remedy(remedy.id, self._today)
            yield None
        yield translate("Menu", "Add line"), table.begin_line

    def _open_line(self, row: int) -> None:
        self.view.lines.table.selectRow(row)
        self.view.lines.open_line()

    def _on_finding(self, at: QPoint) -> Iterator[Entry]:
        panel, session = self.view.consequences.safety, self.view.session
        index = panel.view.indexAt(at)
        rows = panel.view.findings.rows
        if not index.isValid() or not 0 <= index.row() < len(rows):
            return
        row = rows[index.row()]
        if not row.asks:
            words = translate("Menu", "Fold") if row.unfolded else translate("Menu", "Read it all")
            yield words, partial(panel.view.toggled.emit, row.id)
        if row.id in (NOTES, CHECKED):
            return
        if row.asks:
            accept = translate("Menu", "Accept with a reason…")
            yield accept, partial(panel.ahead_wanted.emit, row.id)
        if row.severity is Severity.CAUTION and not row.discussed:
            discuss = translate("Menu", "Discussed with the client…")
            yield discuss, partial(panel.discuss_wanted.emit, row.id)
        found = [finding for finding in panel.checked.found if finding.id in row.ids]
        yield None
        names = session.reading.materia_medica.names
        for act in acts(found, session.course):
            herb = names.get(getattr(act, "herb", ""), "")
            yield act_words(act, session.course, herb), partial(self._act, act)

    def _of_remedy(self, remedy: str, day: date) -> Iterator[Entry]:
        """What can be done about one remedy, from a day on that is not past."""
        name = self.view.session.course.remedy(remedy).name
        first = max(day, self._today)
        change = translate("Menu", "Change directions of {remedy}…").format(remedy=name)
        stop = translate("Menu", "Stop {remedy}…").format(remedy=name)
        yield change, partial(self._act, GiveOtherwise(remedy))
        yield stop, partial(self._act, StopFrom(remedy, first))

    def _of_day(self, day: date) -> Iterator[Entry]:
        """What can be done about one day and the phase that it lies in."""
        session = self.view.session
        words = plain_day(day)
        yield translate("Menu", "Show {day}").format(day=words), partial(session.go_to, day)
        pause = PauseOver(day, day + WEEK_LESS_A_DAY)
        yield translate("Menu", "Pause from this day…"), partial(self._act, pause)
        flare = translate("Menu", "Record a flare-up from this day…")
        yield flare, partial(self._from_day, day, "flare")
        run = session.reading.layout.phase_on(day)
        if run is not None:
            name = phase_title(run.phase.id)
            text = translate("Menu", "Lengthen or shorten {phase}…").format(phase=name)
            yield text, partial(self._in_phase, run.phase.id, "extend")
        yield None
        for decision, words in (
            ("advance", translate("Menu", "Start a later phase from this day…")),
            ("join", translate("Menu", "Add a remedy from this day…")),
            ("end", translate("Menu", "End the course on this day…")),
        ):
            yield words, partial(self._from_day, day, decision)

    def _from_day(self, day: date, decision: str) -> None:
        self.view.session.go_to(day)
        self._decide(decision)

    def _in_phase(self, phase: str, decision: str) -> None:
        self.view.session.choose_phase(phase)
        self._decide(decision)
