"""Pictures of every screen on the demo practice, drawn without a display.

write_pictures(Path("demo-output/pictures"), date.today())
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from datetime import date
from functools import partial
from itertools import product
from pathlib import Path

from PySide6.QtCore import (
    QBuffer,
    QCoreApplication,
    QEventLoop,
    QIODevice,
    QMessageLogContext,
    Qt,
    QTimer,
    QtMsgType,
    qInstallMessageHandler,
)
from PySide6.QtWidgets import QApplication, QDialog, QWidget

from sennight.desktop.app import application
from sennight.desktop.clients.folder_page import FolderPage
from sennight.desktop.course.calendar.calendar_view import CalendarScale
from sennight.desktop.course.controller import CourseController
from sennight.desktop.course.giving.dialog import GiveDialog
from sennight.desktop.dispensary.section import DispensarySection
from sennight.desktop.dispensary.work import DispensaryWork
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.navigation import (
    BENCH,
    CLIENTS,
    DISPENSARY,
    HERBS,
    PROTOCOLS,
    REMEDIES,
    Route,
    RouteKind,
)
from sennight.desktop.protocols.section import ProtocolsSection
from sennight.desktop.remedies.section import RemediesSection
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.clients_section import ClientsSection
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Scheme, Settings
from sennight.domain.remedies.forms import Form
from sennight.places import own_folder
from sennight.practice.courses import CourseEntry, list_courses
from sennight.practice.demo import Demo, read_demo, throw_away_demo
from sennight.practice.opening import OpenPractice, open_practice
from sennight.practice.remedies import list_remedies
from sennight.practice.writing import write_files

NO_SCREEN = "This plugin does not support propagateSizeHints()"
"""What Qt says of every window that has no screen."""

SIZE = (1280, 800)
SCHEMES = (Scheme.LIGHT, Scheme.DARK)
SCALES = (100, 150)
EVERY_SCREEN = ((Scheme.LIGHT, 100), (Scheme.DARK, 150))
"""The themes in which every screen is drawn: the usual one, and the one that differs most."""
EVERY_THEME = frozenset({"bench", "clients", "course", "remedy"})
"""The screens that are drawn in every theme."""

Draw = Callable[[MainWindow], bytes]
"""Brings a screen up and gives its picture, as PNG."""


def write_pictures(folder: Path, today: date) -> tuple[Path, ...]:
    """Draw every screen, light with text at 100 % and dark at 150 %; raises FolderError.

    Four of them are drawn in both schemes at both sizes.
    Where Qt has not been started yet it is started without a display.
    """
    os.environ["QT_QPA_PLATFORM"] = platform_for_pictures(os.environ.get("QT_QPA_PLATFORM", ""))
    qInstallMessageHandler(_tell)
    app = application()
    pictures: dict[str, bytes] = {}
    demo = read_demo(today)
    with throw_away_demo(today) as path, open_practice(path) as practice:
        settings = Settings(path.with_suffix(".ini"))
        appearance = Appearance(app, settings)
        frame = MainWindow(practice, appearance, settings, today=lambda: today)
        frame.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
        frame.show()
        for scheme, scale in product(SCHEMES, SCALES):
            settings.scheme = scheme
            appearance.choose_scale(scale)  # puts both into force at once
            for name, draw in screens(practice, demo):
                if (scheme, scale) in EVERY_SCREEN or name in EVERY_THEME:
                    frame.resize(*SIZE)
                    pictures[f"{name}-{scheme}-{scale}.png"] = draw(frame)
        frame.close()
    return write_files(folder, pictures)


def platform_for_pictures(chosen: str) -> str:
    """Qt's platform for the pictures, given the one that was chosen, if any.

    Without a display Qt's own screen is 800 pixels wide, too few for any dialog.
    """
    return _platform() if chosen in {"", "offscreen"} else chosen


def _platform() -> str:
    """Qt's platform without a display, with a screen of the smallest size that all must fit."""
    screen = own_folder("resources") / "pictures" / "screen.json"
    fits = ":" not in str(screen)  # which would end the setting, as in C:\\
    return f"offscreen:configfile={screen}" if fits else "offscreen"


