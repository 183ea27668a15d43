"""The window: going about, finding, undo, what is remembered."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from itertools import chain
from pathlib import Path

import pytest
from PySide6.QtCore import QByteArray, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from sennight.desktop.bench.section import BenchSection
from sennight.desktop.clients.client_dialog import ClientDialog
from sennight.desktop.course.decisions.timing import TakePause
from sennight.desktop.kit.icons import icon_file, mark
from sennight.desktop.kit.navigation import CLIENTS, History, Route, RouteKind
from sennight.desktop.materia_medica.section import HerbsSection
from sennight.desktop.protocols.section import ProtocolsSection
from sennight.desktop.remedies.section import RemediesSection
from sennight.desktop.shell import find_index
from sennight.desktop.shell.actions import action_specs
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.find import MOST, Sort, Thing, matching_things, route_to
from sennight.desktop.shell.find_index import FindIndex, everything
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.sections import SECTIONS
from sennight.desktop.shell.settings import Scheme, Settings
from sennight.desktop.shell.status_line import StatusLine
from sennight.domain.courses.clients import Client
from sennight.domain.follow_up.consultations import Consultation, ConsultationKind, Part
from sennight.practice.clients import add_client, change_client, client_entry, list_clients
from sennight.practice.consultations import add_consultation
from sennight.practice.courses import (
    course_entry,
    list_course_titles,
    save_course,
    start_course,
)
from sennight.practice.formula_drafts import formula_drafts
from sennight.practice.opening import DamagedFileError, OpenPractice
from sennight.practice.own_herbs import herb_notes
from sennight.practice.papers import About, NameParts, Paper, PaperKind, give_papers
from sennight.practice.remedies import shelf_remedy
from support.next_dialog import in_next_dialog
from support.pages import clients_of, controller_of
from support.sample_practice import NOW, TODAY, Sample

Key, Ctrl, Alt = Qt.Key, Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier
NewFrame = Callable[[OpenPractice], MainWindow]


@pytest.fixture
def new_frame(qtbot: QtBot, appearance: Appearance, settings: Settings) -> NewFrame:
    def made(practice: OpenPractice) -> MainWindow:
        frame = MainWindow(practice, appearance, settings, today=lambda: TODAY)
        qtbot.addWidget(frame)
        frame.show()
        frame.activateWindow()
        qtbot.waitActive(frame)
        assert frame.rail.places["bench"].isChecked()
        frame.go(CLIENTS)
        return frame

    return made


@pytest.fixture
def frame(sample: Sample, new_frame: NewFrame) -> MainWindow:
    return new_frame(sample.practice)


# The way back


def test_the_way_leads_back_to_where_one_was() -> None:
    way = History(CLIENTS)
    assert not way.can_go_back
    folder, course = Route(RouteKind.FOLDER, "a"), Route(RouteKind.COURSE, "b")
    for spot in (folder, folder, course):
        way.go(spot)
    assert way.here == course
    assert [way.back(), way.back(), way.back()] == [folder, CLIENTS, CLIENTS]
    assert [way.forward(), way.forward(), way.forward()] == [folder, course, course]
    review = Route(RouteKind.REVIEW, "b")
    way.turn(review)
    assert (way.here, way.can_go_forward) == (review, False)
    way.turn(course)
    assert (way.here, way.can_go_forward) == (course, True)
    assert way.leave_out() == folder
    way.go(CLIENTS)
    assert (way.can_go_forward, way.back()) == (False, folder)


# Actions, icons, places


def test_every_action_has_words_and_keys_of_its_own() -> None:
    specs = action_specs()
    assert all(spec.text and spec.tip for spec in specs)
    for several in ([s.id for s in specs], [s.text for s in specs]):
        assert len(set(several)) == len(several)
    keys = [QKeySequence(key) for key in chain(*(spec.keys for spec in specs))]
    assert all(not key.isEmpty() for key in keys)
    assert len({key.toString() for key in keys}) == len(keys)


def test_every_icon_opens_and_takes_its_colour(appearance: Appearance) -> None:
    names = {section.icon for section in SECTIONS} | {"more", "back", "undo", "redo"}
    for name in names:
        assert icon_file(name).is_file()
        image = mark(name, appearance.theme.accent, 24).toImage()
        assert image.width() == 48
        drawn = {image.pixelColor(x, y).name() for x in range(48) for y in range(48)
                 if image.pixelColor(x, y).alpha() == 255}  # fmt: skip
        assert drawn == {appearance.theme.accent.name()}


def test_only_places_that_exist_stand_on_the_rail(frame: MainWindow) -> None:
    assert list(frame.rail.places) == [section.spec().id for section in SECTIONS]
    assert frame.rail.places["clients"].isChecked()
    for name, place in frame.rail.places.items():
        place.click()
        assert frame.windowTitle() != " – Sennight"
        assert frame.rail.places[name].isChecked()


# Going about


def test_folder_course_and_back_by_keyboard(frame: MainWindow, qtbot: QtBot) -> None:
    qtbot.waitUntil(clients_of(frame).clients.list.rows.hasFocus)
    qtbot.keyClick(clients_of(frame).clients.list.rows, Key.Key_Return)
    assert frame.stack.currentWidget() is clients_of(frame).folder
    assert clients_of(frame).folder.title.text() == "Efua Prendergast"
    assert frame.windowTitle() == "Client – Sennight", "the system keeps titles of windows"
    qtbot.waitUntil(clients_of(frame).folder.rows.hasFocus)
    qtbot.keyClick(clients_of(frame).folder.rows, Key.Key_Return)
    assert frame.stack.currentWidget() is clients_of(frame).course
    assert controller_of(frame).title == "Efua Prendergast · Winter joints"
    assert frame.windowTitle() == "Course – Sennight"
    qtbot.keyClick(frame, Key.Key_Left, Alt)
    assert frame.stack.currentWidget() is clients_of(frame).folder
    qtbot.keyClick(frame, Key.Key_Left, Alt)
    assert frame.stack.currentWidget() is clients_of(frame).clients
    qtbot.keyClick(frame, Key.Key_Left, Alt)
    assert frame.stack.currentWidget() is frame.section(BenchSection).bench
    assert not frame.actions_by_id["back"].isEnabled()


def test_the_review_is_a_place_of_its_own(frame: MainWindow, sample: Sample, qtbot: QtBot) -> None:
    frame.go(Route(RouteKind.COURSE, sample.course))
    course = clients_of(frame).course
    controller_of(frame).view.head.review_button.click()
    assert (course.is_review, frame.windowTitle()) == (True, "Review – Sennight")
    qtbot.keyClick(frame, Key.Key_Left, Alt)
    assert (course.is_review, frame.windowTitle()) == (False, "Course – Sennight")
    qtbot.keyClick(frame, Key.Key_Right, Alt)
    assert course.is_review
    assert not frame.actions_by_id["forward"].isEnabled()
    parts = controller_of(frame).review.parts
    assert parts is not None
    qtbot.keyClick(parts[0], Key.Key_Escape)
    assert (course.is_review, frame.windowTitle()) == (False, "Course – Sennight")
    qtbot.keyClick(frame, Key.Key_Left, Alt)
    assert frame.stack.currentWidget() is clients_of(frame).clients
    frame.find_field.setFocus()
    qtbot.keyClicks(frame.find_field, "review efua")
    qtbot.keyClick(frame.find_field, Key.Key_Return)
    assert course.is_review
    frame.back()
    frame.go(Route(RouteKind.COURSE, sample.course))
    assert not course.is_review


def test_the_list_remembers_the_client_it_was_on(frame: MainWindow, sample: Sample) -> None:
    noor = sample.clients["noor"]
    clients_of(frame).clients.list.select(noor)
    frame.go(Route(RouteKind.FOLDER, noor))
    frame.back()
    assert clients_of(frame).clients.list.current() == noor


def test_a_damaged_course_is_told_and_the_page_stays(
    frame: MainWindow, sample: Sample, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_: str) -> None:
        raise DamagedFileError("This course is damaged")

    monkeypatch.setattr(clients_of(frame).course, "open", refuse)
    frame.go(Route(RouteKind.COURSE, sample.course))
    assert frame.stack.currentWidget() is clients_of(frame).clients
    assert frame.status.text.text() == "This course is damaged"


def test_what_is_gone_is_told_and_the_page_stays(frame: MainWindow) -> None:
    frame.go(Route(RouteKind.FOLDER, "nobody"))
    assert frame.stack.currentWidget() is clients_of(frame).clients
    assert frame.status.text.text() == "That is no longer in this practice."


def test_a_note_is_kept_when_the_page_or_the_window_is_left(
    frame: MainWindow, sample: Sample
) -> None:
    efua = sample.clients["efua"]
    frame.go(Route(RouteKind.FOLDER, efua))
    clients_of(frame).folder.note.setPlainText("prefers mornings")
    frame.go(CLIENTS)
    assert client_entry(sample.practice, efua).note == "prefers mornings"
    frame.go(Route(RouteKind.FOLDER, efua))
    clients_of(frame).folder.note.setPlainText("prefers evenings")
    frame.close()
    assert client_entry(sample.practice, efua).note == "prefers evenings"


def test_a_new_client_gets_a_folder_at_once(
    frame: MainWindow, sample: Sample, qtbot: QtBot
) -> None:
    def fill(dialog: ClientDialog) -> None:
        qtbot.keyClicks(dialog.name, "Ishbel Marr")
        qtbot.keyClick(dialog.name, Key.Key_Return)

    in_next_dialog(fill)
    qtbot.keyClick(frame, Key.Key_N, Ctrl)
    assert clients_of(frame).folder.title.text() == "Ishbel Marr"
    assert frame.status.text.text() == "Ishbel Marr was added."
    assert "Ishbel Marr" in {entry.client.name for entry in list_clients(sample.practice)}


def test_an_empty_practice_says_what_to_do(
    empty_practice: OpenPractice, new_frame: NewFrame, qtbot: QtBot
) -> None:
    frame = new_frame(empty_practice)
    assert (
        clients_of(frame).clients.list.body.currentWidget() is clients_of(frame).clients.list.empty
    )
    qtbot.waitUntil(clients_of(frame).clients.first_new.hasFocus)
    texts = {label.text() for label in clients_of(frame).clients.list.empty.findChildren(QLabel)}
    assert "No clients yet" in texts


def test_the_list_narrows_as_it_is_typed_into(frame: MainWindow, qtbot: QtBot) -> None:
    narrow = clients_of(frame).clients.list.narrow
    qtbot.keyClicks(narrow, "mul")
    assert clients_of(frame).clients.list.model.rowCount() == 1
    assert clients_of(frame).clients.list.count.text() == "1 of 3"
    qtbot.keyClick(narrow, Key.Key_Down)
    qtbot.waitUntil(clients_of(frame).clients.list.rows.hasFocus)
    qtbot.keyClicks(narrow, "x")
    assert (
        clients_of(frame).clients.list.body.currentWidget() is clients_of(frame).clients.list.empty
    )
    qtbot.keyClick(narrow, Key.Key_Escape)
    assert clients_of(frame).clients.list.model.rowCount() == 3


# Find


def test_what_is_found_after_saves_is_what_a_new_start_finds(sample: Sample) -> None:
    """Courses that were saved are put in their places; a client's new name stands with them."""
    practice, index = sample.practice, FindIndex(sample.practice)
    others = [
        start_course(practice, client, sample.protocols["evenings"], TODAY, now=NOW)
        for client in sample.clients.values()
    ]
    assert index() == FindIndex(practice)()
    for days in (-9, 400, 0, 0, -30):
        for course_id in (others[1], sample.course):
            entry = course_entry(practice, course_id)
            moved = replace(entry.course, start=entry.course.start + timedelta(days=days))
            save_course(practice, entry, replace(moved, until=None), now=NOW)
            assert set(index()) == set(FindIndex(practice)())
            courses = [thing for thing in index() if thing.sort is Sort.COURSE]
            assert [thing.id for thing in courses] == [
                title.id for title in list_course_titles(practice)
            ]
    assert index() is index()


