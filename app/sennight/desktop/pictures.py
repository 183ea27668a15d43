"""Pictures of every screen on the demo practice, drawn without a display.

write_pictures(Path("demo-output/pictures"), date.today())
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

from PySide6.QtCore import (
    QBuffer,
    QCoreApplication,
    QEventLoop,
    QIODevice,
    QMessageLogContext,
    Qt,
    QtMsgType,
    qInstallMessageHandler,
)

from sennight.desktop.app import application
from sennight.desktop.appearance import Appearance
from sennight.desktop.course.calendar_view import Calendar, CalendarScale
from sennight.desktop.frame import Frame
from sennight.desktop.navigation import CLIENTS, Kind, Spot
from sennight.desktop.settings import Scheme, Settings
from sennight.practice.courses import CourseEntry, list_courses
from sennight.practice.demo import Demo, read_demo, throw_away_demo
from sennight.practice.opening import OpenPractice, open_practice
from sennight.practice.writing import write_files

NO_SCREEN = "This plugin does not support propagateSizeHints()"
"""What Qt says of every window that has no screen."""

SIZE = (1280, 800)
SCHEMES = (Scheme.LIGHT, Scheme.DARK)
SCALES = (100, 150)

Show = Callable[[Frame], object]


def write_pictures(folder: Path, today: date) -> tuple[Path, ...]:
    """Draw every screen, light and dark, with text at 100 % and 150 %; raises FolderError.

    Where Qt has not been started yet it is started without a display.
    """
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    qInstallMessageHandler(_tell)
    app = application()
    pictures: dict[str, bytes] = {}
    demo = read_demo(today)
    with throw_away_demo(today) as path, open_practice(path) as practice:
        settings = Settings(path.with_suffix(".ini"))
        appearance = Appearance(app, settings)
        frame = Frame(practice, appearance, settings, today=lambda: today)
        frame.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
        frame.show()
        for scheme in SCHEMES:
            for scale in SCALES:
                settings.scheme = scheme
                appearance.choose_scale(scale)  # puts both into force at once
                for name, show in screens(practice, demo):
                    frame.resize(*SIZE)
                    show(frame)
                    pictures[f"{name}-{scheme}-{scale}.png"] = picture(frame)
        frame.close()
    return write_files(folder, pictures)


def screens(practice: OpenPractice, demo: Demo) -> Iterator[tuple[str, Show]]:
    """Each screen's name, and what brings it up."""
    entries = {entry.id: entry for entry in list_courses(practice)}
    joints, hands, flare, *_ = (entries[client.file.course.id] for client in demo.clients)
    yield "clients", lambda frame: frame.go(CLIENTS)
    yield "client", lambda frame: frame.go(Spot(Kind.FOLDER, joints.client_id))
    yield "course", lambda frame: show_course(frame, joints, CalendarScale.COURSE)
    yield "course-month", lambda frame: show_course(frame, joints, CalendarScale.MONTH)
    yield "course-day", lambda frame: show_course(frame, joints, CalendarScale.DAY)
    yield "weeks-off", lambda frame: show_course(frame, hands, CalendarScale.COURSE)
    yield "flare-up", lambda frame: show_course(frame, flare, CalendarScale.COURSE)


def show_course(frame: Frame, entry: CourseEntry, scale: CalendarScale) -> None:
    """Open a course with its calendar at one of its scales."""
    frame.go(Spot(Kind.COURSE, entry.id))
    calendar = frame.course.findChild(Calendar)
    if isinstance(calendar, Calendar):
        calendar.show_scale(scale)


def picture(frame: Frame) -> bytes:
    """The window as a PNG, once it has drawn itself."""
    for _ in range(3):  # a first turn lays out, and what that asks for comes in the next ones
        QCoreApplication.processEvents(QEventLoop.ProcessEventsFlag.AllEvents)
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    frame.grab().save(buffer, "PNG")
    return bytes(buffer.data().data())


def _tell(_kind: QtMsgType, _context: QMessageLogContext, message: str | None) -> None:
    """Pass on what Qt has to say, except that there is no screen."""
    if message != NO_SCREEN:
        print(message, file=sys.stderr)
