"""What is done with protocols: the shelf, the editor of one protocol, and their dialogs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from html import escape

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QVBoxLayout

from sennight.desktop.intake.import_file import import_protocol_file
from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.file_dialogs import ask_where
from sennight.desktop.kit.menus import menu_button
from sennight.desktop.kit.navigation import Route, RouteKind
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.section import Page, Surroundings
from sennight.desktop.kit.short_dialogs import message_dialog
from sennight.desktop.kit.theme import Theme
from sennight.desktop.parts.protocol_record import ProtocolRecordDialog
from sennight.desktop.protocols.comparing import CompareDialog
from sennight.desktop.protocols.editor import ProtocolEditor
from sennight.desktop.protocols.shelf_page import NameDialog, ShelfPage
from sennight.domain.courses.protocols import Protocol, empty_protocol
from sennight.domain.papers import protocol_file_name
from sennight.domain.remedies.remedies import Remedy
from sennight.practice.protocol_files import write_protocol_file
from sennight.practice.protocols import (
    add_protocol,
    list_protocol_titles,
    list_protocols,
    running_on,
    shelf_protocol,
)
from sennight.practice.supplied_protocols import supplied_protocol, supplied_protocols
from sennight.practice.writing import FolderError

TOML = "Protocol files (*.toml)"


class ProtocolPage(Page):
    """Shows one protocol at a time."""

    def __init__(self, around: Surroundings) -> None:
        super().__init__()
        self.around, self.theme = around, around.theme
        self.undo_stack = QUndoStack(self)
        self.editor: ProtocolEditor | None = None
        self._room = QVBoxLayout(self)
        self._room.setContentsMargins(0, 0, 0, 0)

    def open(self, protocol_id: str) -> ProtocolEditor:
        """Show a protocol as it is on the shelf; raises MissingRecordError."""
        practice = self.around.practice
        shelf = supplied_protocol(protocol_id) or shelf_protocol(practice, protocol_id)
        self.save_now()
        self.undo_stack.clear()
        if self.editor is not None:
            self.editor.lines.keep_typed()
            self._room.removeWidget(self.editor)
            self.editor.hide()
            self.editor.deleteLater()
        self.editor = ProtocolEditor(practice, shelf, self.theme, self.undo_stack)
        self._room.addWidget(self.editor)
        return self.editor

    def save_now(self) -> bool:
        """Save an edit made a moment ago."""
        return self.editor is None or self.editor.session.save_now()

    def take_focus(self) -> None:
        """Give the keyboard to the lines."""
        if self.editor is not None:
            self.editor.lines.table.setFocus()

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another theme."""
        self.theme = theme
        if self.editor is not None:
            self.editor.apply_theme(theme)


