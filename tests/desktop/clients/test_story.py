"""The story in a client's folder: written, kept, narrowed, opened; and facts changed in place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl, SignalInstance
from PySide6.QtGui import QDesktopServices, QDropEvent, QGuiApplication
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from sennight.desktop.clients.consultation_dialog import ConsultationDialog
from sennight.desktop.clients.fact_dialog import FactsDialog, PersonDialog, ReactionsDialog
from sennight.desktop.clients.folder_page import FolderPage
from sennight.desktop.clients.headings_dialog import HeadingsDialog
from sennight.desktop.clients.story_model import Shown
from sennight.desktop.kit.theme import Theme, make_theme
from sennight.domain.courses.clients import Fact, Topic
from sennight.domain.follow_up.consultations import (
    Appointment,
    Consultation,
    ConsultationKind,
    Part,
)
from sennight.domain.follow_up.diaries import DayNote, Reported, Score, Taken
from sennight.domain.follow_up.story import StoryKind
from sennight.practice.clients import client_entry
from sennight.practice.consultations import (
    add_consultation,
    attach_file,
    client_consultations,
    consultation_entry,
    consultation_headings,
)
from sennight.practice.courses import course_entry
from sennight.practice.diaries import enter_diary, enter_whole_diary
from sennight.practice.drafts import list_drafts
from support.next_dialog import in_next_dialog
from support.sample_practice import NOW, TODAY, Sample

Key = Qt.Key
KNEES = Consultation(
    date(2027, 1, 4),
    ConsultationKind.FIRST,
    (Part("History", "Both knees"), Part("Tongue", "pale")),
    75,
)


@pytest.fixture
def page(sample: Sample, theme: Theme, qtbot: QtBot) -> Iterator[FolderPage]:
    made = FolderPage(sample.practice, theme, lambda: NOW)
    qtbot.addWidget(made)
    made.resize(1180, 640)
    made.show()
    made.open(sample.clients["efua"])
    yield made
    made.hide()


def kept(page: FolderPage, sample: Sample) -> list[Consultation]:
    entries = client_consultations(sample.practice, sample.clients["efua"])
    assert page
    return [entry.consultation for entry in entries]


def test_what_is_written_about_today_is_kept_by_ctrl_enter(
    page: FolderPage, sample: Sample, qtbot: QtBot
) -> None:
    writer = page.story.writer
    assert not writer.keep_button.isVisible()
    page.write()
    assert writer.keep_button.isVisible()
    qtbot.keyClicks(writer.fields.free, "Sleeps through")
    writer.fields.texts["Plan"].setPlainText("go on")
    writer.fields.minutes.setEditText("30")
    writer.fields.next_day.setText("1 March 2027")
    writer.fields.next_at.setText("9:30")
    qtbot.keyClick(writer.fields.free, Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    (consultation,) = kept(page, sample)
    assert consultation.parts == (Part("", "Sleeps through"), Part("Plan", "go on"))
    assert (consultation.day, consultation.minutes) == (TODAY, 30)
    assert consultation.kind is ConsultationKind.FIRST
    after = consultation.next
    assert after is not None
    assert f"{after.day} {after.at}" == "2027-03-01 09:30:00"
    first = page.story.model.items[0]
    assert (first.kind, first.day) == (StoryKind.CONSULTATION, TODAY)
    assert writer.is_empty
    assert writer.fields.kind.currentText() == "Follow-up", "the next one is a follow-up"
    assert list_drafts(sample.practice) == ()


def test_what_is_wrong_is_told_and_nothing_is_kept(page: FolderPage, sample: Sample) -> None:
    writer = page.story.writer
    page.write()
    assert not writer.keep()
    assert writer.fields.beneath.text() == "Nothing is written yet"
    writer.fields.free.setPlainText("Sleeps")
    for field, text, told in (
        (writer.fields.minutes.lineEdit(), "long", "minutes"),
        (writer.fields.next_at, "9:30", "day of the next appointment"),
        (writer.fields.next_day, "1 January 2020", "must come after"),
    ):
        assert field is not None
        field.setText(text)
        assert not writer.keep()
        assert told in writer.fields.beneath.text()
        field.clear()
    assert kept(page, sample) == []


def test_what_is_typed_is_a_draft_until_it_is_kept(page: FolderPage, sample: Sample) -> None:
    page.story.writer.fields.free.setPlainText("Half a sent")
    page.open(sample.clients["noor"])
    assert page.story.writer.is_empty
    (draft,) = list_drafts(sample.practice)
    assert (draft.kind, draft.subject) == ("consultation", sample.clients["efua"])
    page.open(sample.clients["efua"])
    assert page.story.writer.fields.free.toPlainText() == "Half a sent"
    assert page.story.writer.keep_button.isVisible(), "what is unfinished stands open"


def test_files_are_dropped_on_it_and_kept_with_it(
    page: FolderPage, sample: Sample, tmp_path: Path
) -> None:
    scan, other = tmp_path / "scan.pdf", tmp_path / "notes.txt"
    scan.write_bytes(b"%PDF-1.7")
    other.write_text("x")
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(path)) for path in (scan, other)])
    buttons, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    action = Qt.DropAction.CopyAction
    event = QDropEvent(QPointF(QPoint(4, 4)), action, mime, buttons, keys)
    writer = page.story.writer
    writer.dropEvent(event)
    assert writer.files.paths == [scan]
    assert "not a PDF, PNG or JPEG" in writer.fields.beneath.text()
    writer.fields.free.setPlainText("X-ray")
    assert writer.keep()
    (entry,) = client_consultations(sample.practice, sample.clients["efua"])
    assert [file.name for file in entry.attachments] == ["scan.pdf"]
    assert page.story.model.items[1].title == "scan.pdf"


def test_the_story_is_narrowed_by_kind_and_words(page: FolderPage, sample: Sample) -> None:
    number = add_consultation(sample.practice, sample.clients["efua"], KNEES)
    page.load()
    model = page.story.model
    everything = len(model.items)
    page.story.shown.setCurrentIndex(tuple(Shown).index(Shown.CONSULTATIONS))
    assert [item.record for item in model.items] == [number]
    page.story.shown.setCurrentIndex(0)
    page.story.search.setText("kne")
    assert [item.record for item in model.items] == [number]
    page.story.search.setText("course began")
    assert [item.kind for item in model.items] == [StoryKind.DECISION]
    page.story.search.setText("elbow")
    assert (model.items, page.story.nothing.isVisible()) == ((), True)
    page.story.search.clear()
    assert len(model.items) == everything


def test_enter_opens_each_thing_of_the_story_where_it_belongs(
    page: FolderPage, sample: Sample, qtbot: QtBot
) -> None:
    """Consultations, files, papers and reactions are opened in tests of their own."""
    course = course_entry(sample.practice, sample.course).course
    told = DayNote(course.start, "Slept well")
    rated = Score(TODAY, "pain", Fraction(4))
    enter_whole_diary(sample.practice, sample.course, Reported(scores=(rated,), notes=(told,)))
    enter_diary(sample.practice, sample.course, [Taken(course.start, course.remedies[0].id, 1)])
    page.load()

    def opened(kind: StoryKind, signal: SignalInstance) -> list[object]:
        kinds = [item.kind for item in page.story.model.items]
        page.story.list.setCurrentIndex(page.story.model.index(kinds.index(kind)))
        with qtbot.waitSignal(signal) as wanted:
            qtbot.keyClick(page.story.list, Key.Key_Return)
        arguments: list[object] = wanted.args
        return arguments

    first = [sample.course, course.start]
    assert opened(StoryKind.DECISION, page.day_wanted) == first
    assert opened(StoryKind.DAY_NOTE, page.diary_wanted) == first
    assert opened(StoryKind.DIARY, page.diary_wanted) == first
    assert opened(StoryKind.SCORES, page.scores_wanted) == [sample.course, TODAY]


def test_a_consultation_is_worded_anew_and_struck_out(page: FolderPage, sample: Sample) -> None:
    number = add_consultation(sample.practice, sample.clients["efua"], KNEES)
    page.load()
    item = next(i for i in page.story.model.items if i.kind is StoryKind.CONSULTATION)

    def word_anew(dialog: ConsultationDialog) -> None:
        assert dialog.fields.texts["Tongue"].toPlainText() == "pale", "an older heading stays"
        dialog.fields.texts["History"].setPlainText("Left knee")
        dialog.submit()

    in_next_dialog(word_anew)
    page.open_item(item)
    entry = consultation_entry(sample.practice, number)
    assert [version.consultation.parts[0].text for version in entry.versions] == [
        "Both knees",
        "Left knee",
    ]

    def strike(dialog: ConsultationDialog) -> None:
        assert any("Both knees" in words for words in dialog._earlier())
        dialog.strike.click()
        assert dialog._reason_row.is_wrong
        dialog.reason.setText("of another client")
        dialog.strike.click()

    in_next_dialog(strike)
    page.open_consultation(number)
    assert consultation_entry(sample.practice, number).void == "of another client"
    struck = next(i for i in page.story.model.items if i.kind is StoryKind.CONSULTATION)
    assert struck.void == "of another client"

    def look(dialog: ConsultationDialog) -> None:
        assert not dialog.main_button.isEnabled()
        dialog.reject()

    in_next_dialog(look)
    page.open_consultation(number)


def test_a_file_is_attached_later_opened_and_struck_out(
    page: FolderPage, sample: Sample, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    number = add_consultation(sample.practice, sample.clients["efua"], KNEES)
    scan = tmp_path / "scan.pdf"
    scan.write_bytes(b"%PDF-1.7")
    monkeypatch.setattr(QFileDialog, "getOpenFileNames", lambda *_: ([str(scan)], ""))
    shown: list[QUrl] = []
    monkeypatch.setattr(QDesktopServices, "openUrl", shown.append)

    def attach(dialog: ConsultationDialog) -> None:
        dialog.attach.click()
        (file,) = dialog.entry.attachments
        dialog._strike_file(file.id)
        assert dialog._reason_row.is_wrong
        dialog.reason.setText("of another client")
        dialog._strike_file(file.id)
        dialog.reject()

    in_next_dialog(attach)
    page.open_consultation(number)
    (held,) = consultation_entry(sample.practice, number).attachments
    assert held.void == "of another client"
    attach_file(sample.practice, number, scan)
    page.load()
    item = next(i for i in page.story.model.items if i.kind is StoryKind.FILE and not i.void)
    page.open_item(item)
    assert Path(shown[0].toLocalFile()).read_bytes() == b"%PDF-1.7"


def test_what_nobody_asked_is_asked_where_it_stands(page: FolderPage) -> None:
    assert page.strip.parts[Topic.ALLERGIES].act.text() == "Ask now"

    def ask(dialog: FactsDialog) -> None:
        dialog.facts.all_asked.setChecked(True)
        dialog.submit()

    in_next_dialog(ask)
    page.strip.parts[Topic.ALLERGIES].act.click()
    assert page.strip.allergies.text() == "asked: none"
    assert page.strip.parts[Topic.ALLERGIES].act.text() == "+ add"
    assert page.undo_stack is not None
    page.undo_stack.undo()
    assert page.strip.allergies.text() == "not asked"


def test_a_medicine_brings_the_condition_that_it_is_for(page: FolderPage, sample: Sample) -> None:
    def add(dialog: FactsDialog) -> None:
        dialog.facts.add(Fact("ramipril"))
        line = dialog.facts._lines["ramipril"]
        line.answers[0].click()
        dialog.submit()

    in_next_dialog(add)
    page.change_facts(Topic.MEDICINES)
    client = client_entry(sample.practice, sample.clients["efua"]).client
    assert "ramipril" in [fact.tag for fact in client.medicines]
    assert "hypertension" in [fact.tag for fact in client.conditions]


def test_age_weight_and_reactions_are_changed_in_place(page: FolderPage) -> None:
    def weigh(dialog: PersonDialog) -> None:
        dialog.weight.setText("heavy")
        dialog.submit()
        assert dialog.client is None
        dialog.weight.setText("61")
        dialog.submit()

    in_next_dialog(weigh)
    page.change_facts(None)
    assert page.strip.age.text() == "68 years, 61\u00a0kg"

    def ask(dialog: ReactionsDialog) -> None:
        dialog.reactions.all_asked.setChecked(True)
        dialog.submit()

    in_next_dialog(ask)
    page.change_facts(Topic.REACTIONS)
    assert page.strip.reactions.text() == "asked: none"


def test_a_narrow_page_shows_one_side(page: FolderPage, theme: Theme) -> None:
    assert page.story.isVisible()
    assert page.records.isVisible()
    page.resize(560, 600)
    assert page.sides.isVisible()
    assert not page.records.isVisible()
    page.sides.setCurrentIndex(1)
    assert page.records.isVisible()
    assert not page.story.isVisible()
    page.apply_theme(make_theme(dark=True, scale=150))
    page.resize(1180, 600)
    page.apply_theme(theme)


def test_an_appointment_of_another_year_is_told(page: FolderPage, sample: Sample) -> None:
    later = replace(KNEES, day=date(2025, 1, 4), next=Appointment(date(2025, 2, 1)))
    add_consultation(sample.practice, sample.clients["efua"], later)
    page.load()
    delegate = page.story.list.delegate
    assert [words for words, _ in delegate._day_lines(date(2025, 1, 4))] == ["4", "Jan", "2025"]
    assert page.story.model.items[-1].about.endswith("next 1 February 2025")
    page.grab()


def test_headings_are_the_practices_own(page: FolderPage, sample: Sample) -> None:
    page.story.writer.fields.texts["Found"].setPlainText("pale")

    def choose(dialog: HeadingsDialog) -> None:
        dialog.lines.setPlainText(" ")
        dialog.submit()
        assert dialog.headings is None
        dialog.lines.setPlainText("Tongue\nPlan")
        dialog.submit()

    in_next_dialog(choose)
    page.choose_headings()
    assert consultation_headings(sample.practice) == ("Tongue", "Plan")
    fields = page.story.writer.fields
    assert list(fields.texts) == ["", "Tongue", "Plan", "Found"], "what is written stays"
    assert fields.texts["Found"].toPlainText() == "pale"


def test_the_record_is_written_where_the_practitioner_says(
    page: FolderPage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target, asked = tmp_path / "record.pdf", list[str]()

    def where(_parent: object, _title: str, name: str, _kinds: str) -> Path:
        asked.append(name)
        return target

    monkeypatch.setattr("sennight.desktop.kit.save_as.ask_where", where)
    monkeypatch.setattr("sennight.desktop.kit.save_as.choose", lambda *_, **__: False)
    page.print_story()
    assert target.read_bytes().startswith(b"%PDF")
    assert asked == ["ep-record-2027-01-27.pdf"], "initials alone"


def test_the_right_button_offers_what_can_be_done(page: FolderPage, sample: Sample) -> None:
    add_consultation(sample.practice, sample.clients["efua"], KNEES)
    page.load()
    kinds = [item.kind for item in page.story.model.items]
    menu = page.story.list.menu(kinds.index(StoryKind.CONSULTATION))
    assert [act.text() for act in menu.actions()] == ["Change, attach or strike out…", "Copy"]
    menu.actions()[1].trigger()
    assert "Both knees" in QGuiApplication.clipboard().text()
