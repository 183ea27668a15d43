"""The dialogs of a line and of a phase: what they show, take and refuse."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from pytestqt.qtbot import QtBot

from sennight.desktop.course.lines.gate_fields import read_weeks
from sennight.desktop.course.lines.line_cells import Column
from sennight.desktop.course.lines.line_dialog import LineDialog
from sennight.desktop.course.lines.lines_editor import LinesEditor
from sennight.desktop.course.lines.phase_dialog import PhaseDialog, read_most
from sennight.desktop.course.session import Session
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.theme import Theme
from sennight.domain.courses.protocols import AdviceLine, Ceiling, CountFrom, Gate, Threshold
from sennight.domain.directions.parser import parse_timing
from support import course_cases
from support.next_dialog import in_next_dialog


@pytest.fixture
def session() -> Session:
    made = course_cases.session(course_cases.full_course(decided=False), today=course_cases.START)
    made.choose_phase("loading")
    return made


def line_dialog(qtbot: QtBot, session: Session, theme: Theme) -> LineDialog:
    made = LineDialog(session, theme, session.phase.lines[0], None)
    qtbot.addWidget(made)
    return made


def phase_dialog(qtbot: QtBot, session: Session, theme: Theme) -> PhaseDialog:
    made = PhaseDialog(session, theme, None)
    qtbot.addWidget(made)
    return made


def test_a_line_shows_its_steps_as_a_table_of_days(
    qtbot: QtBot, session: Session, theme: Theme
) -> None:
    dialog = line_dialog(qtbot, session, theme)
    assert dialog.steps.text() == "4 w: 1 cup bd"
    assert [row[:2] for row in dialog.table.rows] == [
        ("days 1 to 28", "4 to 31 January 2027"),
        ("days 29 to 42", "1 to 14 February 2027"),
    ]
    dialog.steps.setText("3 d: 1 cup bd; 4 d: 1 cup od; 9 w: 1 cup bd")
    assert [row[:2] for row in dialog.table.rows] == [
        ("days 1 to 3", "4 to 6 January 2027"),
        ("day 4", "7 January 2027"),
        ("days 5 to 42", "8 January to 14 February 2027"),
        ("from day 64", "after the phase’s end"),
    ]
    assert "1 cup once a day" in dialog.table.accessibleDescription()


def test_a_line_takes_where_and_how_and_from_when_it_counts(
    qtbot: QtBot, session: Session, theme: Theme
) -> None:
    dialog = line_dialog(qtbot, session, theme)
    assert not dialog.is_changed()
    dialog.site.setText(" right  knee only ")
    dialog.note.setText("with honey")
    dialog.count_from.setCurrentIndex(1)
    assert dialog.is_changed()
    dialog.submit()
    assert (dialog.line.site, dialog.line.note) == ("right knee only", "with honey")
    assert dialog.line.count_from is CountFrom.COURSE


def test_steps_that_cannot_be_read_keep_the_dialog_open_and_ask(
    qtbot: QtBot, session: Session, theme: Theme
) -> None:
    dialog = line_dialog(qtbot, session, theme)
    dialog.show()
    dialog.steps.setText("3 d: 1.0 cup bd")
    dialog.submit()
    assert dialog.isVisible()
    assert dialog.steps_row.is_wrong
    assert "Which is meant: 1, or 10?" in dialog.steps_row.beneath.text()
    dialog.steps.choose("1")
    assert dialog.steps.text() == "3 d: 1 cup bd"
    assert not dialog.steps_row.is_wrong


def test_the_lines_table_says_where_and_how(qtbot: QtBot, session: Session, theme: Theme) -> None:
    editor = LinesEditor(session, theme)
    qtbot.addWidget(editor)
    editor.asked.connect(lambda asked: session.edit(asked.words, asked.course))
    editor.open_line()
    assert editor.message_label.text() == "Select a line first."
    editor.table.setCurrentIndex(editor.model.index(0, Column.TAKE))

    def answer(dialog: LineDialog) -> None:
        dialog.site.setText("left hip")
        dialog.count_from.setCurrentIndex(1)
        dialog.submit()

    in_next_dialog(answer)
    editor.bar.more_wanted.emit()
    said = editor.model.cell(0, Column.TAKE).plain
    assert said.endswith("Weeks on and off count from the course’s first day. Where: left hip.")
    assert session.undo_stack.undoText() == "Change a line"
    session.undo_stack.undo()
    assert session.phase.lines[0].site == ""


# The phase


def test_a_phase_takes_advice_a_least_time_and_a_ceiling(
    qtbot: QtBot, session: Session, theme: Theme
) -> None:
    dialog = phase_dialog(qtbot, session, theme)
    assert not dialog.is_changed()
    walk, coffee = dialog.advice
    walk.text.setText("walk for 20 minutes")
    walk.when.setText("Mon, Wed and Fri at 8am")
    walk.remind.setChecked(True)
    coffee.text.setText("leave out coffee")
    coffee.diary.setChecked(True)
    dialog.least.setText("6 weeks")
    (ceiling,) = dialog.ceilings
    ceiling.most.setText("4")
    for remedy in ("t1", "t2"):
        ceiling.boxes[remedy].setChecked(True)
    dialog.submit()
    phase = dialog.protocol.phase("loading")
    assert phase
    assert phase.advice == (
        AdviceLine("walk for 20 minutes", parse_timing("at 08:00 on mon wed fri"), remind=True),
        AdviceLine("leave out coffee", diary=True),
    )
    assert phase.at_least_weeks == 6
    assert dialog.protocol.ceilings == (Ceiling(("t1", "t2"), 4),)
    session.edit("more", replace(session.course, protocol=dialog.protocol))
    again = phase_dialog(qtbot, session, theme)
    assert not again.is_changed()
    again.advice[0].text.setText("")
    again.advice[0].when.setText("")
    again.ceilings[0].most.setText("")
    again.least.setText("")
    again.submit()
    bare = again.protocol.phase("loading")
    assert bare
    assert ([advice.text for advice in bare.advice], bare.at_least_weeks) == (
        ["leave out coffee"],
        None,
    )
    assert again.protocol.ceilings == ()


def test_a_flare_up_plan_has_a_trigger(qtbot: QtBot, session: Session, theme: Theme) -> None:
    session.choose_phase("rescue")
    dialog = phase_dialog(qtbot, session, theme)
    dialog.trigger.setText("  the knee is hot and  swollen ")
    dialog.submit()
    phase = dialog.protocol.phase("rescue")
    assert phase
    assert phase.trigger == "the knee is hot and swollen"


def test_what_is_wrong_is_told_at_its_field(qtbot: QtBot, session: Session, theme: Theme) -> None:
    dialog = phase_dialog(qtbot, session, theme)
    dialog.show()
    dialog.advice[0].when.setText("twice a week")
    dialog.advice[1].text.setText("rest")
    dialog.advice[1].when.setText("now and then")
    dialog.least.setText("soon")
    dialog.ceilings[0].most.setText("4")
    dialog.submit()
    assert dialog.isVisible()
    rows = (*dialog.form.rows, *dialog.limits.rows)
    wrong = {row.label.text(): row.beneath.text() for row in rows if row.is_wrong}
    assert wrong["Minimum length in weeks"] == "enter a number of weeks, such as 6"
    assert wrong["Most doses a day, all together"].startswith("Tick the remedies")
    assert wrong["What to do, or to leave"] == "Enter what is done then"
    assert "Which is meant" in dialog.advice[0].when_row.beneath.text()
    assert dialog.advice[1].when_row.is_wrong
    assert dialog.protocol is session.course.protocol


@pytest.mark.parametrize("text", ["", "0", "soon", "1000"])
def test_numbers_that_are_none(text: str) -> None:
    for read in (read_weeks, read_most):
        with pytest.raises(ReadingError):
            read(text)


def test_a_flare_up_plan_has_no_least_time(qtbot: QtBot, session: Session, theme: Theme) -> None:
    session.choose_phase("rescue")
    assert phase_dialog(qtbot, session, theme).least_row is None
    dialog = line_dialog(qtbot, session, theme)
    assert dialog.count_from.parent() is None


def test_a_gate_is_set_changed_and_taken_away(
    qtbot: QtBot, session: Session, theme: Theme
) -> None:
    editor = LinesEditor(session, theme)
    qtbot.addWidget(editor)
    editor.asked.connect(lambda asked: session.edit(asked.words, asked.course))

    def holds(measure: str, percent: str) -> None:
        def answer(dialog: PhaseDialog) -> None:
            dialog.gate.measure.setText(measure)
            dialog.gate.amount.setText(percent)
            dialog.submit()

        in_next_dialog(answer)
        editor.bar.holds()

    holds(" knee  pain ", "30 %")
    assert session.phase.gate == Gate("knee pain", 30)
    holds("bloating", "20")
    assert session.phase.gate == Gate("bloating", 20)
    session.undo_stack.undo()
    assert session.phase.gate == Gate("knee pain", 30)
    holds("", "")
    assert session.phase.gate is None


@pytest.mark.parametrize(
    ("measure", "percent", "wrong"),
    [
        ("pain", "", "Say how much"),
        ("", "30", "Enter what is rated"),
        ("sleep", "20", "For this, higher is better; choose the other way"),
        ("pain", "much", "enter a number, for example 30 or 2.5"),
        ("pain", "101", "enter a whole percentage from 1 to 100"),
        ("pain", "0", "enter a whole percentage from 1 to 100"),
    ],
)
def test_half_a_gate_is_refused(
    qtbot: QtBot, session: Session, theme: Theme, measure: str, percent: str, wrong: str
) -> None:
    dialog = phase_dialog(qtbot, session, theme)
    dialog.gate.measure.setText(measure)
    dialog.gate.amount.setText(percent)
    dialog.submit()
    assert dialog.result() == 0
    gate = dialog.gate
    assert wrong in f"{gate.measure_row.beneath.text()} {gate.amount_row.beneath.text()}"


def test_a_gate_by_points_or_a_level_by_a_week(
    qtbot: QtBot, session: Session, theme: Theme
) -> None:
    dialog = phase_dialog(qtbot, session, theme)
    gate = dialog.gate
    gate.measure.setText("sleep")
    gate.wants.setCurrentIndex(gate.wants.findData(Threshold.AT_LEAST))
    gate.amount.setText("7.5")
    gate.by_weeks.setText("6 w")
    gate.explain()
    assert gate.measure_row.beneath.text() == "Moving on waits for sleep to be 7.5 or more."
    assert gate.value() == Gate("sleep", Fraction(15, 2), Threshold.AT_LEAST, 6)
    gate.amount.setText("11")
    assert gate.value() is None
    assert "enter a rating from 0 to 10" in gate.amount_row.beneath.text()
    gate.wants.setCurrentIndex(gate.wants.findData(Threshold.RISE_POINTS))
    assert gate.value() is None
    assert "enter points above 0, at most 10" in gate.amount_row.beneath.text()
    gate.amount.setText("2")
    gate.by_weeks.setText("soon")
    assert gate.value() is None
    assert "enter a number of weeks" in gate.by_row.beneath.text()
