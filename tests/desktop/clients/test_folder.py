"""A client's folder: facts, courses, note, undo; and starting a course."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.clients.client_dialog import ClientDialog
from sennight.desktop.clients.folder_page import FolderPage
from sennight.desktop.clients.start_dialog import Start, StartDialog
from sennight.desktop.kit.theme import Theme
from sennight.desktop.parts.protocol_words import protocol_words
from sennight.domain.courses.clients import Client, Reaction
from sennight.domain.courses.protocols import empty_protocol
from sennight.domain.day import ClientDay
from sennight.practice.clients import client_entry
from sennight.practice.courses import course_entry, list_courses, start_course
from sennight.practice.opening import OpenPractice, PracticeFileError
from sennight.practice.papers import About, NameParts, Paper, PaperKind, give_papers
from sennight.practice.protocols import list_protocols
from support.next_dialog import in_next_dialog
from support.sample_practice import EVENINGS, JOINTS, NOW, TODAY, Sample

Key = Qt.Key


@pytest.fixture
def page(sample: Sample, theme: Theme, qtbot: QtBot) -> FolderPage:
    made = FolderPage(sample.practice, theme, lambda: NOW)
    qtbot.addWidget(made)
    made.resize(1180, 700)
    made.show()
    made.open(sample.clients["efua"])
    return made


def test_a_folder_shows_what_matters_for_safety(page: FolderPage) -> None:
    assert page.title.text() == "Efua Prendergast"
    assert page.strip.age.text() == "68 years"
    assert page.strip.conditions.text() == "Peptic ulcer"
    assert page.strip.medicines.text() == "Anticoagulants (from 1 January 2020)"
    assert page.strip.allergies.text() == "not asked"
    assert page.model.data(page.model.index(0, 2)) == "Week 4, Loading"


def test_an_unknown_age_is_told(page: FolderPage, sample: Sample) -> None:
    page.open(sample.clients["oskar"])
    assert page.strip.age.text() == "not known"
    assert page.courses.currentWidget() is page.empty


def test_enter_opens_the_course(page: FolderPage, sample: Sample, qtbot: QtBot) -> None:
    with qtbot.waitSignal(page.course_opened) as opened:
        page.take_focus()
        qtbot.keyClick(page.rows, Key.Key_Return)
    assert opened.args == [sample.course]


def test_a_note_is_saved_when_it_is_left_and_can_be_undone(
    page: FolderPage, sample: Sample, qtbot: QtBot
) -> None:
    page.note.setFocus()
    qtbot.keyClicks(page.note, "prefers mornings")
    page.start.setFocus()
    entry = client_entry(sample.practice, sample.clients["efua"])
    assert entry.note == "prefers mornings"
    assert page.undo_stack is not None
    page.undo_stack.undo()
    assert client_entry(sample.practice, sample.clients["efua"]).note == ""
    assert page.note.toPlainText() == ""
    page.undo_stack.redo()
    assert page.note.toPlainText() == "prefers mornings"


def test_a_note_is_saved_when_another_folder_is_opened(page: FolderPage, sample: Sample) -> None:
    page.note.setPlainText("prefers mornings")
    page.open(sample.clients["noor"])
    assert client_entry(sample.practice, sample.clients["efua"]).note == "prefers mornings"
    assert page.note.toPlainText() == ""
    assert page.undo_stack is not None
    assert not page.undo_stack.canUndo()
    page.open(sample.clients["efua"])
    assert page.undo_stack.canUndo()


def test_a_changed_record_is_saved_shown_and_can_be_undone(
    page: FolderPage, sample: Sample
) -> None:
    def change(dialog: ClientDialog) -> None:
        dialog.name.setText("Efua Prendergast-Hale")
        dialog.submit()

    in_next_dialog(change)
    page.change()
    assert page.title.text() == "Efua Prendergast-Hale"
    saved = client_entry(sample.practice, sample.clients["efua"])
    assert saved.client.name == "Efua Prendergast-Hale"
    assert saved.client.medicines == client_entry(sample.practice, saved.id).client.medicines
    assert page.undo_stack is not None
    page.undo_stack.undo()
    assert page.title.text() == "Efua Prendergast"


def test_a_dialog_left_alone_changes_nothing(page: FolderPage) -> None:
    in_next_dialog(lambda dialog: dialog.submit())
    page.change()
    assert page.undo_stack is not None
    assert not page.undo_stack.canUndo()


def test_what_cannot_be_saved_is_told_and_leaves_the_undo_list(
    page: FolderPage, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_practice: OpenPractice, _entry: object) -> None:
        raise PracticeFileError("the disk is full; nothing was saved")

    monkeypatch.setattr("sennight.desktop.clients.folder_page.change_client", refuse)
    said: list[str] = []
    page.status_message.connect(said.append)
    page.note.setPlainText("prefers mornings")
    page.keep_note()
    assert said == ["the disk is full; nothing was saved"]
    assert page.undo_stack is not None
    assert not page.undo_stack.canUndo()
    assert page.note.toPlainText() == "prefers mornings"


def test_a_course_is_started_from_a_protocol(
    page: FolderPage, sample: Sample, qtbot: QtBot
) -> None:
    page.open(sample.clients["noor"])

    def start(dialog: StartDialog) -> None:
        assert dialog.sentence.text() == (
            "“Quiet evenings” starts on Monday 1 February 2027 and runs to "
            "Sunday 28 February 2027."
        )
        dialog.submit()

    in_next_dialog(start)
    with qtbot.waitSignals([page.course_opened, page.status_message]):
        page.start_course()
    (course,) = list_courses(sample.practice, sample.clients["noor"])
    assert course.course.protocol.name == EVENINGS.name
    assert course.course.start == date(2027, 2, 1)
    assert page.courses.currentWidget() is page.rows


def test_without_a_protocol_on_the_shelf_a_course_is_started_from_an_empty_one(
    page: FolderPage, sample: Sample, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sennight.desktop.clients.starting.list_protocols", lambda _: ())
    page.open(sample.clients["noor"])

    def start(dialog: StartDialog) -> None:
        assert dialog.phases.toPlainText().splitlines() == ["Loading, 12 weeks", "no remedy"]
        qtbot.keyClicks(dialog.name, " Spring  joints ")
        assert dialog.sentence.text() == (
            "“Spring joints” starts on Monday 1 February 2027 and runs to Sunday 25 April 2027."
        )
        dialog.submit()

    in_next_dialog(start)
    with qtbot.waitSignals([page.course_opened, page.status_message]):
        page.start_course()
    (entry,) = list_courses(sample.practice, sample.clients["noor"])
    assert entry.course.protocol == empty_protocol("Spring joints")
    assert (entry.course.start, entry.course.remedies) == (date(2027, 2, 1), ())


# The dialog that starts a course


@pytest.fixture
def dialog(sample: Sample, theme: Theme, qtbot: QtBot) -> StartDialog:
    assert theme
    shelf = list_protocols(sample.practice)
    made = StartDialog(None, Client("Noor Müller"), shelf, today=TODAY)
    qtbot.addWidget(made, before_close_func=QWidget.hide)
    made.show()
    return made


def test_the_phases_are_said_in_words(dialog: StartDialog, qtbot: QtBot) -> None:
    assert dialog.phases.toPlainText().splitlines() == [
        "Settling, 4 weeks",
        "Warming drops: 2 mL once a day, at bedtime",
    ]
    qtbot.keyClick(dialog.protocols, Key.Key_Down)
    assert dialog.phases.toPlainText().startswith("Loading, 6 weeks\nJoint tea: 1 cup three times")
    assert "from week 5 of it 1 cup twice a day" in dialog.phases.toPlainText()
    assert "Maintenance, to the course's last day" in dialog.phases.toPlainText()
    assert "Flare-up plan, 1 week" in dialog.phases.toPlainText()


def test_names_with_signs_print_as_they_are(dialog: StartDialog, sample: Sample) -> None:
    shelf = list_protocols(sample.practice)[0]
    odd = replace(shelf.remedies[0], name="<b>Drops & more</b>")
    dialog.phases.show_protocol(replace(shelf, remedies=(odd,)), Client(""))
    assert "<b>Drops & more</b>: 2 mL" in dialog.phases.toPlainText()


def test_the_last_day_is_asked_only_where_a_phase_is_open(
    dialog: StartDialog, qtbot: QtBot
) -> None:
    assert dialog._until_row.isHidden()
    qtbot.keyClick(dialog.protocols, Key.Key_Down)
    assert not dialog._until_row.isHidden()
    qtbot.keyClicks(dialog.until, "30 June 2027")
    assert dialog.sentence.text().endswith("runs to Wednesday 30 June 2027.")
    dialog.submit()
    assert dialog.answer == Start(
        dialog._chosen.id, JOINTS.name, date(2027, 2, 1), date(2027, 6, 30)
    )


def test_an_empty_protocol_needs_a_name(dialog: StartDialog, qtbot: QtBot) -> None:
    assert dialog._name_row.isHidden()
    dialog.protocols.select_row(2)
    assert not dialog._name_row.isHidden()
    assert dialog._until_row.isHidden()
    assert dialog.sentence.isHidden()
    dialog.submit()
    assert dialog.answer is None
    assert dialog._name_row.is_wrong
    qtbot.keyClicks(dialog.name, "Hands")
    assert not dialog._name_row.is_wrong
    dialog.submit()
    assert dialog.answer == Start("", "Hands", date(2027, 2, 1), None)


def test_the_sentence_follows_the_first_day(dialog: StartDialog, qtbot: QtBot) -> None:
    dialog.first.clear()
    qtbot.keyClicks(dialog.first, "2027-01-04")
    assert "starts on Monday 4 January 2027" in dialog.sentence.text()
    qtbot.keyClicks(dialog.first, "x")
    assert dialog.sentence.isHidden()


@pytest.mark.parametrize(
    ("first", "until", "says"),
    [
        ("", "", "Enter a first day"),
        ("soon", "", "Enter a date"),
        ("4.1.2027", "soon", "Enter a date"),
        ("4.1.2027", "1.2.2027", "expected a later last day"),
    ],
)
def test_days_that_cannot_be_are_told_at_their_field(
    dialog: StartDialog, first: str, until: str, says: str
) -> None:
    dialog.protocols.select_row(1)
    dialog.first.setText(first)
    dialog.until.setText(until)
    dialog.submit()
    assert dialog.answer is None
    wrong = [row for row in dialog._days.rows if row.is_wrong]
    assert len(wrong) == 1
    assert says in wrong[0].beneath.text()
    assert (dialog.first.text(), dialog.until.text()) == (first, until)


def test_a_remedy_without_a_name_is_told_by_its_id() -> None:
    words = protocol_words(EVENINGS, {}, ClientDay.at())
    assert words[0].lines == ("drops: 2 mL once a day, at bedtime",)


def test_the_course_that_was_started_is_the_protocols(page: FolderPage, sample: Sample) -> None:
    entry = course_entry(sample.practice, sample.course)
    assert page.model.data(page.model.index(0, 0)) == entry.course.protocol.name


def test_a_damaged_course_is_told_and_shuts_no_other(page: FolderPage, sample: Sample) -> None:
    start_course(
        sample.practice, sample.clients["efua"], sample.protocols["evenings"], TODAY, now=NOW
    )
    damage(sample.practice, sample.course)
    page.load()
    assert page.model.rowCount() == 1
    assert "This course is damaged" in page.damage.text()
    assert "No backup in" in page.damage.text()
    page.open(sample.clients["oskar"])
    assert page.damage.isHidden()


def damage(practice: OpenPractice, course_id: str) -> None:
    """Change a course's first day behind the back of the program."""
    trigger = "keep_course_version_from_update"
    with closing(sqlite3.connect(practice.path, isolation_level=None)) as connection:
        (text,) = connection.execute(
            "SELECT sql FROM sqlite_master WHERE name = ?", (trigger,)
        ).fetchone()
        connection.execute(f"DROP TRIGGER {trigger}")
        connection.execute(
            "UPDATE course_version SET start = '2027-01-05' WHERE course_id = ?", (course_id,)
        )
        connection.execute(text)


