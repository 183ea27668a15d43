"""Prints what the window makes people wait for, each beside a plain thing of the same run.

    python -m bench.figures                     (in the folder tests; about a minute)
    python -m bench.figures --large FILE        also over a large practice, which it makes first
    python -m bench.figures --processor         the processor's time, while the machine is busy

On a display it measures there, else offscreen. Without `--processor` the figures are of the wall's
clock, and of no use while the machine is busy with something else.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtTest import QTest

from bench.large_practice import LARGE, Clock, Spent, make, measure, spent_on
from sennight.collecting import keep_what_is_there
from sennight.desktop.app import application
from sennight.desktop.course.calendar.calendar_view import CalendarScale
from sennight.desktop.kit.navigation import CLIENTS, Route, RouteKind
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Settings
from sennight.domain.practices import PracticeCard
from sennight.practice.card import change_practice_card
from sennight.practice.opening import OpenPractice, open_practice
from support import real_year
from support.pages import controller_of
from support.speed import listed_by_dateutil

EDITS, OPENINGS, STARTS = 200, 20, 7

BARE = """
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QLabel, QMainWindow
import time, sys
app = QApplication([])
window = QMainWindow()
window.setCentralWidget(QLabel("bare"))
window.show()
QTimer.singleShot(0, app.quit)
app.exec()
"""

SENNIGHT = """
import sys
from pathlib import Path
from sennight import cli_practice
import_first = cli_practice.import_without_qt
def import_and_close_later():  # with no Qt before, as the program itself does it
    import_first()
    from PySide6.QtCore import QTimer
    from PySide6.QtWidgets import QApplication
    app = QApplication([])
    QTimer.singleShot(0, lambda: QTimer.singleShot(0, app.closeAllWindows))
