"""However the program ends, what was typed more than two seconds before is there again."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from ctypes.util import find_library
from pathlib import Path
from shutil import which

import pytest
from PySide6.QtWidgets import QDialog
from pytestqt.qtbot import QtBot

from desktop.shell.typing_window import NAME, NOTE, PARTS, SAID, TAKE, WHAT
from sennight.desktop.clients.client_dialog import ClientDialog
from sennight.desktop.clients.past_reaction_dialog import PastReactionDialog
from sennight.desktop.course.lines.line_cells import Column
from sennight.desktop.kit.draft_note import DraftNote
from sennight.desktop.kit.navigation import Route, RouteKind
from sennight.desktop.remedies.section import RemediesSection
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.clients_section import ClientsSection
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Settings
from sennight.desktop.shell.unfinished_dialog import UnfinishedDialog
from sennight.domain.practices import PracticeCard
from sennight.practice.card import change_practice_card
from sennight.practice.clients import list_client_titles
from sennight.practice.courses import list_course_titles
from sennight.practice.drafts import list_drafts, typed_in
from sennight.practice.opening import open_practice
from sennight.practice.remedies import shelf_remedy
from support.draws import DRAWS
from support.next_dialog import in_next_dialog
from support.pages import controller_of
from support.sample_practice import TODAY, Sample

SCRIPT = Path(__file__).with_name("typing_window.py")

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs the signals of POSIX")


@pytest.fixture
def typing(sample: Sample) -> Iterator[subprocess.Popen[str]]:
    """The program in a process of its own, once words are typed into three forms of it."""
    with typed_on(sample, QT_QPA_PLATFORM="offscreen") as process:
        yield process


@contextmanager
def typed_on(sample: Sample, **display: str) -> Iterator[subprocess.Popen[str]]:
    """The same on a display that these variables name."""
    change_practice_card(sample.practice, PracticeCard("The Physic Garden"))
    sample.practice.close()
    process = subprocess.Popen(
        [sys.executable, str(SCRIPT), str(sample.practice.path)],
        env={**os.environ, **display, "HOME": str(sample.practice.path.parent)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    line = process.stdout.readline()
    assert line == "typed\n", process.communicate()[1]
    yield process
    process.kill()
    process.communicate()


def fields(path: Path) -> dict[str, dict[str, object]]:
    with open_practice(path) as practice:
        assert shelf_remedy(practice, "tea").note == ""
        return {draft.kind: dict(typed_in(draft).fields) for draft in list_drafts(practice)}


def insist_all_is_there(path: Path) -> None:
    held = fields(path)
    forms = {"remedy", "lines", "client", "client/past-reaction", "consultation"}
    assert held.keys() == forms
    assert held["remedy"]["cells"] == [[0, "parts", PARTS]]
    lines = held["lines"]["lines"]
    assert isinstance(lines, dict)
    assert [cell[-1] for cell in lines["cells"]] == [TAKE]
    written = held["consultation"]["Consultation"]
    assert isinstance(written, dict)
    assert ["", SAID] in written["parts"]
    assert held["client"] == {"Name": NAME}
    assert held["client/past-reaction"] == {"What happened": WHAT}
    formula = held["remedy"]["formula"]
    assert isinstance(formula, dict)
    assert formula["note"] == NOTE


def test_killed_two_seconds_after_typing_it_offers_all_words_again(
    typing: subprocess.Popen[str],
    sample: Sample,
    qtbot: QtBot,
    appearance: Appearance,
    settings: Settings,
) -> None:
    time.sleep(2)
    typing.kill()
    assert typing.wait(timeout=10) == -signal.SIGKILL
    insist_all_is_there(sample.practice.path)
    seen: list[object] = []

    def offered(dialog: UnfinishedDialog) -> None:
        titles = [dialog.model.index(row, 0).data() for row in range(dialog.model.rowCount())]
        seen.append(titles)
        dialog.rows.select_row(titles.index("New client"))
        in_next_dialog(client)
        dialog.submit()

    def client(dialog: ClientDialog) -> None:
        seen.append(dialog.name.text())
        note: DraftNote | None = dialog.findChild(DraftNote)
        seen.append("Not saved on" in note.message.text() if note else False)
        in_next_dialog(reaction)
        dialog.reactions.ask()
        dialog.forget_draft()
        QDialog.reject(dialog)

    def reaction(dialog: PastReactionDialog) -> None:
        seen.append(dialog.what.text())
        dialog.forget_draft()
        QDialog.reject(dialog)

    with open_practice(sample.practice.path) as practice:
        frame = MainWindow(practice, appearance, settings, today=lambda: TODAY)
        qtbot.addWidget(frame)
        frame.show()
        in_next_dialog(offered)
        frame.offer_unfinished()
        offered_titles = sorted(seen.pop(0))  # type: ignore[call-overload]
        assert [title.partition(" –")[0] for title in offered_titles] == [
            "A reaction in the past",
            "Consultation",
            "Joint tea",
            "Lines",
            "New client",
        ]
        assert seen == [NAME, True, WHAT]
        frame.go(Route(RouteKind.REMEDY, "tea"))
        remedy = frame.section(RemediesSection).remedy
        assert remedy.note.toPlainText() == NOTE
        assert remedy.model.index(0, 1).data() == PARTS
        frame.go(Route(RouteKind.COURSE, list_course_titles(practice)[0].id))
        lines = controller_of(frame).view.lines
        assert lines.model.text(0, Column.TAKE) == TAKE
        assert lines.draft_note is not None
        assert "Not saved on" in lines.draft_note.message.text()
        lines.draft_note.discard.click()
        assert lines.model.text(0, Column.TAKE) != TAKE
        client_id = list_client_titles(practice)[0].id
        frame.go(Route(RouteKind.FOLDER, client_id))
        writer = frame.section(ClientsSection).folder.story.writer
        assert writer.fields.free.toPlainText() == SAID
        assert writer.keep()
        assert [draft.kind for draft in list_drafts(practice)] == ["remedy"]
        frame.offer_unfinished()  # a formula is left unfinished on purpose: nothing comes up


SIGNALS = (signal.SIGTERM, signal.SIGHUP, signal.SIGINT)


@pytest.mark.parametrize("number", SIGNALS if DRAWS == "long" else SIGNALS[:1])
def test_a_signal_ends_it_at_once_and_every_word_is_kept(
    number: signal.Signals, typing: subprocess.Popen[str], sample: Sample
) -> None:
    typing.send_signal(number)
    assert typing.wait(timeout=20) == 128 + number
    insist_all_is_there(sample.practice.path)


OF_XCB = ("xcb-cursor", "xcb-icccm", "xcb-keysyms")
HAS_DISPLAY = which("Xvfb") is not None and all(map(find_library, OF_XCB))


@pytest.mark.skipif(DRAWS != "long" or not HAS_DISPLAY, reason="every night, with Xvfb and XCB")
def test_where_the_display_dies_all_words_are_there_again(sample: Sample) -> None:
    """An X server that goes away ends the program from within Qt, with nothing asked before."""
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", "1", "-screen", "0", "1280x800x24", "-nolisten", "tcp"],  # noqa: S607
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    )
    try:
        assert server.stdout is not None
        display = f":{server.stdout.readline().strip()}"
        with typed_on(sample, QT_QPA_PLATFORM="xcb", DISPLAY=display) as process:
            time.sleep(2)
            server.kill()
            assert process.wait(timeout=20) != 0
            insist_all_is_there(sample.practice.path)
    finally:
        server.kill()
        server.communicate()
