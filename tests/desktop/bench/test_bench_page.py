"""Bench in the window: by keyboard alone, by mouse, undone, empty."""

from __future__ import annotations

from datetime import date

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QLabel, QMenu
from pytestqt.qtbot import QtBot

from sennight.desktop.bench.page import BenchPage
from sennight.desktop.bench.put_off_dialog import PutOffDialog
from sennight.desktop.bench.section import BenchSection
from sennight.desktop.bench.table import ACT, CLIENT, COURSE, DONE, LATER, WHAT
from sennight.desktop.bench.words import group_words, spoken, what_words, when_words
from sennight.desktop.course.diary.diary import DiaryDialog
from sennight.desktop.kit.navigation import BENCH
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Settings
from sennight.domain.follow_up.diaries import Taken
from sennight.domain.safety.red_flags import RedFlagCheck
from sennight.practice.bench import Item, Matter, MatterKey
from sennight.practice.diaries import enter_diary
from sennight.practice.opening import OpenPractice
from sennight.practice.red_flags import record_check
from support.next_dialog import in_next_dialog
from support.pages import clients_of, controller_of
from support.sample_practice import NOW, Sample

TODAY = date(2027, 2, 12)
Key, Ctrl = Qt.Key, Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def frame(qtbot: QtBot, sample: Sample, appearance: Appearance, settings: Settings) -> MainWindow:
    enter_diary(sample.practice, sample.course, [Taken(date(2027, 2, 1), "tea", 1)])
    record_check(sample.practice, sample.clients["noor"], RedFlagCheck(TODAY, ("clot",)), now=NOW)
    made = MainWindow(sample.practice, appearance, settings, today=lambda: TODAY)
    qtbot.addWidget(made)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(page_of(made).rows.hasFocus)
    return made


def page_of(frame: MainWindow) -> BenchPage:
    return frame.section(BenchSection).bench


def shown(page: BenchPage) -> list[str]:
    items = page.model.items
    return [
        line if isinstance(line, str) else f"  {items[line].client}: {what_words(items[line])}"
        for line in page.model.lines
    ]


def test_the_days_stand_as_headings_over_what_they_bring(frame: MainWindow) -> None:
    assert shown(page_of(frame)) == [
        "Overdue",
        "  Efua Prendergast: Diary not entered since 2 February",
        "Today, Friday 12 February",
        "  Noor Müller: A red flag was found and is not cleared",
        "Sunday 14 February",
        "  Efua Prendergast: Review: Loading",
        "Monday 15 February",
        "  Efua Prendergast: Next phase: Maintenance, to 2 January 2028",
    ]
    assert page_of(frame).count.text() == "4 this week, 1 course under way"
    assert "Overdue: 1, Today: 1, Sat 13 Feb: 0" in page_of(frame).strip.accessibleName()


def test_the_keyboard_steps_over_headings_and_opens_the_course_at_the_day(
    frame: MainWindow, qtbot: QtBot
) -> None:
    rows = page_of(frame).rows
    assert rows.row() == 1
    for _ in range(3):
        qtbot.keyClick(rows, Key.Key_Down)
    assert rows.row() == 7
    qtbot.keyClick(rows, Key.Key_Home)
    qtbot.keyClick(rows, Key.Key_Up)
    assert rows.row() == 1
    qtbot.keyClick(rows, Key.Key_End)
    qtbot.keyClick(rows, Key.Key_Return)
    assert frame.stack.currentWidget() is clients_of(frame).course
    assert controller_of(frame).session.day == date(2027, 2, 15)


def test_each_opens_its_own_place(frame: MainWindow, qtbot: QtBot) -> None:
    rows, opened = page_of(frame).rows, list[str]()

    def note(dialog: DiaryDialog) -> None:
        opened.append(type(dialog).__name__)
        dialog.reject()

    in_next_dialog(note)
    qtbot.keyClick(rows, Key.Key_Return)
    assert frame.stack.currentWidget() is clients_of(frame).course
    frame.go(BENCH)
    rows.select_near(3)
    in_next_dialog(note)
    qtbot.keyClick(rows, Key.Key_Return)
    assert frame.stack.currentWidget() is clients_of(frame).folder
    assert opened == ["DiaryDialog", "RedFlagsDialog"]


def test_each_row_says_what_opening_it_does(frame: MainWindow, qtbot: QtBot) -> None:
    page = page_of(frame)
    view, model = page.rows, page.model
    cells = [model.index(row, ACT) for row in range(model.row_count()) if model.item(row)]
    assert [cell.data() for cell in cells] == ["Enter diary", "Ask again", "Review", "Open course"]
    for column in (ACT, DONE, LATER):
        assert view.sizeHintForColumn(column) <= view.columnWidth(column), "no verb is cut"
    qtbot.mouseClick(
        view.viewport(), Qt.MouseButton.LeftButton, pos=view.visualRect(cells[2]).center()
    )
    assert frame.stack.currentWidget() is clients_of(frame).course
    assert clients_of(frame).course.is_review


def test_no_room_is_lost_over_the_first_day(frame: MainWindow) -> None:
    view = page_of(frame).rows
    assert view.rowHeight(0) < view.fontMetrics().height() * 2


def test_done_by_key_and_taken_back(frame: MainWindow, qtbot: QtBot) -> None:
    page = page_of(frame)
    before = shown(page)
    qtbot.keyClick(page.rows, Key.Key_D, Ctrl)
    assert shown(page) == before[2:]
    assert "Ctrl+Z undoes it" in frame.status.text.text()
    qtbot.keyClick(page.rows, Key.Key_Z, Ctrl)
    assert shown(page) == before
    qtbot.keyClick(page.rows, Key.Key_Y, Ctrl)
    assert shown(page) == before[2:]


