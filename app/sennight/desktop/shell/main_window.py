"""The window: the rail, the bar on top, the page in front and the status line."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QCloseEvent, QUndoGroup, QUndoStack
from PySide6.QtWidgets import QHBoxLayout, QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from sennight.desktop.clients.actions import list_specs
from sennight.desktop.clients.client_dialog import ClientDialog
from sennight.desktop.clients.folder_page import FolderPage
from sennight.desktop.clients.list_page import ClientsPage
from sennight.desktop.course.actions import course_specs
from sennight.desktop.course.page import CoursePage
from sennight.desktop.intake.import_file import import_file
from sennight.desktop.kit.navigation import (
    CLIENTS,
    HERBS,
    PLACE_OF,
    REMEDIES,
    History,
    Route,
    RouteKind,
)
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.theme import Theme
from sennight.desktop.materia_medica.section import HerbsSection
from sennight.desktop.remedies.actions import remedies_specs
from sennight.desktop.remedies.section import RemediesSection
from sennight.desktop.shell.actions import action_specs, make_actions
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.card_dialog import ask_for_card
from sennight.desktop.shell.find import FindIndex, Sort, Thing
from sennight.desktop.shell.find_field import FindField
from sennight.desktop.shell.keys_dialog import KeysDialog
from sennight.desktop.shell.opening import Reopening
from sennight.desktop.shell.practice_dialog import PracticeDialog
from sennight.desktop.shell.protocol_dialog import ProtocolDialog
from sennight.desktop.shell.rail import Rail
from sennight.desktop.shell.settings import Settings
from sennight.desktop.shell.status_line import StatusLine
from sennight.desktop.shell.top_bar import TopBar
from sennight.practice.clients import add_client
from sennight.practice.opening import DamagedFileError, MissingRecordError, OpenPractice
from sennight.practice.protocols import shelf_protocol

Section = RemediesSection | HerbsSection


class MainWindow(QMainWindow):
    """Goes from page to page; what a page is about is the page's own business."""

    def __init__(
        self,
        practice: OpenPractice,
        appearance: Appearance,
        settings: Settings,
        *,
        today: Callable[[], date] = date.today,
    ) -> None:
        super().__init__()
        self._practice, self._appearance, self._settings = practice, appearance, settings
        self._today = today
        self._history = History(CLIENTS)
        self._course_title = ""
        self.reopening: Reopening | None = None
        self._undo = QUndoGroup(self)
        self.actions_by_id = make_actions(self, self._doing())
        self._make_parts()
        self._make_pages()
        self._lay_out()
        self._connect()
        self._apply_theme(appearance.theme)
        self._restore()
        self._show_here()

    # Layout

    def _make_parts(self) -> None:
        self.find_field = FindField(self, FindIndex(self._practice))
        self.rail = Rail(self.actions_by_id, self._appearance)
        self.top_bar = TopBar(self.actions_by_id, self.find_field)
        self.stack = QStackedWidget()
        self.status = StatusLine()

    def _make_pages(self) -> None:
        theme = self._appearance.theme
        self.clients = ClientsPage(self._practice, theme, self._today)
        self.folder = FolderPage(self._practice, theme, self._now)
        self.course = CoursePage(self._practice, theme, self, now=self._now)
        self.remedies = RemediesSection(self._practice, theme, self._today)
        self.herbs = HerbsSection(self._practice, theme)
        self.places: tuple[Section, ...] = (self.remedies, self.herbs)
        placed = (page for place in self.places for page in place.pages)
        for page in (self.clients, self.folder, self.course, *placed):
            self.stack.addWidget(page)

    def _place(self, kind: RouteKind) -> Section | None:
        """The place that has pages of a kind, where it is one that brings its own pages up."""
        return next((place for place in self.places if kind in place.kinds), None)

    def _now(self) -> datetime:
        """The clock's time on the day that counts as today."""
        return datetime.combine(self._today(), datetime.now().astimezone().timetz())

    def _lay_out(self) -> None:
        right = QVBoxLayout()
        right.setContentsMargins(0, 0, 0, 0)
        right.setSpacing(0)
        right.addWidget(self.top_bar)
        right.addWidget(self.stack, 1)
        right.addWidget(self.status)
        whole = QWidget()
        layout = QHBoxLayout(whole)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.rail)
        layout.addLayout(right, 1)
        self.setCentralWidget(whole)

    def _apply_theme(self, theme: Theme) -> None:
        bars = (self.rail, self.top_bar, self.status)
        for part in (*bars, self.clients, self.folder, self.course):
            part.apply_theme(theme)
        for place in self.places:
            place.apply_theme(theme)

    def _restore(self) -> None:
        if not self.restoreGeometry(self._settings.geometry):
            self.resize(1280, 800)

    # What can be done

    def _doing(self) -> dict[str, Callable[[], object]]:
        return {
            "back": self.back,
            "find": self._to_find,
            "clients": lambda: self.go(CLIENTS),
            "remedies": lambda: self.go(REMEDIES),
            "herbs": lambda: self.go(HERBS),
            "quit": self.close,
            "undo": lambda: self._undo_or_redo(undo=True),
            "redo": lambda: self._undo_or_redo(undo=False),
            "new-client": self.new_client,
            "card": self.change_card,
            "practice": self.show_practice,
            "larger-text": lambda: self._appearance.step_scale(1),
            "smaller-text": lambda: self._appearance.step_scale(-1),
            "keys": self._show_keys,
        }

    def _connect(self) -> None:
        self._appearance.changed.connect(self._apply_theme)
        self.find_field.chosen.connect(self._open_thing)
        self.clients.opened.connect(lambda client: self.go(Route(RouteKind.FOLDER, client)))
        self.clients.new_wanted.connect(self.new_client)
        self.clients.bring_wanted.connect(self.bring_in)
        self.folder.course_opened.connect(lambda course: self.go(Route(RouteKind.COURSE, course)))
        self.folder.said.connect(self.say)
        self.folder.changed.connect(self._title)
        self.course.closed.connect(self.back)
        self.course.title_changed.connect(self._title_course)
        for place in self.places:
            place.going.connect(self.go)
            place.said.connect(self.say)
            place.retitled.connect(self._title)
        self._undo.canUndoChanged.connect(self._name_undo)
        self._undo.canRedoChanged.connect(self._name_undo)
        self._undo.undoTextChanged.connect(self._name_undo)
        self._undo.redoTextChanged.connect(self._name_undo)

    # Going about

    def go(self, spot: Route) -> None:
        """Go to a spot, if it is there."""
        before = self._history.here
        self._leave()
        self._history.go(spot)
        try:
            self._show_here()
        except (MissingRecordError, DamagedFileError) as error:
            self._history.back()
            gone = isinstance(error, MissingRecordError)
            self.say(self.tr("That is no longer in this practice.") if gone else str(error))
            if self._history.here != before:
                self._show_here()

    def back(self) -> None:
        """Go back to where the user was."""
        self._leave()
        self._history.back()
        self._show_here()

    def _leave(self) -> None:
        place = self._place(self._history.here.kind)
        if place is not None:
            place.leave(self._history.here.kind)
        elif self._history.here.kind is RouteKind.FOLDER:
            self.folder.keep_note()

    def _show_here(self) -> None:
        spot = self._history.here
        page = self._page(spot)
        self.stack.setCurrentWidget(page)
        self._watch(self._stack_of(spot.kind))
        self.actions_by_id["back"].setEnabled(self._history.can_go_back)
        self.rail.mark(PLACE_OF[spot.kind])
        self._title()
        self._to_page(page)

    def _page(self, spot: Route) -> Any:  # noqa: ANN401 - pages share methods, no base class
        """The page of a spot, brought up to date."""
        place = self._place(spot.kind)
        if place is not None:
            return place.page(spot)
        if spot.kind is RouteKind.FOLDER:
            self.folder.open(spot.id)
            return self.folder
        if spot.kind is RouteKind.COURSE:
            self.course.open(spot.id)
            return self.course
        self.clients.load()
        return self.clients

    def _stack_of(self, kind: RouteKind) -> QUndoStack | None:
        place = self._place(kind)
        if place is not None:
            return place.undo_stack(kind)
        if kind is RouteKind.FOLDER:
            return self.folder.undo_stack
        return self.course.undo_stack if kind is RouteKind.COURSE else None

    def _to_page(self, page: Any) -> None:  # noqa: ANN401 - as in _page
        """Give the keyboard to the page, once it is shown."""
        QTimer.singleShot(0, page, page.take_focus)

    def _title(self) -> None:
        kind = self._history.here.kind
        names = {RouteKind.FOLDER: self.folder.title.text(), RouteKind.COURSE: self._course_title}
        place = self._place(kind)
        name = place.title(kind) if place else names.get(kind, self.clients.list.title.text())
        self.setWindowTitle(f"{name} – Sennight")

    def _title_course(self, title: str) -> None:
        self._course_title = title
        self._title()

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
            spec = next(spec for spec in action_specs() if spec.id == name)
            action.setToolTip(f"{spec.text}: {what} ({spec.keys[0]})" if what else spec.tip)

    def _undo_or_redo(self, *, undo: bool) -> None:
        what = self._undo.undoText() if undo else self._undo.redoText()
        (self._undo.undo if undo else self._undo.redo)()
        text = self.tr("Undone: {what}.") if undo else self.tr("Done again: {what}.")
        self.say(text.format(what=what))

    # Doing

    def say(self, text: str) -> None:
        """Tell in the status line what happened."""
        self.status.say(text)

    def _to_find(self) -> None:
        self.find_field.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.find_field.selectAll()

    def _open_thing(self, thing: Thing) -> None:
        if thing.sort is Sort.CLIENT:
            self.go(Route(RouteKind.FOLDER, thing.id))
        elif thing.sort is Sort.COURSE:
            self.go(Route(RouteKind.COURSE, thing.id))
        elif thing.sort is Sort.PROTOCOL:
            ProtocolDialog(self, shelf_protocol(self._practice, thing.id)).exec()
        else:
            kind = RouteKind.HERB if thing.sort is Sort.HERB else RouteKind.REMEDY
            self.go(Route(kind, thing.id))

    def _show_keys(self) -> None:
        KeysDialog(
            self, (*action_specs(), *list_specs(), *course_specs(), *remedies_specs())
        ).exec()

    def new_client(self) -> None:
        """Ask for a new client, and open their folder."""
        dialog, made = ClientDialog(self, today=self._today()), []

        def save() -> None:
            if dialog.answer is not None:
                client, contact, note = dialog.answer
                made.append(add_client(self._practice, client, contact=contact, note=note))

        if saved_from(dialog, save):
            self.go(Route(RouteKind.FOLDER, made[0]))
            text = self.tr("There is a folder for {name} now.")
            self.say(text.format(name=self.folder.title.text()))
        dialog.deleteLater()

    def bring_in(self) -> None:
        """Bring a course file in, and go to what came with it."""
        brought = import_file(self, self._practice, self._now())
        if brought is None:
            return
        if brought.course_id:
            self.go(Route(RouteKind.COURSE, brought.course_id))
        else:
            self._show_here()
        self.say(self.tr("The course file was brought in; its protocol is on the shelf."))

    def change_card(self) -> None:
        """Ask for the practice's card, and save it."""
        if ask_for_card(self, self._practice):
            self.say(self.tr("The practice card is saved."))

    def show_practice(self) -> None:
        """Show how the practice is; close where another or a backup is to be opened."""
        dialog = PracticeDialog(self, self._practice, self._settings)
        dialog.exec()
        dialog.deleteLater()
        if dialog.reopening is not None:
            self.reopening = dialog.reopening
            self.close()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Keep what was typed and where the window was."""
        self._leave()
        self._settings.geometry = self.saveGeometry()
        self._settings.flush()
        super().closeEvent(event)
