"""The section of the clients: the list of them, a client's folder, and a course."""

# What a page needs is imported when it is made, so that the window is there at once.
# ruff: noqa: PLC0415

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import cached_property, partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QUndoStack

from sennight.desktop.clients.actions import list_specs
from sennight.desktop.course.actions import course_specs, found_specs
from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.navigation import CLIENTS, Route, RouteKind
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.section import Page, Section
from sennight.desktop.kit.translating import translate
from sennight.domain.courses.clients import Topic
from sennight.practice.clients import add_client

if TYPE_CHECKING:
    from sennight.desktop.clients.folder_page import FolderPage
    from sennight.desktop.clients.list_page import ClientsPage
    from sennight.desktop.course.page import CoursePage

COURSE_FORMS = frozenset(
    {
        "flare",
        "pause",
        "advance",
        "extend",
        "redirect",
        "stop",
        "end",
        "aims",
        "reaction",
        "diary",
        "save-as-protocol",
        "accept",
        "discuss",
        "strike",
        "join",
        "formula",
        "line",
        "lines",
        "phase",
        "rename",
        "formula-swap",
        "formula-without",
    }
)
"""The words of the forms on a course's page."""


OF_COURSE = (RouteKind.COURSE, RouteKind.REVIEW)
"""What the page of a course shows."""