def test_done_by_mouse_and_a_right_click_opens_nothing(frame: MainWindow, qtbot: QtBot) -> None:
    page = page_of(frame)
    view, before = page.rows, shown(page)

    def place(column: int) -> QPoint:
        return view.visualRect(page.model.index(5, column)).center()

    qtbot.mouseClick(view.viewport(), Qt.MouseButton.RightButton, pos=place(WHAT))
    assert frame.stack.currentWidget() is page
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=place(DONE))
    assert shown(page) == before[:4] + before[6:]
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=place(WHAT))
    assert frame.stack.currentWidget() is clients_of(frame).course


def test_put_off_by_the_menu_and_to_a_day_that_is_typed(frame: MainWindow, qtbot: QtBot) -> None:
    page = page_of(frame)
    qtbot.keyClick(page.rows, Key.Key_L, Ctrl)
    (menu,) = page.findChildren(QMenu)
    texts = [action.text() for action in menu.actions()]
    assert texts[0] == "To Saturday 13 February 2027"
    menu.actions()[0].trigger()
    menu.close()
    assert shown(page)[2:4] == [
        "Tomorrow, Saturday 13 February",
        "  Efua Prendergast: Diary not entered since 2 February",
    ]

    def fill(dialog: PutOffDialog) -> None:
        dialog.day.setText("12 February 2027")
        dialog.submit()
        assert dialog.answer is None
        dialog.day.setText("+3 weeks")
        dialog.submit()

    in_next_dialog(fill)
    page.ask_day(3)
    assert not any("Diary" in line for line in shown(page))
    page.undo_stack.undo()
    assert shown(page)[2] == "Tomorrow, Saturday 13 February"


def test_letters_narrow_the_list_and_a_day_of_the_strip_leads_to_it(
    frame: MainWindow, qtbot: QtBot
) -> None:
    page = page_of(frame)
    page.strip.chosen.emit(date(2027, 2, 14))
    assert page.rows.row() == 5
    page.strip.chosen.emit(date(2027, 2, 11))
    assert page.rows.row() == 1
    qtbot.keyClicks(page.narrow, "review")
    assert shown(page) == ["Sunday 14 February", "  Efua Prendergast: Review: Loading"]
    qtbot.keyClicks(page.narrow, "zzz")
    assert page.body.currentWidget() is page.empty


def test_an_empty_bench_says_what_will_stand_there(
    empty_practice: OpenPractice,
    qtbot: QtBot,
    appearance: Appearance,
    settings: Settings,
) -> None:
    made = MainWindow(empty_practice, appearance, settings, today=lambda: TODAY)
    qtbot.addWidget(made)
    made.show()
    made.activateWindow()
    page = page_of(made)
    qtbot.waitUntil(page.new.hasFocus)
    assert "No course is under way" in {one.text() for one in page.empty.findChildren(QLabel)}
    made.close()


def item(matter: Matter, what: str = "tea", until: date | None = None) -> Item:
    key = MatterKey("c", "k", matter.value, what, TODAY)
    return Item(key, matter, TODAY, "Noor", "Joints", what, until)


def test_every_matter_has_words_of_its_own() -> None:
    said = [what_words(item(matter)) for matter in Matter]
    assert len(set(said)) == len(Matter)
    assert what_words(item(Matter.ORDER, until=date(2027, 2, 19))) == (
        "Lasts until 19 Feb: order tea"
    )
    used_up = "Used up on 12 Feb: order tea"
    assert what_words(item(Matter.ORDER, until=TODAY)) == used_up
    assert what_words(item(Matter.RED_FLAG, "3")).startswith("3 red flags")
    assert what_words(item(Matter.APPOINTMENT, "")) == "Appointment"
    late = replace_due(item(Matter.REVIEW), date(2027, 2, 1))
    assert when_words(late, TODAY) == "from 12 Feb"
    assert group_words(date(2027, 2, 1), TODAY) == "Overdue"
    assert spoken(item(Matter.END), TODAY) == (
        "Today, Friday 12 February. Noor. Last day of the course. Joints"
    )


def replace_due(one: Item, due: date) -> Item:
    return one._replace(due=due, put_to=due)


def test_rows_are_alike_also_after_one_is_done(frame: MainWindow) -> None:
    """A row that takes the place of a heading is no higher than others."""
    page = page_of(frame)
    page.finish(1)
    model, view = page.model, page.rows
    heights = {view.rowHeight(row) for row in range(model.row_count()) if model.item(row)}
    assert len(heights) == 1


def test_the_row_beneath_the_pointer_is_marked_whole(frame: MainWindow, qtbot: QtBot) -> None:
    view = page_of(frame).rows
    hover, seen = view.palette().midlight().color().name(), dict[int, set[str]]()
    for row in (5, 4):  # the review, and the heading over it, which does nothing
        place = view.visualRect(view.model().index(row, WHAT)).center()
        qtbot.mouseMove(view.viewport(), place)
        image = view.viewport().grab().toImage()
        ends = (3, view.viewport().width() - 3)
        seen[row] = {image.pixelColor(x, place.y() + 8).name() for x in ends}
    assert seen[5] == {hover}
    assert hover not in seen[4]


def test_names_are_whole_where_text_is_large(frame: MainWindow, appearance: Appearance) -> None:
    """The course, the verb and the day give way to them, in that order."""
    view = page_of(frame).rows
    assert not view.isColumnHidden(COURSE)
    appearance.choose_scale(150)
    frame.resize(1024, 700)
    frame.grab()
    assert view.isColumnHidden(COURSE)
    assert view.isColumnHidden(ACT)
    assert view.sizeHintForColumn(CLIENT) <= view.columnWidth(CLIENT)
