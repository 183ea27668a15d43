"""The window comes up without the libraries of papers, calendars and sums, and undisturbed."""

from __future__ import annotations

import gc
import subprocess
import sys
from pathlib import Path

import pytest

from sennight.collecting import collecting_later, keep_what_is_there
from sennight.domain.practices import PracticeCard
from sennight.practice.card import change_practice_card
from sennight.practice.opening import open_practice

SCRIPT = """
import gc, sys
from pathlib import Path
from sennight import cli_practice

import_without_qt = cli_practice.import_without_qt

def import_first():
    print("Qt before", "PySide6" in sys.modules)
    import_without_qt()
    global QTimer, QApplication
    from PySide6.QtCore import QTimer
    from PySide6.QtWidgets import QApplication
    QApplication([])
    QTimer.singleShot(0, begin)

def begin():
    loaded = list(sys.modules)
    after = loaded[loaded.index("PySide6"):]
    print("after Qt", [name for name in after if name.startswith(("sqlalchemy", TABLES))])
    print("courses", "sennight.domain.courses.courses" in loaded)
    pages = ("course.page", "remedies.page", "dispensary.work", "clients.folder_page")
    print("pages", [name for name in pages if f"sennight.desktop.{name}" in sys.modules])
    look()

def look():
    if not gc.isenabled():
        QTimer.singleShot(20, look)
        return
    print("later", "sennight.desktop.course.page" in sys.modules)
    names = ("alembic", "highspy", "numpy", "reportlab", "icalendar", "zxingcpp")
    print("loaded", [name for name in names if name in sys.modules])
    print("collector", gc.isenabled(), gc.get_freeze_count() > 100_000)
    QApplication.instance().closeAllWindows()

TABLES = "sennight.store.tables"
cli_practice.import_without_qt = import_first
sys.exit(cli_practice.open_window(Path(sys.argv[1]), kept=False))
"""


def test_a_window_loads_no_page_and_no_library_that_it_does_not_use(tmp_path: Path) -> None:
    file = tmp_path / "practice.sennight"
    with open_practice(file) as practice:
        change_practice_card(practice, PracticeCard("The Physic Garden"))
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT, str(file)],
        capture_output=True,
        text=True,
        check=True,
        timeout=40,
        env={"QT_QPA_PLATFORM": "offscreen", "HOME": str(tmp_path)},
    )
    assert "pages []" in done.stdout, done.stdout + done.stderr
    assert "Qt before False" in done.stdout
    assert "after Qt []" in done.stdout
    assert "courses False" in done.stdout
    assert "later True" in done.stdout
    assert "loaded []" in done.stdout
    assert "collector True True" in done.stdout


@pytest.mark.parametrize("was_on", [True, False])
def test_nothing_is_collected_within_and_all_is_as_before_after(*, was_on: bool) -> None:
    before = gc.isenabled()
    try:
        (gc.enable if was_on else gc.disable)()
        with collecting_later():
            assert not gc.isenabled()
        assert gc.isenabled() is was_on
    finally:
        (gc.enable if before else gc.disable)()


def test_what_is_there_is_kept_and_what_comes_is_collected() -> None:
    try:
        gc.disable()
        keep_what_is_there()
        assert gc.isenabled()
        assert gc.get_freeze_count() > 0
    finally:
        gc.unfreeze()