class ProtocolsWork(QObject):
    """The shelf of protocols and one of them, with their dialogs.

    `going` asks the window to go to another route.
    """

    going = Signal(object)

    def __init__(self, around: Surroundings) -> None:
        super().__init__()
        self.around = around
        self.shelf, self.protocol = ShelfPage(around), ProtocolPage(around)
        self.shelf.opened.connect(self._go_to)
        self.shelf.new_wanted.connect(self.new)
        self.shelf.file_wanted.connect(self.take_in_file)

    def page(self, route: Route) -> Page:
        """The page of a route, brought up to date; raises MissingRecordError."""
        if route.kind == RouteKind.PROTOCOL:
            self._add_buttons(self.protocol.open(route.id))
            return self.protocol
        self.shelf.load()
        return self.shelf

    def _add_buttons(self, editor: ProtocolEditor) -> None:
        editor.add_button(self.tr("Compare…"), self.compare)
        if editor.is_supplied:
            editor.add_button(self.tr("Save as a file…"), self.save_file)
            editor.add_button(self.tr("Copy to change it"), self.copy, kind="main")
            return
        doing = {
            "record": self.show_record,
            "rename": self.rename,
            "copy": self.copy,
            "save-file": self.save_file,
        }
        specs = (
            ActionSpec(
                "record", self.tr("Over all clients…"), self.tr("See what became of its courses")
            ),
            ActionSpec("rename", self.tr("Rename…"), self.tr("Give it another name")),
            ActionSpec("copy", self.tr("Copy…"), self.tr("Put a copy beside it")),
            ActionSpec("save-file", self.tr("Save as a file…"), self.tr("Save it to pass on")),
        )
        editor.head.addWidget(menu_button(self.tr("Protocol"), specs, doing, editor))
        self._tell_who_takes_it(editor)

    def _tell_who_takes_it(self, editor: ProtocolEditor) -> None:
        """The clients with a running course of it, each a way to the course."""
        today = self.around.today()
        running = running_on(self.around.practice, editor.shelf.protocol.name, today)
        links = (f'<a href="{title.id}">{escape(title.client_name)}</a>' for title in running)
        told = self.tr("Running: {clients}").format(clients=", ".join(links))
        editor.runs.setText(told if running else self.tr("No course of it is running."))
        editor.runs.linkActivated.connect(
            lambda course: self.going.emit(Route(RouteKind.COURSE, course))
        )

    def undo_stack(self, kind: str) -> QUndoStack | None:
        """The edits of the protocol in front."""
        return self.protocol.undo_stack if kind == RouteKind.PROTOCOL else None

    def leave(self, kind: str) -> None:
        """Save what was edited, before the page goes out of view."""
        if kind == RouteKind.PROTOCOL:
            self.protocol.save_now()

    def resume(self, form: str, subject: str) -> bool:
        """Open a form again that was left unfinished."""
        if form == "new-protocol":
            self.new()
        elif form == "protocol-lines":
            self._go_to(subject)
            self.protocol.take_focus()
        elif form in {"copy-protocol", "rename-protocol", "protocol-aims"}:
            self._go_to(subject)
            editor = self._editor()
            doing = {"copy-protocol": self.copy, "rename-protocol": self.rename}
            doing.get(form, editor.choose_aims)()
        else:
            return False
        return True

    # What can be done

    def _go_to(self, protocol_id: str) -> None:
        self.going.emit(Route(RouteKind.PROTOCOL, protocol_id))

    def _editor(self) -> ProtocolEditor:
        editor = self.protocol.editor
        if editor is None:
            raise LookupError("no protocol is open")
        editor.session.save_now()
        return editor

    def new(self) -> None:
        """Ask for a name, and begin an empty protocol."""
        dialog = self._name_dialog(self.tr("New protocol"), self.tr("Create"), "")
        dialog.keep_draft(self.around.practice, "new-protocol")
        self._add_as_named(dialog, lambda name: (empty_protocol(name), ()))

    def copy(self) -> None:
        """Ask for a name, and put a copy onto the shelf."""
        shelf = self._editor().shelf
        name = self._free_name(shelf.protocol.name)
        dialog = self._name_dialog(self.tr("Copy a protocol"), self.tr("Copy"), name)
        dialog.keep_draft(self.around.practice, "copy-protocol", shelf.id)
        self._add_as_named(
            dialog, lambda name: (replace(shelf.protocol, name=name), shelf.remedies)
        )

    def rename(self) -> None:
        """Ask for another name."""
        editor = self._editor()
        before = editor.shelf.protocol.name
        dialog = self._name_dialog(self.tr("Rename a protocol"), self.tr("Rename"), before)
        dialog.keep_draft(self.around.practice, "rename-protocol", editor.shelf.id)
        if dialog.exec() and editor.rename(dialog.shelf.text):
            dialog.forget_draft()
        dialog.deleteLater()

    def _name_dialog(self, title: str, do: str, name: str) -> NameDialog:
        return NameDialog(self.around.practice, self.shelf.window(), title, do, name)

    def _add_as_named(
        self, dialog: NameDialog, make: Callable[[str], tuple[Protocol, tuple[Remedy, ...]]]
    ) -> None:
        """Put a protocol onto the shelf under the name that is given, and go to it."""
        added: list[str] = []

        def save() -> None:
            protocol, remedies = make(dialog.shelf.text)
            added.append(add_protocol(self.around.practice, protocol, remedies=remedies))

        saved_from(dialog, save)
        dialog.deleteLater()
        if added:
            self._go_to(added[0])

    def compare(self) -> None:
        """Show it beside another one."""
        editor = self._editor()
        every = (*list_protocols(self.around.practice), *supplied_protocols())
        others = [other for other in every if other.id != editor.shelf.id]
        dialog = CompareDialog(editor.shelf, others, editor)
        dialog.exec()
        dialog.deleteLater()

    def show_record(self) -> None:
        """Show what became of its courses."""
        editor = self._editor()
        dialog = ProtocolRecordDialog(
            self.around.practice,
            self.around.today(),
            editor,
            name=editor.session.course.protocol.name,
        )
        dialog.exec()
        dialog.deleteLater()

    def save_file(self) -> None:
        """Ask where, and write the protocol as a file, with nothing of a client in it."""
        editor = self._editor()
        title = self.tr("Save as a file")
        path = ask_where(editor, title, protocol_file_name(editor.shelf.protocol.name), TOML)
        if path is None:
            return
        try:
            written = write_protocol_file(self.around.practice, editor.shelf, path)
        except FolderError as error:
            message_dialog(editor, self.tr("Could not be saved"), str(error)).exec()
            return
        message_dialog(editor, self.tr("Saved"), str(written)).exec()

    def take_in_file(self) -> None:
        """Ask for a file, and put the protocol in it onto the shelf."""
        taken = import_protocol_file(self.shelf.window(), self.around.practice)
        if taken:
            self._go_to(taken)

    def _free_name(self, name: str) -> str:
        """The name itself where it is free, else with a number."""
        taken = {entry.name for entry in list_protocol_titles(self.around.practice)}
        numbered = (f"{name} {n}" for n in range(2, len(taken) + 3))
        return next(free for free in (name, *numbered) if free not in taken)