def screens(practice: OpenPractice, demo: Demo) -> Iterator[tuple[str, Draw]]:
    """Each screen's name, and what draws it."""
    entries = {entry.id: entry for entry in list_courses(practice)}
    joints, hands, flare, *_ = (entries[client.file.course.id] for client in demo.clients)
    yield "bench", lambda frame: page(frame, BENCH)
    yield "clients", lambda frame: page(frame, CLIENTS)
    yield "client", lambda frame: page(frame, Route(RouteKind.FOLDER, joints.client_id))
    yield "new-client", lambda frame: dialog(frame.section(ClientsSection).new)
    yield "start", lambda frame: dialog(folder(frame, joints).start_course)
    yield "practice-card", lambda frame: dialog(frame.change_card)
    yield "over-clients", lambda frame: dialog(frame.show_over_clients)
    yield "course", lambda frame: course(frame, joints, CalendarScale.COURSE)
    yield "course-month", lambda frame: course(frame, joints, CalendarScale.MONTH)
    yield "course-day", lambda frame: course(frame, joints, CalendarScale.DAY)
    yield "weeks-off", lambda frame: course(frame, hands, CalendarScale.COURSE)
    yield "flare-up", lambda frame: course(frame, flare, CalendarScale.COURSE)
    yield "review", lambda frame: reviewed(frame, joints)
    yield "diary", lambda frame: dialog(controller(frame, joints).records.enter_diary)
    yield "scores", lambda frame: dialog(controller(frame, joints).records.enter_scores)
    yield "stood", lambda frame: dialog(lambda: controller(frame, flare).decide("stood"))
    yield "versions", lambda frame: dialog(lambda: controller(frame, flare).decide("versions"))
    yield "give", lambda frame: dialog(controller(frame, joints).give)
    drops = next(entry for entry in list_remedies(practice) if entry.remedy.form is Form.TINCTURE)
    yield "protocols", lambda frame: page(frame, PROTOCOLS)
    yield "protocol", lambda frame: page(frame, Route(RouteKind.PROTOCOL, "supplied:joints"))
    yield "compare", lambda frame: dialog(protocol(frame).work.compare)
    yield "remedies", lambda frame: page(frame, REMEDIES)
    yield "remedy", lambda frame: page(frame, Route(RouteKind.REMEDY, drops.id))
    for name in ("top-up", "balance", "scale", "strength", "young"):
        yield f"answer-{name}", partial(answer, remedy_id=drops.id, question=name)
    yield "herbs", lambda frame: page(frame, HERBS)
    yield "dispensary", lambda frame: page(frame, DISPENSARY)
    yield "prices", lambda frame: dialog(dispensary(frame).set_prices)
    yield "herb", lambda frame: page(frame, Route(RouteKind.HERB, "meadowsweet"))
    yield "reaction", lambda frame: dialog(lambda: controller(frame, joints).decide("reaction"))
    yield "red-flags", lambda frame: dialog(lambda: controller(frame, joints).decide("flags"))
    yield "keep", lambda frame: dialog(lambda: controller(frame, joints).decide("keep"))
    yield "aims", lambda frame: dialog(lambda: controller(frame, joints).decide("aims"))
    yield "decide", lambda frame: deciding(frame, joints)


def page(frame: MainWindow, spot: Route) -> bytes:
    """The window at a spot."""
    frame.go(spot)
    return picture(frame)


def course(frame: MainWindow, entry: CourseEntry, scale: CalendarScale) -> bytes:
    """The window on a course, its calendar at one of its scales.

    The day is drawn where it takes the place of the weeks: in a window as narrow as may be.
    """
    calendar = controller(frame, entry).view.calendar
    if scale is CalendarScale.DAY:
        frame.resize(frame.minimumSizeHint().width(), SIZE[1])
        QCoreApplication.processEvents()
    calendar.show_scale(scale)
    return picture(frame)


def reviewed(frame: MainWindow, entry: CourseEntry) -> bytes:
    """The review of a course."""
    controller(frame, entry).decide("review")
    return picture(frame)


def deciding(frame: MainWindow, entry: CourseEntry) -> bytes:
    """A decision at the side of its course; it is left again."""
    controller(frame, entry).decide("flare")
    drawn = picture(frame)
    for part in frame.findChildren(FormDialog):
        if part.is_part and part.isVisible():
            part.reject()
    return drawn


def answer(frame: MainWindow, remedy_id: str, question: str) -> bytes:
    """One of the questions that a remedy is asked."""
    frame.go(Route(RouteKind.REMEDY, remedy_id))
    return dialog(lambda: frame.section(RemediesSection).remedy.ask(question))


def folder(frame: MainWindow, entry: CourseEntry) -> FolderPage:
    """The folder of a course's client, opened."""
    frame.go(Route(RouteKind.FOLDER, entry.client_id))
    return frame.section(ClientsSection).folder


def protocol(frame: MainWindow) -> ProtocolsSection:
    """A protocol that comes with the program, opened."""
    frame.go(Route(RouteKind.PROTOCOL, "supplied:joints"))
    return frame.section(ProtocolsSection)


def dispensary(frame: MainWindow) -> DispensaryWork:
    """The dispensary, opened."""
    frame.go(DISPENSARY)
    return frame.section(DispensarySection).work


def controller(frame: MainWindow, entry: CourseEntry) -> CourseController:
    """A course, opened."""
    frame.go(CLIENTS)
    frame.go(Route(RouteKind.COURSE, entry.id))
    shown = frame.section(ClientsSection).course.controller
    if shown is None:
        raise LookupError(entry.id)
    return shown


def dialog(ask: Callable[[], object]) -> bytes:
    """The dialog that something opens and waits for; it is drawn and left again."""
    drawn: list[bytes] = []

    def draw() -> None:
        asked = QApplication.activeModalWidget()
        if isinstance(asked, GiveDialog):
            asked.papers.show_now()
        if isinstance(asked, QDialog):
            drawn.append(picture(asked))
            asked.reject()

    QTimer.singleShot(0, draw)
    ask()
    return drawn[0]


def picture(widget: QWidget) -> bytes:
    """A widget as a PNG, once it has drawn itself."""
    for _ in range(3):  # a first turn lays out, and what that asks for comes in the next ones
        QCoreApplication.processEvents(QEventLoop.ProcessEventsFlag.AllEvents)
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    widget.grab().save(buffer, "PNG")
    return bytes(buffer.data().data())


def _tell(_kind: QtMsgType, _context: QMessageLogContext, message: str | None) -> None:
    """Pass on what Qt has to say, except that there is no screen."""
    if message != NO_SCREEN:
        print(message, file=sys.stderr)