def test_a_reaction_of_the_past_is_added_with_the_record(page: FolderPage, sample: Sample) -> None:
    def tell(dialog: QWidget) -> None:
        assert isinstance(dialog, ClientDialog)
        dialog.reactions.added.append(
            Reaction(date(2019, 5, 1), "a tea", ("chamomile",), "Sneezing")
        )
        dialog.submit()

    in_next_dialog(tell)
    page.change()
    assert "Chamomile (German), 1 May 2019" in page.strip.reactions.text()
    entry = client_entry(sample.practice, sample.clients["efua"])
    assert entry.client.reactions[-1].what == "Sneezing"


@pytest.fixture
def given(page: FolderPage, sample: Sample, tmp_path: Path) -> FolderPage:
    """The folder of a client who was given two papers and then one more."""
    client = sample.clients["efua"]
    about = About(client, NameParts("Efua Prendergast"), sample.course)
    sheets = (Paper(PaperKind.HANDOUT, b"%PDF 1"), Paper(PaperKind.REMINDERS, b"2", suffix=".ics"))
    give_papers(sample.practice, about, sheets, tmp_path / "out", now=NOW, today=TODAY)
    letter = Paper(PaperKind.REFERRAL, b"%PDF 3")
    about = replace(about, course_id=None)
    give_papers(sample.practice, about, [letter], tmp_path / "out", now=NOW, today=TODAY)
    page.load()
    return page