def test_of_the_clients_those_alone_are_read_that_were_saved(
    sample: Sample, monkeypatch: pytest.MonkeyPatch
) -> None:
    practice, index = sample.practice, FindIndex(sample.practice)
    index()

    def as_at_a_new_start() -> None:
        every = FindIndex(practice)()
        with monkeypatch.context() as patched:
            patched.setattr(find_index, "list_client_titles", None)
            assert index() == every

    record = client_entry(practice, sample.clients["efua"])
    for name in ("Other Name", "aaron before all"):
        change_client(practice, replace(record, client=replace(record.client, name=name)))
        as_at_a_new_start()
    archived = replace(client_entry(practice, record.id), archived=True)
    change_client(practice, archived)
    as_at_a_new_start()
    assert not [thing for thing in index() if thing.id == record.id]
    change_client(practice, replace(archived, archived=False))
    add_client(practice, replace(record.client, name="Nobody Yet"))
    as_at_a_new_start()


def test_everything_is_found_by_name(sample: Sample) -> None:
    things = everything(sample.practice)
    assert [(t.sort, t.name) for t in matching_things(things, "wi joi")] == [
        (Sort.COURSE, "Winter joints"),
        (Sort.PROTOCOL, "Winter joints"),
    ]
    assert [t.sort for t in matching_things(things, "efua")] == [Sort.CLIENT, Sort.COURSE]
    assert [t.name for t in matching_things(things, "joint te")] == ["Joint tea"]
    herbs = [
        Thing(Sort.HERB, n, n, about) for n, about in (("Lovage", "love parsley"), ("Parsley", ""))
    ]
    assert [t.name for t in matching_things(tuple(herbs), "par")] == ["Parsley", "Lovage"]
    first = Thing(Sort.CLIENT, "i", "Ida Parr", "")
    assert matching_things((first, *herbs), "par")[0] is first, "clients stay before herbs"
    assert [t.id for t in matching_things(things, "white willow")] == ["willow-bark"]
    assert [t.id for t in matching_things(things, "devils cl")] == ["devils-claw"]
    assert matching_things(things, "  ") == ()


