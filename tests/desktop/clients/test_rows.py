"""The rows of lists: what they say, and the Qt model around them."""

from datetime import date, time

import pytest
from PySide6.QtCore import Qt
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from sennight.desktop.clients.list_table import list_columns
from sennight.desktop.clients.rows import client_row, course_cells
from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.parts.standing import age_words, facts_words
from sennight.domain.courses.clients import Fact
from sennight.practice.clients import ClientTitle, list_client_titles
from sennight.practice.courses import course_entry, list_courses, start_course
from support.sample_practice import NOW, TODAY, Sample


@pytest.mark.parametrize(
    ("born", "words"),
    [
        (date(1970, 5, 1), "56 years"),
        (date(2025, 1, 27), "2 years"),
        (date(2025, 1, 28), "23 months"),
        (date(2026, 12, 27), "1 month"),
        (date(2027, 1, 20), "0 months"),
        (None, ""),
    ],
)
def test_age_is_told_in_months_for_the_smallest(born: date | None, words: str) -> None:
    assert age_words(born, TODAY) == words


def title(sample: Sample, client_id: str) -> ClientTitle:
    return next(one for one in list_client_titles(sample.practice) if one.id == client_id)


def test_a_fact_that_is_not_recorded_is_never_told_as_absent() -> None:
    assert facts_words(()) == "not asked"
    assert facts_words((), asked=True) == "asked: none"


def test_a_fact_that_no_record_knows_is_told_as_not_checked() -> None:
    fact = Fact("", name="something blue", dose="5 mg", at=(time(8),))
    assert facts_words((fact,)) == "Something blue 5 mg (not checked) at 08:00"
    chosen = Fact("", name="something blue", classes=("statin",))
    assert facts_words((chosen,)) == "Something blue"


def test_facts_are_told_with_their_days() -> None:
    facts = (
        Fact("peptic-ulcer"),
        Fact("gout", date(2020, 1, 1)),
        Fact("planned-surgery", None, date(2027, 3, 1)),
        Fact("hot-joint", date(2027, 1, 1), date(2027, 2, 1)),
    )
    assert facts_words(facts) == (
        "Peptic ulcer, gout (from 1 January 2020), planned operation (to 1 March 2027), "
        "hot, swollen joint (from 1 January 2027 to 1 February 2027)"
    )


def test_a_client_stands_in_the_running_course(sample: Sample) -> None:
    efua = sample.clients["efua"]
    start_course(sample.practice, efua, sample.protocols["evenings"], date(2027, 6, 7), now=NOW)
    entry = title(sample, efua)
    courses = list_courses(sample.practice, efua)
    assert [one.course.protocol.name for one in courses] == ["Quiet evenings", "Winter joints"]
    cells = client_row(entry, courses, TODAY).cells(TODAY)
    assert cells == ("Efua Prendergast", "68 years", "Winter joints", "Week 4, Loading")


def test_a_client_without_a_running_course_shows_the_latest(sample: Sample) -> None:
    entry = title(sample, sample.clients["efua"])
    courses = list_courses(sample.practice, sample.clients["efua"])
    assert client_row(entry, courses, date(2028, 5, 1)).cells(date(2028, 5, 1))[3] == (
        "ended on 2 January 2028"
    )
    assert client_row(entry, courses, date(2027, 1, 1)).cells(date(2027, 1, 1))[3] == (
        "starts on 4 January 2027"
    )


def test_a_client_without_a_course_shows_none(sample: Sample) -> None:
    entry = title(sample, sample.clients["oskar"])
    assert client_row(entry, (), TODAY).cells(TODAY) == ("Oskar Teale", "", "", "")


def test_a_course_shows_both_its_ends(sample: Sample) -> None:
    entry = course_entry(sample.practice, sample.course)
    assert course_cells(entry, TODAY) == (
        "Winter joints",
        "4 January 2027 to 2 January 2028",
        "Week 4, Loading",
    )


def test_the_table_is_a_sound_model(qtmodeltester: ModelTester) -> None:
    model = TextTable(list_columns())
    qtmodeltester.check(model)
    model.show_rows(3, lambda row: (f"name {row}", "50 years", *6 * ("",)))
    qtmodeltester.check(model)
    model.show_rows(0, lambda _row: ())
    qtmodeltester.check(model)


def test_a_row_is_asked_for_once_and_only_when_it_is_looked_at() -> None:
    asked: list[int] = []

    def cells(row: int) -> tuple[str, ...]:
        asked.append(row)
        return (f"name {row}", "")

    model = TextTable(("Name", "Age"))
    model.show_rows(10_000, cells)
    assert asked == []
    assert model.data(model.index(7, 0)) == "name 7"
    assert model.data(model.index(7, 1)) == ""
    assert asked == [7]
    assert model.headerData(1, Qt.Orientation.Horizontal) == "Age"
    assert model.headerData(4, Qt.Orientation.Vertical) == 5


def test_enter_and_click_choose_a_row(qtbot: QtBot) -> None:
    model = TextTable(("Name",))
    view = RowsView(model, shares=(1,))
    qtbot.addWidget(view)
    model.show_rows(3, lambda row: (f"name {row}",))
    chosen: list[int] = []
    view.chosen.connect(chosen.append)
    view.show()
    qtbot.keyClick(view, Qt.Key.Key_Down)
    qtbot.keyClick(view, Qt.Key.Key_Return)
    place = view.visualRect(model.index(2, 0)).center()
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert chosen == [1, 2]