def test_a_folder_lists_what_was_given_and_opens_it_as_it_was(
    given: FolderPage, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, sample: Sample
) -> None:
    panel = given.given
    assert panel.isVisible()
    cells = [panel.model.data(panel.model.index(row, 0)) for row in range(3)]
    assert cells == ["Referral letter", "Handout", "Calendar file"]
    rows = [tuple(panel.model.data(panel.model.index(row, n)) for n in (1, 2)) for row in (0, 1)]
    assert rows == [("", "27 January 2027 (no. 2)"), ("Winter joints", "27 January 2027 (no. 1)")]
    shown: list[Path] = []
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: shown.append(url.toLocalFile()))
    panel.rows.select_row(1)
    qtbot.keyClick(panel.rows, Key.Key_Return)
    panel.open_button.click()
    assert [Path(path).read_bytes() for path in shown] == [b"%PDF 1"] * 2
    assert {Path(path).name for path in shown} == {"ep-handout-2027-01-27-no1.pdf"}
    sample.practice.close()
    assert not any(Path(path).exists() for path in shown)


def test_a_given_paper_is_saved_once_more(
    given: FolderPage, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, qtbot: QtBot
) -> None:
    path = tmp_path / "again.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))
    with qtbot.waitSignal(given.status_message) as told:
        given.given.save_button.click()
    assert told.args == [f"Saved as {path}."]
    assert path.read_bytes() == b"%PDF 3"
    (tmp_path / "folder").mkdir()
    path = tmp_path / "folder"
    with qtbot.waitSignal(given.status_message) as told:
        given.given.save_button.click()
    assert "is a folder" in str(told.args)


def test_a_file_that_could_be_a_program_is_not_opened(
    given: FolderPage, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    """A practice file may come from elsewhere, with any names in it."""
    panel = given.given
    shown: list[object] = []
    monkeypatch.setattr(QDesktopServices, "openUrl", shown.append)
    panel.papers = (panel.papers[0]._replace(name="sheet.pdf.desktop", kind="newer"),)
    panel.model.show_rows(1, panel._cells)
    assert panel.model.data(panel.model.index(0, 0)) == "sheet.pdf.desktop"
    with qtbot.waitSignal(given.status_message) as told:
        panel.open_button.click()
    assert "Save it instead" in str(told.args)
    assert shown == []


def test_a_folder_without_papers_does_not_speak_of_them(page: FolderPage) -> None:
    assert page.given.isHidden()