def test_no_more_is_shown_than_fits(empty_practice: OpenPractice) -> None:
    for number in range(MOST + 3):
        add_client(empty_practice, Client(f"Anna {number}"))
    assert len(matching_things(everything(empty_practice), "anna")) == MOST


def test_find_opens_with_the_keyboard_alone(frame: MainWindow, qtbot: QtBot) -> None:
    qtbot.keyClick(frame, Key.Key_F, Ctrl)
    field = frame.find_field
    assert field.hasFocus()
    qtbot.keyClicks(field, "efua")
    assert field.panel.isVisible()
    qtbot.keyClick(field, Key.Key_Down)
    qtbot.keyClick(field, Key.Key_Return)
    assert frame.stack.currentWidget() is clients_of(frame).course
    assert not field.panel.isVisible()
    assert field.text() == ""


def test_what_can_be_decided_of_the_course_in_front_is_found_by_name(
    frame: MainWindow, sample: Sample, qtbot: QtBot
) -> None:
    def found() -> list[str]:
        qtbot.keyClick(frame, Key.Key_K, Ctrl)
        qtbot.keyClicks(frame.find_field, "paus")
        rows = frame.find_field.panel.rows.model()
        return [rows.index(row, 0).data() for row in range(rows.rowCount())]

    assert "Pause" not in found(), "nothing can be paused here"
    frame.find_field.leave()
    frame.go(Route(RouteKind.COURSE, sample.course))
    assert found() == ["Pause"]
    qtbot.keyClick(frame.find_field, Key.Key_Return)
    assert isinstance(controller_of(frame).deciding.form, TakePause)


