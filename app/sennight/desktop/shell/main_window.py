"""The window: the rail, the bar on top, the page in front and the status line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, datetime
from functools import partial
from typing import TypeVar

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QCloseEvent, QUndoGroup, QUndoStack
from PySide6.QtWidgets import (
    QHBoxLayout,
    QMainWindow,
    QStackedWidget,
    QStyle,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.drafts import DraftKeeper
from sennight.desktop.kit.navigation import History, Route
from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.section import Section, Surroundings
from sennight.desktop.kit.short_dialogs import confirm
from sennight.desktop.kit.theme import Theme
from sennight.desktop.shell.actions import action_specs, make_actions
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.card_dialog import ask_for_card
from sennight.desktop.shell.find import Sort, Thing, route_to
from sennight.desktop.shell.find_field import FindField
from sennight.desktop.shell.finder import HERE, Finder
from sennight.desktop.shell.first_start import wants_own_practice
from sennight.desktop.shell.opening import Reopening
from sennight.desktop.shell.rail import Rail
from sennight.desktop.shell.sections import SECTIONS
from sennight.desktop.shell.settings import Settings, practice_path
from sennight.desktop.shell.status_line import StatusLine
from sennight.desktop.shell.top_bar import TopBar
from sennight.desktop.shell.unfinished_dialog import UnfinishedDialog, broken_off, outer_form
from sennight.practice.demo_file import is_demo
from sennight.practice.drafts import Draft
from sennight.practice.opening import DamagedFileError, MissingRecordError, OpenPractice

Kind = TypeVar("Kind", bound=Section)


class MainWindow(QMainWindow):
    """Goes from page to page; what a page is about is the page's own business."""

    def __init__(
        self,
        practice: OpenPractice,
        appearance: Appearance,
        settings: Settings,
        *,
        today: Callable[[], date] = date.today,
        sections: Sequence[type[Section]] = SECTIONS,
    ) -> None:
        super().__init__()
        self._practice, self._appearance, self._settings = practice, appearance, settings
        self._today = today
        self._kinds, self._specs = sections, action_specs(sections)
        self._named = {spec.id: spec for spec in self._specs if spec.id in {"undo", "redo"}}
        self._history = History(sections[0].home)
        self.reopening: Reopening | None = None
        self._undo = QUndoGroup(self)
        around = Surroundings(practice, appearance.theme, self._now)
        self.sections = tuple(section(around) for section in sections)
        self.actions_by_id = make_actions(self, self._doing(), sections)
        self._make_parts()
        self._lay_out()
        self._connect()
        self._apply_theme(appearance.theme)
        self._restore()
        self._show_here()

    # Layout

    def _make_parts(self) -> None:
        finder = Finder(self._practice, self._specs, self._acts_here)
        self.find_field = FindField(self, finder.by_name, finder.besides)
        self.is_demo = is_demo(self._practice.path)
        self.rail = Rail(self.actions_by_id, self._kinds, self._appearance, is_demo=self.is_demo)
        self.top_bar = TopBar(self.actions_by_id, self.find_field)
        self.stack = QStackedWidget()
        self.status = StatusLine()
        for section in self.sections:
            for page in section.pages:
                self.stack.addWidget(page)

    def section(self, kind: type[Kind]) -> Kind:
        """The section of a kind."""
        return next(section for section in self.sections if isinstance(section, kind))

    def _section_of(self, route: str) -> Section:
        """The section that has the page of a kind of route."""
        return next(section for section in self.sections if route in section.kinds)

    def _now(self) -> datetime:
        """The clock's time on the day that counts as today."""
        return datetime.combine(self._today(), datetime.now().astimezone().timetz())

    def _lay_out(self) -> None:
        right = QVBoxLayout()
        right.setContentsMargins(0, 0, 0, 0)
        right.setSpacing(0)
        right.addWidget(self.top_bar)
        right.addWidget(self.stack, 1)
        self._foot = QHBoxLayout()
        self._foot.setContentsMargins(0, 0, 0, 0)
        right.addLayout(self._foot)
        self.status.serve(self._foot, is_seated=False)
        whole = QWidget()
        layout = QHBoxLayout(whole)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.rail)
        layout.addLayout(right, 1)
        self.setCentralWidget(whole)

    def _apply_theme(self, theme: Theme) -> None:
        for part in (self.rail, self.top_bar, self.status):
            part.apply_theme(theme)
        for section in self.sections:
            section.apply_theme(theme)

    def _restore(self) -> None:
        if not self.restoreGeometry(self._settings.geometry):
            room, title = self.screen().availableGeometry(), QStyle.PixelMetric.PM_TitleBarHeight
            high = room.height() - self.style().pixelMetric(title) * 3 // 2  # thick frames too
            self.resize(1280, min(800, high))

    # What can be done

    def _doing(self) -> dict[str, Callable[[], object]]:
        doing: dict[str, Callable[[], object]] = {
            "back": self.back,
            "forward": self.forward,
            "find": self._to_find,
            "quit": self.close,
            "undo": lambda: self._undo_or_redo(undo=True),
            "redo": lambda: self._undo_or_redo(undo=False),
            "card": self.change_card,
            "practice": self.show_practice,
            "unfinished": self.show_unfinished,
            "over-clients": self.show_over_clients,
            "larger-text": lambda: self._appearance.step_scale(1),
            "smaller-text": lambda: self._appearance.step_scale(-1),
            "keys": self._show_keys,
            "changes": self._show_changes,
        }
        for section in self.sections:
            doing[section.spec().id] = partial(self.go, section.home)
            begin = section.new_spec()
            if begin is not None:
                doing[begin.id] = section.new
        return doing

    def _connect(self) -> None:
        self._appearance.changed.connect(self._apply_theme)
        self.rail.demo.clicked.connect(self.leave_demo)
        self.find_field.chosen.connect(self._open_thing)
        for section in self.sections:
            section.going.connect(self.go)
            section.turned.connect(self._turn)
            section.leaving.connect(self.back)
            section.asking.connect(self._ask)
            section.status_message.connect(self.say)
            section.page_made.connect(self.stack.addWidget)
        self._undo.canUndoChanged.connect(self._name_undo)
        self._undo.canRedoChanged.connect(self._name_undo)
        self._undo.undoTextChanged.connect(self._name_undo)
        self._undo.redoTextChanged.connect(self._name_undo)

    # Going about

    def go(self, route: Route) -> None:
        """Go to a route, if it is there."""
        before = self._history.here
        self._leave()
        self._history.go(route)
        try:
            self._show_here()
        except (MissingRecordError, DamagedFileError) as error:
            self._history.leave_out()
            gone = isinstance(error, MissingRecordError)
            self.say(self.tr("That is no longer in this practice.") if gone else str(error))
            if self._history.here != before:
                self._show_here()

    def back(self) -> None:
        """Go back to where the user was."""
        self._leave()
        self._history.back()
        self._show_here()

    def forward(self) -> None:
        """Go where the user last went back from."""
        self._leave()
        self._history.forward()
        self._show_here()

    def _turn(self, route: Route) -> None:
        """Note that the page in front shows another route."""
        self._history.turn(route)
        self._tell_here()

    def _leave(self) -> None:
        kind = self._history.here.kind
        self._section_of(kind).leave(kind)

    def _show_here(self) -> None:
        route = self._history.here
        section = self._section_of(route.kind)
        page = section.page(route)
        self.top_bar.serve(page.seats)
        self.status.serve(
            page.seats.foot if page.seats else self._foot, is_seated=bool(page.seats)
        )
        self.status.turn()
        self.stack.setCurrentWidget(page)
        self._watch(section.undo_stack(route.kind))
        self.rail.mark(section.spec().id)
        self._tell_here()
        QTimer.singleShot(0, page, page.take_focus)

    def _tell_here(self) -> None:
        """Say where one is in the title, and whether a way leads back and forward."""
        self.actions_by_id["back"].setEnabled(self._history.can_go_back)
        self.actions_by_id["forward"].setEnabled(self._history.can_go_forward)
        self._title()

    def _title(self) -> None:
        kind = self._history.here.kind
        title = self._section_of(kind).title(kind)
        marked = self.tr("{title} – demo practice").format(title=title)
        self.setWindowTitle(f"{marked if self.is_demo else title} – Sennight")

    # Undo

    def _watch(self, stack: QUndoStack | None) -> None:
        """Let undo and redo work on a page's edits."""
        if stack is not None and stack not in self._undo.stacks():
            self._undo.addStack(stack)
        self._undo.setActiveStack(stack)  # type: ignore[arg-type]
        self._name_undo()

    def _name_undo(self) -> None:
        for name, can, what in (
            ("undo", self._undo.canUndo(), self._undo.undoText()),
            ("redo", self._undo.canRedo(), self._undo.redoText()),
        ):
            action = self.actions_by_id[name]
            action.setEnabled(can)
            spec = self._named[name]
            tip = f"{spec.text}: {what} ({spec.keys[0]})" if what else spec.tip
            action.setToolTip(plain_tip(tip))

    def _undo_or_redo(self, *, undo: bool) -> None:
        what = self._undo.undoText() if undo else self._undo.redoText()
        stack = self._undo.activeStack()
        steps = stack.count()
        (self._undo.undo if undo else self._undo.redo)()
        if stack.count() < steps:  # a step that could not be done leaves the stack, and says why
            return
        text = self.tr("Undone: {what}.") if undo else self.tr("Done again: {what}.")
        self.say(text.format(what=what))

    # Doing

    def say(self, text: str) -> None:
        """Tell in the status line what happened."""
        self.status.say(text)

    def _to_find(self) -> None:
        self.find_field.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.find_field.selectAll()

    def _acts_here(self) -> tuple[ActionSpec, ...]:
        kind = self._history.here.kind
        return self._section_of(kind).acts(kind)

    def _open_thing(self, thing: Thing) -> None:
        if thing.sort is Sort.ACTION and thing.id.startswith(HERE):
            self._section_of(self._history.here.kind).act(thing.id.removeprefix(HERE))
        elif thing.sort is Sort.ACTION:
            self.actions_by_id[thing.id].trigger()
        else:
            self.go(route_to(thing))

    def _show_keys(self) -> None:
        from sennight.desktop.shell.keys_dialog import KeysDialog  # noqa: PLC0415 - see `later`

        places = ((section.spec().text, section.page_specs()) for section in self.sections)
        KeysDialog(self, ((self.tr("Everywhere"), self._specs), *places)).exec()

    def _show_changes(self) -> None:
        from sennight.desktop.shell.changes_dialog import (  # noqa: PLC0415 - see `later`
            ChangesDialog,
        )

        ChangesDialog(self).exec()

    def show_over_clients(self) -> None:
        """Show what became of all courses of a protocol."""
        from sennight.desktop.parts.protocol_record import (  # noqa: PLC0415 - see `later`
            ProtocolRecordDialog,
        )

        ProtocolRecordDialog(self._practice, self._today(), self).exec()

    def change_card(self) -> None:
        """Ask for the practice's card, and save it."""
        if ask_for_card(self, self._practice):
            self.say(self.tr("The practice card is saved."))

    def show_practice(self) -> None:
        """Show how the practice is; close where another or a backup is to be opened."""
        from sennight.desktop.shell.practice_dialog import (  # noqa: PLC0415 - see `later`
            PracticeDialog,
        )

        dialog = PracticeDialog(self, self._practice, self._settings)
        dialog.exec()
        dialog.deleteLater()
        if dialog.reopening is not None:
            self.reopening = dialog.reopening
            self.close()

    def leave_demo(self) -> None:
        """Tell what the demo is, and close it where one's own practice is wanted instead."""
        if wants_own_practice(self):
            self.reopening = Reopening(practice_path(self._settings), is_own=True)
            self.close()

    # Unfinished work

    def offer_unfinished(self) -> None:
        """Show the unfinished work where the program ended in the middle of some."""
        if broken_off(self._practice):
            self.show_unfinished()

    def show_unfinished(self) -> None:
        """Show what was typed and not saved, and go on with what is chosen."""
        dialog = UnfinishedDialog(self, self._practice)
        dialog.exec()
        draft = dialog.chosen
        dialog.deleteLater()
        if draft is not None:
            self._resume(draft)

    def _resume(self, draft: Draft) -> None:
        form = outer_form(draft.kind)
        if form == "card":
            self.change_card()
        elif not self._ask(form, draft.subject):
            self.say(self.tr("This version cannot open it again."))

    def _ask(self, form: str, subject: str) -> bool:
        """Open a form by its word, whichever section it is of; whether there is one."""
        return any(section.resume(form, subject) for section in self.sections)

    # Closing

    def closeEvent(self, event: QCloseEvent) -> None:
        """Keep what was typed and where the window was; asks only where words would be lost."""
        self._leave()
        if not self._may_close():
            event.ignore()
            return
        self._settings.geometry = self.saveGeometry()
        self._settings.flush()
        super().closeEvent(event)

    def save_now(self) -> bool:
        """Save edits made a moment ago; False where one could not be saved."""
        pages = (page for section in self.sections for page in section.pages)
        saved = [page.save_now() for page in pages]  # every one, also after one that fails
        return all(saved)

    def _may_close(self) -> bool:
        """Whether all is saved or kept on disk, or may be lost."""
        keepers = self.findChildren(DraftKeeper)
        is_kept = all(keeper.keep() and keeper.is_kept for keeper in keepers)
        if self.save_now() and is_kept:
            return True
        return confirm(
            self,
            self.tr("Close without saving?"),
            self.tr("The last things you typed could neither be saved nor kept as a draft."),
            do=self.tr("Close"),
            stay=self.tr("Keep editing"),
        )