class ClientsSection(Section):
    """Clients, their folders and their courses; a course file is brought in here."""

    home, icon = CLIENTS, "clients"
    kinds = (RouteKind.CLIENTS, RouteKind.FOLDER, *OF_COURSE)

    @cached_property
    def clients(self) -> ClientsPage:
        """The page of all clients."""
        from sennight.desktop.clients.list_page import ClientsPage

        page = self.made(ClientsPage(self.around.practice, self.theme, self.around.today))
        page.opened.connect(lambda client: self._go_to(RouteKind.FOLDER, client))
        page.new_wanted.connect(self.new)
        page.bring_wanted.connect(self.bring_in)
        return page

    @cached_property
    def folder(self) -> FolderPage:
        """The page of a client."""
        from sennight.desktop.clients.folder_page import FolderPage

        page = self.made(FolderPage(self.around.practice, self.theme, self.around.now))
        page.course_opened.connect(lambda course: self._go_to(RouteKind.COURSE, course))
        page.day_wanted.connect(self._open_day)
        page.diary_wanted.connect(self._open_diary)
        page.scores_wanted.connect(self._open_scores)
        page.status_message.connect(self.status_message)
        return page

    @cached_property
    def course(self) -> CoursePage:
        """The page of a course."""
        from sennight.desktop.course.page import CoursePage

        page = self.made(CoursePage(self.around.practice, self.theme, now=self.around.now))
        page.turned.connect(self._tell_turned)
        return page

    @classmethod
    def spec(cls) -> ActionSpec:
        """Goes to the list of clients."""
        return ActionSpec(
            "clients",
            translate("Actions", "Clients"),
            translate("Actions", "Go to the clients"),
            ("Ctrl+2",),
        )

    @classmethod
    def new_spec(cls) -> ActionSpec:
        """Makes a folder."""
        return ActionSpec(
            "new-client",
            translate("Actions", "New client"),
            translate("Actions", "Add a new client"),
            ("Ctrl+N",),
        )

    @classmethod
    def page_specs(cls) -> tuple[ActionSpec, ...]:
        """The menu of the list, and what is done on a course's page."""
        return (*list_specs(), *course_specs())

    def _go_to(self, kind: RouteKind, record: str) -> None:
        self.going.emit(Route(kind, record))

    def _tell_turned(self) -> None:
        if self.course.controller is not None:
            kind = RouteKind.REVIEW if self.course.is_review else RouteKind.COURSE
            self.turned.emit(Route(kind, self.course.controller.entry.id))

    def _open_day(self, course: str, day: date) -> None:
        self.going.emit(Route(RouteKind.COURSE, course, day))

    def _open_diary(self, course: str, day: date) -> None:
        self._open_day(course, day)
        if self.course.controller is not None and self.course.has(course):
            self.course.controller.records.enter_diary_on(day)

    def _open_scores(self, course: str, day: date) -> None:
        self._open_day(course, day)
        if self.course.controller is not None and self.course.has(course):
            self.course.controller.records.enter_scores_on(day)

    def page(self, route: Route) -> Page:
        """The page of a route, brought up to date; raises MissingRecordError."""
        if route.kind == RouteKind.FOLDER:
            self.folder.open(route.id)
            return self.folder
        if route.kind == RouteKind.REVIEW:
            self.course.show_review(route.id)
            return self.course
        if route.kind == RouteKind.COURSE:
            self.course.show_course(route.id)
            if route.day is not None and self.course.controller is not None:
                self.course.controller.session.go_to(route.day)
            return self.course
        self.clients.load()
        return self.clients

    def title(self, kind: str) -> str:
        """What is in front, without the client's name, since the system keeps titles."""
        if kind == RouteKind.FOLDER:
            return translate("Clients", "Client")
        if kind == RouteKind.REVIEW:
            return translate("Clients", "Review")
        is_course = kind == RouteKind.COURSE
        return translate("Clients", "Course") if is_course else self.clients.list.title.text()

    def acts(self, kind: str) -> tuple[ActionSpec, ...]:
        """The decisions on a course, and what is entered and given."""
        return found_specs() if kind in OF_COURSE and self.course.controller else ()

    def act(self, name: str) -> None:
        """Decide, enter or give."""
        if self.course.controller is not None:
            self.course.controller.decide(name)

    def undo_stack(self, kind: str) -> QUndoStack | None:
        """The edits of the folder or the course."""
        if kind == RouteKind.FOLDER:
            return self.folder.undo_stack
        return self.course.undo_stack if kind in OF_COURSE else None

    def leave(self, kind: str) -> None:
        """Keep the note that was typed into a folder, and the last edit of a course."""
        if kind == RouteKind.FOLDER:
            self.folder.keep_note()
        elif kind in OF_COURSE:
            self.course.save_now()

    def resume(self, form: str, subject: str) -> bool:
        """Open a client's form or a course's again."""
        if form == "client" and not subject:
            self.new()
            return True
        of_client: dict[str, Callable[[], object]] = {
            "client": self.folder.change,
            "client-note": self.folder.note.setFocus,
            "client-person": lambda: self.folder.change_facts(None),
            "consultation": self.folder.write,
            "start": self.folder.start_course,
            "red-flags": self.folder.ask_for_flags,
            "referral": self.folder.banner.write_letter,
        }
        of_client |= {
            f"client-{topic}": partial(self.folder.change_facts, topic) for topic in Topic
        }
        if form == "consultation-headings":
            self.folder.choose_headings()
            return True
        word, _, number = form.partition("/")
        if word == "consultation" and number.isdecimal():
            of_client[form] = partial(self.folder.open_consultation, int(number))
        of_course = word in COURSE_FORMS
        if form not in of_client and not of_course:
            return False
        self._go_to(RouteKind.COURSE if of_course else RouteKind.FOLDER, subject)
        if of_course and self.course.controller is not None:
            self.course.controller.resume(form)
        elif not of_course:
            of_client[form]()
        return True

    def new(self) -> None:
        """Ask for a new client, and open their folder."""
        from sennight.desktop.clients.client_dialog import ClientDialog
        from sennight.practice.own_herbs import known_herbs

        names = known_herbs(self.around.practice).names
        dialog = ClientDialog(self.clients.window(), names=names, today=self.around.today())
        added: list[str] = []
        dialog.keep_draft(self.around.practice, "client")

        def save() -> None:
            if dialog.answer is not None:
                client, contact, note = dialog.answer
                added.append(add_client(self.around.practice, client, contact=contact, note=note))

        if saved_from(dialog, save):
            self._go_to(RouteKind.FOLDER, added[0])
            text = self.tr("{name} was added.")
            self.status_message.emit(text.format(name=self.folder.title.text()))
        dialog.deleteLater()

    def bring_in(self) -> None:
        """Bring a course file in, and go to what came with it."""
        from sennight.desktop.intake.import_file import import_file

        imported = import_file(self.clients.window(), self.around.practice, self.around.now())
        if imported is None:
            return
        if imported.course_id:
            self._go_to(RouteKind.COURSE, imported.course_id)
        else:
            self.going.emit(CLIENTS)
        self.status_message.emit(
            self.tr("The course file was imported; its protocol is saved to Protocols.")
        )
