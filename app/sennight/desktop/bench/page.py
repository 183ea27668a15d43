"""Bench: what wants attention, by day, over all running courses."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta

from PySide6.QtCore import QPoint, Qt, QTimer, Signal
from PySide6.QtGui import QAction, QKeySequence, QUndoStack
from PySide6.QtWidgets import QHBoxLayout, QMenu, QStackedWidget, QVBoxLayout

from sennight.desktop.bench.actions import bench_specs
from sennight.desktop.bench.put_off_dialog import PutOffDialog
from sennight.desktop.bench.table import BenchModel, BenchView
from sennight.desktop.bench.week_strip import WeekStrip
from sennight.desktop.bench.words import act_words, what_words
from sennight.desktop.kit.matching import matching
from sennight.desktop.kit.narrowed_list import NarrowField
from sennight.desktop.kit.section import Page, Surroundings
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.undo import ValueStep
from sennight.desktop.kit.widgets import Empty, button, text_label
from sennight.domain.directions.plain_words import counted, plain_day
from sennight.practice.bench import NOTHING, Bench, Item, bench, mark_done, put_off, reopen
from sennight.practice.opening import PracticeFileError

PUT_OFFS = (1, 3, 7, 14, 28)
"""By so many days something can be put off at once."""
BEGIN_MS = 500
"""So long after it came up the window is left alone."""
IDLE_MS = 60
"""So long the window is left alone between two steps of work in the background."""
FIELD_LETTERS = (26, 26)
"""How wide the field that narrows is, the least and the most."""


class BenchPage(Page):
    """What needs attention; `opened` gives the item to go to, `new_wanted` a first client."""

    opened = Signal(object)
    new_wanted = Signal()
    status_message = Signal(str)

    def __init__(self, around: Surroundings) -> None:
        super().__init__()
        self._practice, self._now = around.practice, around.now
        self._bench, self._checked = Bench(NOTHING, 0, behind=False), False
        self._read_at: tuple[int, date] | None = None
        self.undo_stack = QUndoStack(self)
        self._make_parts(around.theme)
        self._lay_out()
        self._connect()
        self.apply_theme(around.theme)

    # Layout

    def _make_parts(self, theme: Theme) -> None:
        self.title = text_label(self.tr("Bench"), Role.TITLE)
        self.count = text_label("", Role.QUIET)
        self.behind = text_label(self.tr("Reading the courses of an earlier version…"), Role.QUIET)
        self.narrow = NarrowField()
        self.narrow.setPlaceholderText(self.tr("Client, course or task"))
        self.narrow.setAccessibleName(self.tr("Filter what needs attention"))
        self.narrow.setClearButtonEnabled(True)
        self.strip = WeekStrip(theme)
        self.model = BenchModel(theme, self)
        self.rows = BenchView(self.model)
        self.rows.setAccessibleName(self.tr("What needs attention"))
        self.new = button(self.tr("New client"), kind="main")
        self.empty = Empty("", "", self.new, drawing="bench")
        self.body = QStackedWidget()
        self.body.addWidget(self.rows)
        self.body.addWidget(self.empty)
        self._timer = QTimer(self)
        self._timer.setInterval(BEGIN_MS)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        for label in (self.title, self.count, self.behind):
            head.addWidget(label, 0, Qt.AlignmentFlag.AlignBottom)
        head.addStretch(1)
        head.addWidget(self.narrow, 100)
        self._layout = QVBoxLayout(self)
        self._layout.addLayout(head)
        self._layout.addWidget(self.strip)
        self._layout.addWidget(self.body, 1)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another theme."""
        side = theme.edge
        self._layout.setContentsMargins(side, theme.unit * 4, side, theme.unit * 4)
        self._layout.setSpacing(theme.unit * 4)
        wide, (least, most) = self.fontMetrics().horizontalAdvance("n"), FIELD_LETTERS
        self.narrow.setMinimumWidth(wide * least)
        self.narrow.setMaximumWidth(wide * most)
        self.strip.apply_theme(theme)
        self.model.apply_theme(theme)
        self._fill()

    # Behaviour

    def _connect(self) -> None:
        self.narrow.textChanged.connect(lambda _text: self._fill())
        self.narrow.into_list.connect(self.rows.setFocus)
        self.rows.opened.connect(lambda row: self.opened.emit(self.item(row)))
        self.rows.done.connect(self.finish)
        self.rows.later.connect(self._ask_when)
        self.rows.menu_wanted.connect(self._show_menu)
        self.strip.chosen.connect(self._go_to_day)
        self.new.clicked.connect(self.new_wanted)
        self._timer.timeout.connect(self._work)
        doing: dict[str, Callable[[], object]] = {
            "matter-done": lambda: self.finish(self.rows.row()),
            "matter-later": lambda: self._ask_when(
                self.rows.row(), self.rows.foot_of(self.rows.row())
            ),
        }
        for spec in bench_specs():
            action = QAction(spec.text, self)
            action.setObjectName(spec.id)
            action.setShortcuts([QKeySequence(key) for key in spec.keys])
            action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            action.triggered.connect(doing[spec.id])
            self.addAction(action)

    def _today(self) -> date:
        return self._now().date()

    def take_focus(self) -> None:
        """Give the keyboard to the list, or to what begins."""
        shown = self.body.currentWidget() is self.rows
        first = self.rows if shown else self.new if self.new.isVisible() else self.narrow
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def load(self, *, anew: bool = False) -> None:
        """Show what wants attention; the list stays at the place that it was at.

        It is read where something was saved or the day changed since, or where it has to be.
        """
        at, now = max(0, self.rows.row()), (self._practice.changes, self._today())
        if now == self._read_at and not anew and not self._bench.behind:
            return
        self._read_at = now
        self._bench = bench(self._practice, self._today())
        self.strip.show_items(self._bench.items, self._today())
        self.behind.setVisible(self._bench.behind)
        self._fill()
        self.rows.select_near(at)
        self._timer.start()

    def _fill(self) -> None:
        every, typed = self._bench.items, self.narrow.text()
        shown = every
        if typed.strip():
            found = matching(typed, enumerate(every), lambda pair: _searched(pair[1]))
            shown = every.some([place for place, _ in found])
        self.model.show_items(shown, self._today())
        self.rows.select_near(0)
        self.body.setCurrentWidget(self.rows if shown else self.empty)
        self.narrow.setVisible(bool(every))
        self.count.setText(self._count_words(len(shown)) if every else "")
        if not shown:
            self._say_why_empty()

    def _count_words(self, shown: int) -> str:
        every = len(self._bench.items)
        if shown != every:
            return self.tr("{shown} of {all}").format(shown=shown, all=every)
        courses = counted(self._bench.running, self.tr("course"))
        return self.tr("{n} this week, {courses} under way").format(n=every, courses=courses)

    def _say_why_empty(self) -> None:
        running = self._bench.running
        self.new.setVisible(not running and not self._bench.items)
        if self._bench.items:
            self.empty.say(
                self.tr("No match for “{typed}”").format(typed=self.narrow.text()),
                self.tr("Try fewer letters."),
            )
        elif running:
            courses = counted(running, self.tr("course"))
            self.empty.say(
                self.tr("Nothing needs attention this week"),
                self.tr("{courses} under way.").format(courses=courses.capitalize()),
            )
        else:
            self.empty.say(
                self.tr("No course is under way"),
                self.tr(
                    "Add a client and start a course: reviews, changes, weeks off, supplies and "
                    "diaries then appear here by day."
                ),
            )

    def item(self, row: int) -> Item | None:
        """The item of a row; None for a heading or no row."""
        return self.model.item(row)

    def _go_to_day(self, day: date) -> None:
        late = day < self._today()
        first = (place for due, place, _ in self.model.items.days() if late or due >= day)
        place = next(first, None)
        if place is not None:
            self.rows.select_near(self.model.lines.index(place))
            self.rows.setFocus(Qt.FocusReason.OtherFocusReason)

    # Done and put off

    def finish(self, row: int) -> None:
        """Take the item of a row off the list."""
        item = self.item(row)
        if item is not None:
            self._push(self.tr("“{what}” done"), item, lambda now: self._finished(item, now))

    def _finished(self, item: Item, now: datetime) -> None:
        mark_done(self._practice, item, now=now)

    def postpone(self, row: int, to: date) -> None:
        """Put the item of a row off to a day."""
        item = self.item(row)
        if item is not None:
            self._push(
                self.tr("“{what}” put off"),
                item,
                lambda now: put_off(self._practice, item, to, now=now),
            )

    def _push(self, words: str, item: Item, do: Callable[[datetime], None]) -> None:
        text = words.format(what=what_words(item))

        def put(doing: Callable[[datetime], None]) -> bool:
            try:
                doing(self._now())
            except PracticeFileError as error:
                self.status_message.emit(str(error))
                return False
            self.load()
            return True

        def undo(now: datetime) -> None:
            reopen(self._practice, item, now=now)

        self.undo_stack.push(ValueStep(text, undo, do, put))
        self.status_message.emit(self.tr("{what}. Ctrl+Z undoes it.").format(what=text))

    def _ask_when(self, row: int, place: QPoint) -> None:
        if self.item(row) is not None:
            menu = QMenu(self)
            self._add_put_offs(menu, row)
            menu.popup(place)

    def _show_menu(self, row: int, place: QPoint) -> None:
        menu = QMenu(self)
        item = self.item(row)
        if item is not None:
            menu.addAction(act_words(item.matter)).triggered.connect(
                lambda: self.opened.emit(item)
            )
        menu.addAction(self.tr("Done")).triggered.connect(lambda: self.finish(row))
        menu.addSeparator()
        self._add_put_offs(menu, row)
        menu.popup(place)

    def _add_put_offs(self, menu: QMenu, row: int) -> None:
        today = self._today()
        for days in PUT_OFFS:
            to = today + timedelta(days=days)
            action = menu.addAction(self.tr("To {day}").format(day=plain_day(to)))
            action.triggered.connect(lambda _on=False, to=to: self.postpone(row, to))
        menu.addAction(self.tr("To another day…")).triggered.connect(lambda: self.ask_day(row))
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)

    def ask_day(self, row: int) -> None:
        """Ask to which day the item of a row is put off."""
        item = self.item(row)
        if item is None:
            return
        about = f"{item.client}: {what_words(item)}"
        dialog = PutOffDialog(self.window(), about, self._today())
        dialog.keep_draft(self._practice, "put-off")
        if dialog.exec() and dialog.answer is not None:
            self.postpone(row, dialog.answer)
        dialog.deleteLater()

    # In the background

    def _work(self) -> None:
        """Work out a little of what no save does, while the page is looked at."""
        self._timer.setInterval(IDLE_MS)
        # Not before the window: it brings all that courses are checked with.
        from sennight.practice.standings import catch_up, check_some  # noqa: PLC0415

        if not self.isVisible() or not self.window().isVisible():
            self._timer.stop()
            return
        try:
            if self._bench.behind:
                more = catch_up(self._practice)
            else:
                more = check_some(self._practice, self._today())
        except PracticeFileError as error:
            self._timer.stop()
            self.status_message.emit(str(error))
            return
        if not more:
            self._timer.stop()
            if self._bench.behind or self._checked:
                self._checked = False
                self.load(anew=True)
        elif not self._bench.behind:
            self._checked = True


def _searched(item: Item) -> str:
    return f"{item.client} {item.course} {what_words(item)}"