def test_find_leaves_with_escape_and_says_when_nothing_fits(
    frame: MainWindow, qtbot: QtBot
) -> None:
    field = frame.find_field
    field.setFocus()
    qtbot.keyClicks(field, "zzz")
    assert field.panel.nothing.text() == "No match for “zzz”."
    qtbot.keyClick(field, Key.Key_Return)
    assert frame.stack.currentWidget() is clients_of(frame).clients
    qtbot.keyClick(field, Key.Key_Escape)
    assert not field.panel.isVisible()


def test_the_find_panel_stays_inside_the_window(frame: MainWindow, qtbot: QtBot) -> None:
    frame.find_field.setFocus()
    qtbot.keyClicks(frame.find_field, "e")
    panel = frame.find_field.panel
    assert frame.rect().contains(panel.geometry())


@pytest.mark.parametrize(
    ("typed", "title"), [("warm", "Warming drops"), ("filipend", "Meadowsweet")]
)
def test_find_opens_remedies_and_herbs(
    frame: MainWindow, qtbot: QtBot, typed: str, title: str
) -> None:
    frame.find_field.setFocus()
    qtbot.keyClicks(frame.find_field, typed)
    qtbot.keyClick(frame.find_field, Key.Key_Return)
    shown = (frame.section(RemediesSection).remedy.name, frame.section(HerbsSection).herb.title)
    assert title in [name.text() for name in shown if name.isVisible()]
    frame.back()
    assert frame.stack.currentWidget() is clients_of(frame).clients


