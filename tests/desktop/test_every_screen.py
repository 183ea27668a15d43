"""Every page and every dialog, looked over: names, cut texts, keys, contrast, blanks, scroll bars.

Pages are those of the demo, which has most on them. Each of two sizes of text is walked in each of
two sizes of window, once in light and once in dark; dialogs, whose size follows the text alone, in
the usual look and in the one that differs most from it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import partial

import pytest
from PySide6.QtCore import QCoreApplication, QSize
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QWidget,
)
from pytestqt.qtbot import QtBot

from sennight.desktop.course.giving.dialog import GiveDialog
from sennight.desktop.course.giving.request import HandoutRequest
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
from sennight.desktop.kit.paper_dialog import PaperDialog
from sennight.desktop.kit.room import room_on
from sennight.desktop.protocols.section import ProtocolsSection
from sennight.desktop.remedies.section import RemediesSection
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Scheme, Settings
from sennight.practice.courses import list_courses
from sennight.practice.demo import throw_away_demo
from sennight.practice.opening import OpenPractice, open_practice
from sennight.practice.protocols import list_protocol_titles
from sennight.practice.remedies import list_remedies
from support.every_dialog import OPENED, Opener, course_of, in_dialog, of_course
from support.looking_over import (
    AA_PARTS,
    AA_TEXT,
    MOST_BLANK,
    Picture,
    blank_foot,
    cut,
    cut_names,
    equal_shortcuts,
    faint,
    nameless,
    nested_bars,
    unreachable,
    unstyled,
)
from support.pages import controller_of
from support.sample_practice import TODAY, Sample

WHOLE_SCREEN = QSize(1920, 1050)
LARGE, SMALL = QSize(1280, 735), QSize(1024, 700)
"""Usual and smallest windows, less the frame."""

SCREEN = QSize(1280, 800)
"""A screen in common use, on which large text leaves dialogs some 25 lines."""

DEMO_DAY = date(2026, 11, 28)


@dataclass(frozen=True)
class Look:
    """Colours, the size of text in percent, and the size of the window."""

    scheme: Scheme
    scale: int
    size: QSize

    def __str__(self) -> str:
        return f"{self.scheme}-{self.scale}-{self.size.width()}"


LOOKS = (
    Look(Scheme.LIGHT, 100, LARGE),
    Look(Scheme.DARK, 100, SMALL),
    Look(Scheme.DARK, 150, LARGE),
    Look(Scheme.LIGHT, 150, SMALL),
)
OF_DIALOGS = (LOOKS[0], LOOKS[2])


def remedy(frame: MainWindow, _sample: Sample) -> None:
    frame.go(Route(RouteKind.REMEDY, "tea"))
    frame.section(RemediesSection).remedy.show_versions()


def comparing(frame: MainWindow, _sample: Sample) -> None:
    frame.go(Route(RouteKind.PROTOCOL, "supplied:joints"))
    frame.section(ProtocolsSection).work.compare()


def giving(frame: MainWindow, sample: Sample) -> None:
    """As if the finding that stands against it were accepted."""
    course = course_of(frame, sample)
    to = HandoutRequest(course.practice, course.entry.id, course.session.reading, course.now())
    course._show(GiveDialog(to, course.theme, course))


TOLD: dict[str, Opener] = {
    "KeysDialog": lambda frame, _: frame.actions_by_id["keys"].trigger(),
    "ChangesDialog": lambda frame, _: frame.actions_by_id["changes"].trigger(),
    "PracticeDialog": lambda frame, _: frame.show_practice(),
    "ProtocolRecordDialog": lambda frame, _: frame.show_over_clients(),
    "CompareDialog": comparing,
    "VersionsSheet": remedy,
    "VersionsDialog": of_course("versions"),
    "LookBack": of_course("stood"),
    "GiveDialog": giving,
}
"""Dialogs into which nothing is typed that is kept."""


@pytest.fixture(scope="module")
def demo() -> Iterator[OpenPractice]:
    with throw_away_demo(DEMO_DAY) as path, open_practice(path) as practice:
        yield practice


def pages(practice: OpenPractice) -> Iterator[Route]:
    """A route to every page; to the courses of all clients, since they differ most."""
    yield from (BENCH, CLIENTS, PROTOCOLS, REMEDIES, HERBS, DISPENSARY)
    courses = sorted(list_courses(practice), key=lambda entry: entry.client_name)
    yield Route(RouteKind.FOLDER, courses[0].client_id)
    for entry in courses[:3]:
        yield Route(RouteKind.COURSE, entry.id)
    yield Route(RouteKind.PROTOCOL, "supplied:joints")
    yield Route(RouteKind.PROTOCOL, list_protocol_titles(practice)[0].id)
    yield Route(RouteKind.REMEDY, list_remedies(practice)[0].id)
    yield Route(RouteKind.HERB, "meadowsweet")


def settle() -> None:
    """Lay out, and what that asks for in the next turns."""
    for _ in range(3):
        QCoreApplication.processEvents()


def faults(screen: QWidget, picture: Picture) -> list[str]:
    """What is wrong with a screen, but for its size."""
    kinds = (nameless, cut, unstyled, equal_shortcuts, nested_bars)
    return [*faint(picture), *(fault for kind in kinds for fault in kind(screen))]


Opened = Callable[[OpenPractice, date, Look], MainWindow]


@pytest.fixture
def opened(
    qtbot: QtBot, appearance: Appearance, settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> Opened:
    """The window of a practice, in a look, on a screen of the usual size."""
    monkeypatch.setattr(FormDialog, "_room", lambda _: room_on(SCREEN))

    def opened(practice: OpenPractice, today: date, look: Look) -> MainWindow:
        settings.scheme = look.scheme
        appearance.choose_scale(look.scale)
        frame = MainWindow(practice, appearance, settings, today=lambda: today)
        qtbot.addWidget(frame, before_close_func=QWidget.hide)
        frame.resize(look.size)
        frame.show()
        frame.activateWindow()
        return frame

    return opened


@pytest.mark.parametrize("look", LOOKS, ids=str)
def test_every_page(look: Look, demo: OpenPractice, opened: Opened) -> None:
    frame, found = opened(demo, DEMO_DAY, look), dict[str, list[str]]()
    for route in pages(demo):
        frame.go(route)
        settle()
        wrong = faults(frame, Picture(frame))
        if QApplication.focusWidget() is None:  # a part shown before it stood anywhere took it
            wrong.append("the keyboard is nowhere")
        if look is not LOOKS[3] or route in (BENCH, CLIENTS):  # where text is large in little room
            wrong += cut_names(frame)
        if frame.size() != look.size:
            wrong.append(f"asks for {frame.size().toTuple()}")
        if look is LOOKS[0]:
            wrong += unreachable(frame)
        if wrong:
            found[f"{route.kind} {route.id}"] = wrong
    assert found == {}
    if look.scale > 100:
        check_it_stays_small(frame, demo, look)


def check_it_stays_small(frame: MainWindow, demo: OpenPractice, look: Look) -> None:
    """A window gets small at once, and no page that was in view before makes it grow."""
    for route in (route for route in pages(demo) if route.kind is RouteKind.COURSE):
        frame.go(route)
        frame.resize(WHOLE_SCREEN)
        settle()
        frame.resize(look.size)
        settle()
        assert frame.size() == look.size, "from the whole of a large screen"
        course = controller_of(frame)
        course.decide("review")
        settle()
        course.review.leave()
        frame.go(BENCH)
        settle()
        assert frame.size() == look.size, "from a review that was just left"


MAY_SCROLL = {
    "CompareDialog",
    "KeysDialog",
    "ClientDialog of a client",
    "PhaseDialog",
    "RedFlagsDialog",
    "ProtocolRecordDialog",
}
"""Dialogs with more in them than large text leaves lines for; others save gaps and heading."""


def scrolls(dialog: QDialog) -> bool:
    """Whether a field of a dialog can be below the fold."""
    bodies = (part for part in dialog.findChildren(QScrollArea) if part.parent() is dialog)
    return any(body.verticalScrollBar().maximum() > 0 for body in bodies)


@pytest.mark.parametrize("look", OF_DIALOGS, ids=str)
def test_every_dialog(look: Look, sample: Sample, opened: Opened) -> None:
    frame, found = opened(sample.practice, TODAY, look), dict[str, list[str]]()

    def look_over(name: str, dialog: QDialog) -> None:
        if not isinstance(dialog, FormDialog):
            found[name] = [f"“{dialog.accessibleName()}” came up instead"]
            return
        if isinstance(dialog, PaperDialog):
            dialog.preview.show_now()
        settle()
        picture = Picture(dialog)
        wrong = faults(dialog, picture)
        blank = 0 if dialog.is_part else blank_foot(dialog, picture)
        if not dialog.is_part and name not in MAY_SCROLL and scrolls(dialog):
            wrong.append("its body scrolls")
        if blank > MOST_BLANK:
            wrong.append(f"{blank} pixels at the foot are blank")
        if look is LOOKS[0]:
            wrong += unreachable(dialog)
        if wrong:
            found[name] = wrong

    for name, opener in (OPENED | TOLD).items():
        in_dialog(name, partial(look_over, name), frame, sample, opener)
    assert not found, "\n".join(f"{n}: {w}" for n, w in found.items())


def a_bad_screen(appearance: Appearance) -> QWidget:
    screen = QWidget()
    screen.resize(400, 400)
    QLineEdit(screen).setGeometry(10, 10, 100, 30)
    QLabel("a text that has no room", screen).setGeometry(10, 50, 40, 30)
    QPushButton("a button without room", screen).setGeometry(60, 50, 40, 30)
    for _ in range(2):
        action = QAction(screen)
        action.setShortcut("Ctrl+J")
        screen.addAction(action)
    faint_label = QLabel("too faint", screen)
    faint_label.setGeometry(10, 90, 100, 30)
    hairline = appearance.theme.hairline.name()
    faint_label.setStyleSheet(f"color: {hairline}")
    pale = QLineEdit(screen)
    pale.setGeometry(10, 130, 100, 30)
    pale.setAccessibleName("Pale")
    pale.setStyleSheet(f"border: 1px solid {hairline}")
    around, within, long = QScrollArea(screen), QScrollArea(), QLabel("\n" * 40)
    within.setWidget(long)
    within.setFixedHeight(300)
    around.setWidget(within)
    around.setGeometry(10, 170, 200, 100)
    first, last = QPushButton("by Tab", screen), QPushButton("not by Tab", screen)
    first.setGeometry(220, 10, 120, 40)
    last.setGeometry(220, 60, 160, 40)
    last.setFocusProxy(first)
    return screen


def test_what_is_looked_for_is_found(qtbot: QtBot, appearance: Appearance) -> None:
    """A screen with one fault of each kind, so that a check that sees nothing is noticed."""
    screen = a_bad_screen(appearance)
    qtbot.addWidget(screen, before_close_func=QWidget.hide)
    screen.show()
    settle()
    picture = Picture(screen)
    assert nameless(screen) == ["QLineEdit  has no name"]
    assert cut(screen) == ["“a text that has no room” is cut", "“a button without room” is cut"]
    assert equal_shortcuts(screen) == ["Ctrl+J is there 2 times"]
    assert len(nested_bars(screen)) == 1
    pale = [float(fault.split()[-3]) for fault in faint(picture)]
    assert len(pale) == 2
    assert pale[0] < AA_TEXT
    assert pale[1] < AA_PARTS
    assert unreachable(screen) == ["“not by Tab” is not reached by Tab"]