cli_practice.import_without_qt = import_and_close_later
sys.exit(cli_practice.open_window(Path(sys.argv[1]), kept=False))
"""

MEMORY = """
from pathlib import Path
print(next(line for line in Path("/proc/self/status").open() if line.startswith("VmRSS")))
"""


def told(name: str, spent: Spent) -> None:
    """One line of the report."""
    print(f"{name:44}{spent}")


def settle() -> None:
    """Let all be drawn and said that is waiting."""
    for _ in range(12):
        QCoreApplication.processEvents()


def draw() -> None:
    """Lay out and draw what was changed, and nothing that waits for the frame to be over."""
    QCoreApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest)
    QCoreApplication.sendPostedEvents(None, QEvent.Type.UpdateRequest)


def window_of(practice: OpenPractice, folder: Path) -> MainWindow:
    """The real window on a practice, as it stands once it has come up."""
    settings = Settings(folder / "settings.ini")
    frame = MainWindow(
        practice, Appearance(application(), settings), settings, today=lambda: real_year.TODAY
    )
    frame.resize(1280, 800)
    frame.show()
    QTest.qWaitForWindowExposed(frame)
    keep_what_is_there()
    return frame


def edits(frame: MainWindow, course_id: str, clock: Clock) -> None:
    """Edits of a year's course of six remedies: the first frame of each, and all that it says.

    No edit is like the one before, so that none finds all its consequences worked out already.
    """
    frame.go(Route(RouteKind.COURSE, course_id))
    settle()
    session = controller_of(frame).session
    first, whole = [], []
    for n in range(EDITS):
        course = real_year.edited(session.course, n)
        begin = clock()
        session.edit("Edit", course)
        draw()
        first.append((clock() - begin) * 1000)
        settle()
        whole.append((clock() - begin) * 1000)
    told("an edit: first frame (goal 16, p99 30)", Spent(tuple(first)))
    told("an edit: all said (goal p99 50)", Spent(tuple(whole)))
    plain = spent_on(lambda: listed_by_dateutil(session.reading.layout.stretches), 20, clock)
    told("  beside: dateutil lists its doses", plain)


def pages(frame: MainWindow, course_id: str, clock: Clock) -> None:
    """Opening pages, and a month drawn."""

    def opened(route: Route) -> Callable[[], None]:
        def go() -> None:
            frame.go(route)
            draw()

        return go

    def away() -> None:
        frame.go(CLIENTS)
        settle()

    course = opened(Route(RouteKind.COURSE, course_id))
    told("open the course (goal 80)", spent_on(course, OPENINGS, clock, before=away))
    told(
        "the list of clients",
        spent_on(opened(CLIENTS), OPENINGS, clock, before=course),
    )
    course()
    settle()
    calendar = controller_of(frame).view.calendar
    calendar.show_scale(int(CalendarScale.MONTH))
    settle()
    session = controller_of(frame).session

    def another_month() -> None:
        """The next month of the course, the first one after the last."""
        day = session.day + timedelta(days=31)
        days = session.reading.layout.days
        session.go_to(day if day in days else days.first)
        draw()

    told("a month drawn (goal p95 16)", spent_on(another_month, 60, clock))


def of_children() -> float:
    """Seconds of the processor that programs took which were started here and have ended."""
    times = os.times()
    return times.children_user + times.children_system


def starts(path: Path, clock: Clock) -> None:
    """The program to its window and its end, beside a bare window; and what each holds."""
    # An installed program's modules are compiled; where Python may not write them, each start
    # would compile them all again.
    environment = {key: os.environ[key] for key in os.environ if key != "PYTHONDONTWRITEBYTECODE"}
    took, held = {}, {}
    for name, script in (("bare PySide6 window", BARE), ("Sennight", SENNIGHT)):
        runs = []
        for _ in range(STARTS):
            begin = clock()
            command = [sys.executable, "-c", script, str(path)]
            subprocess.run(command, check=True, env=environment)
            runs.append((clock() - begin) * 1000)
        took[name] = Spent(tuple(runs))
        told(f"start: {name}", took[name])
        memory = script.replace("sys.exit(", "_ = (") + MEMORY
        done = subprocess.run(
            [sys.executable, "-c", memory, str(path)],
            check=True,
            capture_output=True,
            text=True,
            env=environment,
        )
        held[name] = int(done.stdout.split()[-2]) // 1024
    bare, ours = took.values()
    print(f"  {ours.part(50) / bare.part(50):.1f} times a bare window (goal 6); memory", end=" ")
    print(" against ".join(f"{megabytes} MB" for megabytes in reversed(held.values())))


def large(path: Path, clock: Clock) -> None:
    """The same over 10,000 courses, which are made where the file is not there."""
    if not path.exists():
        make(path, LARGE)
    print(f"\n{path.stat().st_size / 1e6:.0f} MB, {LARGE}; the processor's time:")
    with open_practice(path) as practice:  # without a card the window asks for it first
        change_practice_card(practice, PracticeCard("The Herb Garden"))
    for name, spent in measure(path, 50).items():
        told(name, spent)
    starts(path, clock)


def main(arguments: list[str]) -> int:
    """Print all of it."""
    parser = argparse.ArgumentParser(prog="python -m bench.figures")
    parser.add_argument("--large", type=Path)
    parser.add_argument("--processor", action="store_true")
    chosen = parser.parse_args(arguments)
    if not os.environ.get("DISPLAY") and not os.environ.get("WAYLAND_DISPLAY"):
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    application()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        path = folder / "practice.sennight"
        with open_practice(path) as practice:
            change_practice_card(practice, PracticeCard("The Herb Garden"))
            course_id = real_year.add_real_year(practice)
            frame = window_of(practice, folder)
            clock = time.process_time if chosen.processor else time.perf_counter
            edits(frame, course_id, clock)
            pages(frame, course_id, clock)
            frame.close()
        starts(path, of_children if chosen.processor else time.perf_counter)
    if chosen.large is not None:
        large(chosen.large, of_children if chosen.processor else time.perf_counter)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