def test_a_note_is_saved_when_the_page_is_left_and_a_formula_stays_a_draft(
    frame: MainWindow, sample: Sample
) -> None:
    frame.go(Route(RouteKind.REMEDY, "tea"))
    page = frame.section(RemediesSection).remedy
    page.name.setText("Joint tea, stronger")
    frame.go(Route(RouteKind.HERB, "ginger"))
    assert shelf_remedy(sample.practice, "tea").remedy.name == "Joint tea"
    (draft,) = formula_drafts(sample.practice)
    assert draft.remedy.name == "Joint tea, stronger"
    frame.section(HerbsSection).herb.note.setPlainText("fresh root")
    frame.back()
    assert herb_notes(sample.practice) == {"ginger": "fresh root"}
    frame.actions_by_id["undo"].trigger()
    assert page.name.text() == "Joint tea"


def test_find_does_what_can_be_done(frame: MainWindow, qtbot: QtBot) -> None:
    before = frame._appearance.theme.scale
    frame.find_field.setFocus()
    qtbot.keyClicks(frame.find_field, "larger text")
    qtbot.keyClick(frame.find_field, Key.Key_Return)
    assert frame._appearance.theme.scale > before
    with pytest.raises(ValueError, match="larger-text"):
        route_to(Thing(Sort.ACTION, "larger-text", "Larger text", ""))


def test_find_goes_to_a_protocol(frame: MainWindow, qtbot: QtBot) -> None:
    frame.find_field.setFocus()
    qtbot.keyClicks(frame.find_field, "quiet")
    qtbot.keyClick(frame.find_field, Key.Key_Return)
    editor = frame.section(ProtocolsSection).work.protocol.editor
    assert editor is not None
    assert editor.title.text() == "Quiet evenings"


# Undo


def test_undo_and_redo_work_on_the_page_in_front(
    frame: MainWindow, sample: Sample, qtbot: QtBot
) -> None:
    undo, redo = frame.actions_by_id["undo"], frame.actions_by_id["redo"]
    assert not undo.isEnabled()
    frame.go(Route(RouteKind.FOLDER, sample.clients["efua"]))
    clients_of(frame).folder.note.setPlainText("prefers mornings")
    clients_of(frame).folder.keep_note()
    assert undo.isEnabled()
    assert "change of the note" in undo.toolTip()
    clients_of(frame).folder.take_focus()
    qtbot.keyClick(clients_of(frame).folder.rows, Key.Key_Z, Ctrl)
    assert client_entry(sample.practice, sample.clients["efua"]).note == ""
    assert frame.status.text.text() == "Undone: change of the note."
    assert redo.isEnabled()
    qtbot.keyClick(clients_of(frame).folder.rows, Key.Key_Y, Ctrl)
    assert frame.status.text.text() == "Done again: change of the note."
    frame.go(CLIENTS)
    assert not undo.isEnabled()


# What is remembered, and how it looks


def test_the_window_comes_back_where_it_was(sample: Sample, new_frame: NewFrame) -> None:
    frame = new_frame(sample.practice)
    usual = frame.size()
    frame.resize(790, 600)
    small = frame.size()
    assert small != usual
    frame.close()
    assert new_frame(sample.practice).size() == small


def test_settings_hold_nothing_about_clients(
    frame: MainWindow, sample: Sample, tmp_path: Path
) -> None:
    frame.go(Route(RouteKind.FOLDER, sample.clients["efua"]))
    frame.close()
    text = (tmp_path / "settings.ini").read_text("utf-8")
    assert "geometry" in text
    assert "Efua" not in text
    assert sample.clients["efua"] not in text


def test_settings_that_make_no_sense_read_as_the_default(tmp_path: Path) -> None:
    file = tmp_path / "odd.ini"
    file.write_text("[look]\nscheme=purple\nscale=900\n[window]\ngeometry=7\n")
    settings = Settings(file)
    assert (settings.scheme, settings.scale) == (Scheme.SYSTEM, 100)
    assert settings.geometry.isEmpty()


def test_text_grows_and_shrinks_by_keyboard(
    frame: MainWindow, appearance: Appearance, qtbot: QtBot
) -> None:
    sizes = [appearance.theme.scale]
    for _ in range(4):
        qtbot.keyClick(frame, Key.Key_Plus, Ctrl)
        sizes.append(appearance.theme.scale)
    qtbot.keyClick(frame, Key.Key_Minus, Ctrl)
    assert [*sizes, appearance.theme.scale] == [100, 110, 125, 150, 150, 125]
    assert frame.fontMetrics().height() > 0


@pytest.mark.parametrize("scale", [100, 150])
def test_every_page_fits_the_smallest_window(
    sample: Sample, new_frame: NewFrame, appearance: Appearance, scale: int, tmp_path: Path
) -> None:
    appearance.choose_scale(scale)
    about = About(sample.clients["efua"], NameParts("Efua"))
    give_papers(
        sample.practice, about, [Paper(PaperKind.REFERRAL, b"")], tmp_path, now=NOW, today=TODAY
    )
    frame = new_frame(sample.practice)
    for spot in (
        CLIENTS,
        Route(RouteKind.FOLDER, sample.clients["efua"]),
        Route(RouteKind.COURSE, sample.course),
    ):
        frame.go(spot)
        QApplication.processEvents()
        least = frame.minimumSizeHint()
        assert (least.width() <= 1280, least.height() <= 800) == (True, True), (spot, least)


def test_light_and_dark_are_chosen_and_kept(appearance: Appearance, settings: Settings) -> None:
    appearance.choose_scheme(Scheme.DARK)
    assert appearance.theme.dark
    assert settings.scheme is Scheme.DARK
    appearance.choose_scheme(Scheme.LIGHT)
    assert not appearance.theme.dark


def test_the_system_is_followed_where_nothing_is_chosen(
    appearance: Appearance, qapp: QApplication
) -> None:
    appearance.choose_scheme(Scheme.SYSTEM)
    is_dark = qapp.styleHints().colorScheme() is Qt.ColorScheme.Dark
    assert appearance.theme.dark is is_dark


def test_a_message_goes_after_a_while(qtbot: QtBot) -> None:
    line = StatusLine()
    qtbot.addWidget(line)
    line.say("Saved.")
    assert line.text.text() == "Saved."
    line._clear.setInterval(1)
    qtbot.waitUntil(lambda: line.text.text() == "")


def test_a_page_with_a_head_line_has_the_tools_in_it(frame: MainWindow, sample: Sample) -> None:
    title = list_course_titles(sample.practice)[0]
    frame.go(Route(RouteKind.COURSE, title.id))
    head = controller_of(frame).view.head
    assert frame.top_bar.isHidden()
    for tool in (frame.find_field, *frame.top_bar.buttons.values()):
        assert head.isAncestorOf(tool)
        assert tool.isVisible()
    frame.say("Saved.")
    assert controller_of(frame).view.isAncestorOf(frame.status)
    frame.back()
    assert frame.top_bar.isVisible()
    assert frame.top_bar.isAncestorOf(frame.find_field)
    assert not controller_of(frame).view.isAncestorOf(frame.status)


def test_what_was_written_is_found_on_top(frame: MainWindow, sample: Sample, qtbot: QtBot) -> None:
    client = sample.clients["efua"]
    written = (Part("Said", "Dizzy after the steam bath"),)
    add_consultation(sample.practice, client, Consultation(TODAY, ConsultationKind.FIRST, written))
    frame.find_field.setFocus()
    qtbot.keyClicks(frame.find_field, "di")
    assert all(thing.sort is not Sort.CONSULTATION for thing in frame.find_field._matches)
    qtbot.keyClicks(frame.find_field, "zz")
    (found,) = frame.find_field._matches
    assert (found.name, found.about) == (written[0].text, "written about Efua Prendergast")
    qtbot.keyClick(frame.find_field, Key.Key_Return)
    assert clients_of(frame).folder.title.text() == "Efua Prendergast"


def test_the_first_window_fits_its_screen_with_its_frame(
    qtbot: QtBot, frame: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A screen of 800 lines: the title takes its part of them."""
    monkeypatch.setattr(type(frame._settings), "geometry", QByteArray())
    frame.resize(1280, 1000)
    frame._restore()
    qtbot.wait(1)
    assert frame.height() <= frame.screen().availableGeometry().height() - 20
