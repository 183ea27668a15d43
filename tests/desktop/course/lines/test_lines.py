"""The table of lines: what is typed reaches the course only when it can be read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from sennight.desktop.course.lines.line_cells import Column, LineEditRequest
from sennight.desktop.course.lines.lines_editor import LinesEditor
from sennight.desktop.course.lines.lines_model import LinesModel
from sennight.desktop.course.lines.phase_bar import RenamePhase, read_length
from sennight.desktop.course.lines.remedy_field import RemedyField
from sennight.desktop.course.session import Session
from sennight.desktop.kit.theme import Theme
from sennight.desktop.parts.directions_edit import DirectionsEdit
from sennight.desktop.parts.question_bar import QuestionBar
from sennight.desktop.parts.typed import explain_directions, explain_take
from sennight.domain.courses.editing import EditError
from sennight.domain.courses.protocols import empty_protocol
from sennight.domain.courses.typed_lines import parse_take
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.day import ClientDay
from support import course_cases, samples

Key = Qt.Key
TAKE, STEPS, UNTIL = Column.TAKE, Column.STEPS, Column.UNTIL


@pytest.fixture
def session() -> Session:
    made = course_cases.session(course_cases.full_course(decided=False), today=course_cases.START)
    made.choose_phase("loading")
    return made


@pytest.fixture
def editor(qtbot: QtBot, session: Session, theme: Theme) -> Iterator[LinesEditor]:
    made = LinesEditor(session, theme)
    made.asked.connect(lambda asked: session.edit(asked.words, asked.course))
    made.resize(900, 300)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    made.table.setFocus()
    yield made
    made.close()
    made.deleteLater()  # at once, not whenever Python's memory is tidied
    QCoreApplication.sendPostedEvents(made, QEvent.Type.DeferredDelete)


def directions(session: Session, phase: str) -> dict[str, str]:
    found = session.course.protocol.phase(phase)
    assert found is not None
    return {line.remedy: str(line.directions) for line in found.lines}


def test_the_model_is_sound(session: Session, qtmodeltester: ModelTester) -> None:
    model = LinesModel(session)
    qtmodeltester.check(model)
    model.begin_line()
    qtmodeltester.check(model)


def test_a_row_says_what_the_course_has(session: Session) -> None:
    model = LinesModel(session)
    row = [model.index(0, column).data() for column in range(4)]
    assert row == ["Remedy t1", "1 cup tds ac", "4 w: 1 cup bd", "14 Feb 2027"]
    assert model.cell(0, TAKE).plain == (
        "1 cup three times a day, half an hour before breakfast, lunch and the evening meal"
    )
    assert model.cell(0, STEPS).plain.startswith("from week 5: 1 cup twice a day")


def test_valid_directions_reach_the_course_and_can_be_undone(session: Session) -> None:
    model = LinesModel(session)
    model.asked.connect(lambda asked: session.edit(asked.words, asked.course))
    model.setData(model.index(1, TAKE), "  2.5 mL   BD ")
    assert directions(session, "loading")["t2"] == "2.5 mL bd"
    session.undo_stack.undo()
    assert directions(session, "loading")["t2"] == "5 mL tds pc"
    session.undo_stack.redo()
    assert directions(session, "loading")["t2"] == "2.5 mL bd"


def test_invalid_directions_stay_a_draft_and_the_last_valid_stand(session: Session) -> None:
    model = LinesModel(session)
    asked: list[LineEditRequest] = []
    model.asked.connect(asked.append)
    index = model.index(1, TAKE)
    model.setData(index, "5 mL qd")
    assert asked == []
    assert index.data() == "5 mL qd"
    assert model.cell(1, TAKE).wrong == (5, 7)
    assert model.cell(1, TAKE).plain.endswith("four times a day. Which is meant: od, or qds?")
    assert directions(session, "loading")["t2"] == "5 mL tds pc"
    model.setData(index, "5 mL bd")
    assert model.cell(1, TAKE).wrong is None
    assert [str(one.directions) for one in asked] == ["5 mL bd"]


def test_a_draft_outlives_other_edits(session: Session) -> None:
    model = LinesModel(session)
    model.asked.connect(lambda asked: session.edit(asked.words, asked.course))
    model.setData(model.index(1, TAKE), "5 mL often")
    model.setData(model.index(0, TAKE), "2 cups od")
    assert model.index(1, TAKE).data() == "5 mL often"
    assert directions(session, "loading")["t1"] == "2 cup od"


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (
            "5mls t.d.s. after food",
            (
                "5 mL tds pc: 5 mL three times a day, half an hour after breakfast, "
                "lunch and the evening meal"
            ),
        ),
        (
            "1 cup every 8 h",
            "1 cup every 8 hours, at 07:00 and 15:00 (2 doses a day, while awake)",
        ),
        (
            "1 g q8h",
            "1 g every 8 h: 1 g every 8 hours, at 07:00 and 15:00 (2 doses a day, while awake)",
        ),
    ],
)
def test_what_was_understood_is_told(typed: str, said: str) -> None:
    assert explain_directions(typed, ClientDay.at()) == (said, None)


def test_a_usual_spelling_is_kept_in_the_short_form(session: Session) -> None:
    model = LinesModel(session)
    model.asked.connect(lambda asked: session.edit(asked.words, asked.course))
    model.setData(model.index(1, TAKE), "2.5 mls twice a day with meals")
    assert model.index(1, TAKE).data() == "2.5 mL bd with food"
    assert directions(session, "loading")["t2"] == "2.5 mL bd with food"


def test_steps_are_typed_and_taken_away(session: Session) -> None:
    model = LinesModel(session)
    model.asked.connect(lambda asked: session.edit(asked.words, asked.course))
    model.setData(model.index(0, STEPS), "2w: 2 cups bd; 3 w: 1 cup od")
    assert model.index(0, STEPS).data() == "2 w: 2 cup bd; 3 w: 1 cup od"
    model.setData(model.index(0, STEPS), "3 w: 1 cup qd")
    assert model.cell(0, STEPS).wrong == (11, 13)
    model.setData(model.index(0, STEPS), "")
    assert session.phase.lines[0].steps == ()


def field(editor: LinesEditor) -> RemedyField:
    """The field for a remedy, which Enter in the table has opened."""
    found = editor.table.findChild(RemedyField)
    assert found is not None
    return found


def type_remedy(qtbot: QtBot, editor: LinesEditor, text: str) -> None:
    """Type into the field for a remedy; then the list of names is closed.

    Qt's platform without a display takes the window's activity away for a list, and does not
    give it back as other platforms do.
    """
    qtbot.keyClicks(field(editor), text)
    field(editor).popup.hide()
    QApplication.processEvents()
    editor.activateWindow()
    qtbot.waitUntil(editor.isActiveWindow)
    qtbot.keyClick(field(editor), Key.Key_Return)


def test_after_an_edit_the_table_is_on_the_cell_that_it_was_on(
    editor: LinesEditor, session: Session
) -> None:
    editor.table.setCurrentIndex(editor.model.index(1, STEPS))
    editor.model.setData(editor.model.index(1, TAKE), "3 mL bd")
    assert "3 mL bd" in directions(session, "loading").values()
    assert editor.table.currentIndex() == editor.model.index(1, STEPS)


def test_enter_adds_a_line_by_the_keyboard_alone(
    qtbot: QtBot, editor: LinesEditor, session: Session
) -> None:
    qtbot.keyClick(editor.table, Key.Key_Return)
    type_remedy(qtbot, editor, "T4")
    qtbot.waitUntil(lambda: editor.table.findChild(DirectionsEdit) is not None)
    edit = editor.table.findChild(DirectionsEdit)
    assert edit is not None
    qtbot.keyClicks(edit, "1 application bd")
    qtbot.keyClick(edit, Key.Key_Return)
    qtbot.waitUntil(lambda: directions(session, "loading").get("t4") == "1 application bd")
    assert editor.model.rowCount() == 4
    assert editor.table.hasFocus(), "the keyboard stays in the table"
    editor.table.setCurrentIndex(editor.model.index(3, TAKE))
    qtbot.keyClick(editor.table, Key.Key_Delete)
    assert "t4" not in directions(session, "loading")
    session.undo_stack.undo()
    assert "t4" in directions(session, "loading")


def test_where_one_remedy_is_left_its_directions_are_typed_at_once(
    qtbot: QtBot, editor: LinesEditor, session: Session
) -> None:
    qtbot.keyClick(editor.table, Key.Key_Return)
    type_remedy(qtbot, editor, "t4")
    qtbot.waitUntil(lambda: editor.table.findChild(DirectionsEdit) is not None)
    editor.model.setData(editor.model.index(3, TAKE), "1 application bd")
    assert [one.id for one in editor.model.free_remedies()] == ["t5"]
    editor.table.begin_line()
    assert editor.table.currentIndex() == editor.model.index(4, TAKE)
    assert editor.model.index(4, Column.REMEDY).data() == "Remedy t5"
    assert session.undo_stack.count() == 1


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("", "Enter a remedy"),
        ("Remedy", "Several remedies have “Remedy” in their names: Remedy t4 and Remedy t5."),
        ("Remedy t9", "No match for “Remedy t9”"),
        ("Remedy t1", "No match for “Remedy t1”"),  # it has a line in this phase
    ],
)
def test_a_remedy_that_is_not_found_is_told_and_stays_typed(
    qtbot: QtBot, editor: LinesEditor, typed: str, said: str
) -> None:
    qtbot.keyClick(editor.table, Key.Key_Return)
    type_remedy(qtbot, editor, typed)
    qtbot.waitUntil(lambda: editor.message_label.text().startswith(said))
    assert editor.message_label.property("role") == "alarm"
    assert field(editor).text() == typed
    qtbot.keyClicks(field(editor), "x")
    assert editor.message_label.text() == ""


def test_a_remedy_is_chosen_from_the_list_with_the_arrows(
    qtbot: QtBot, editor: LinesEditor
) -> None:
    qtbot.keyClick(editor.table, Key.Key_Return)
    popup = field(editor).popup
    qtbot.keyClicks(field(editor), "remedy")
    qtbot.waitUntil(popup.isVisible)
    qtbot.keyClick(popup, Key.Key_Down)
    qtbot.keyClick(popup, Key.Key_Down)
    qtbot.keyClick(popup, Key.Key_Return)
    qtbot.waitUntil(lambda: editor.table.findChild(DirectionsEdit) is not None)
    assert editor.model.index(3, Column.REMEDY).data() == "Remedy t5"


def test_the_remedy_of_a_line_is_changed_and_its_directions_stay(
    qtbot: QtBot, editor: LinesEditor, session: Session
) -> None:
    editor.table.setCurrentIndex(editor.model.index(1, Column.REMEDY))
    editor.table.edit(editor.model.index(1, Column.REMEDY))
    assert field(editor).selectedText() == "Remedy t2"
    qtbot.keyClicks(field(editor), "remedy t5")
    qtbot.keyClick(field(editor), Key.Key_Tab)
    qtbot.waitUntil(lambda: directions(session, "loading").get("t5") == "5 mL tds pc")
    assert "t2" not in directions(session, "loading")
    assert editor.table.findChild(DirectionsEdit) is None


def test_remedies_with_one_name_are_told_apart() -> None:
    first, second = (replace(samples.remedy("t1"), id=name) for name in ("a", "b"))
    made = RemedyField((first, second))
    assert made.labels == (f"{first.name} – tea", f"{first.name} – tea 2")
    made.setText(f"{first.name} – tea 2")
    assert made.remedy() is second


def test_enter_behind_offered_words_carries_on_and_down_chooses(
    qtbot: QtBot, editor: LinesEditor, session: Session
) -> None:
    editor.table.setCurrentIndex(editor.model.index(1, TAKE))
    editor.table.edit(editor.model.index(1, TAKE))
    edit = editor.table.findChild(DirectionsEdit)
    assert edit is not None
    popup = edit._popup
    edit.clear()
    qtbot.keyClicks(edit, "3 mL q")
    qtbot.waitUntil(popup.isVisible)
    qtbot.keyClick(popup, Key.Key_Down)
    qtbot.keyClick(popup, Key.Key_Return)
    qtbot.waitUntil(lambda: edit.text() == "3 mL qds ")
    qtbot.waitUntil(popup.isVisible)
    qtbot.keyClick(popup, Key.Key_Return)
    qtbot.waitUntil(lambda: directions(session, "loading")["t2"] == "3 mL qds")


def test_a_line_begun_has_no_directions_before_it_has_a_remedy(session: Session) -> None:
    model = LinesModel(session)
    assert model.begin_line()
    assert model.remedy_at(3) is None
    editable = Qt.ItemFlag.ItemIsEditable
    assert [bool(model.index(3, n).flags() & editable) for n in range(4)] == [True] + [False] * 3
    model.setData(model.index(3, Column.REMEDY), model.free_remedies()[1])
    assert [bool(model.index(3, n).flags() & editable) for n in range(4)] == [True] * 2 + [
        False
    ] * 2


def test_without_any_remedy_it_is_said_where_one_is_made(
    editor: LinesEditor, session: Session
) -> None:
    empty = replace(session.course, remedies=(), protocol=empty_protocol("Knees"))
    session.edit("empty it", empty)
    editor.bar.add_line.click()
    assert "Create one under Formulas first" in editor.message_label.text()
    assert editor.model.rowCount() == 0
    without = editor.table.grab().toImage()
    editor.set_shelf((samples.remedy("t1"),))
    editor.table.lines.begin_line()
    assert editor.table.grab().toImage() != without  # the words that stood in the empty table


def test_what_is_typed_into_stays_in_view_when_its_explanation_takes_room(
    qtbot: QtBot, editor: LinesEditor
) -> None:
    editor.resize(900, 190)
    qtbot.keyClick(editor.table, Key.Key_Return)
    before = editor.table.viewport().height()
    editor.refuse("Two lines of words\nthat take room away from the table")
    qtbot.waitUntil(lambda: editor.table.viewport().height() < before)
    assert editor.table.viewport().rect().contains(field(editor).geometry())


def test_a_line_begun_is_left_with_escape(
    qtbot: QtBot, editor: LinesEditor, session: Session
) -> None:
    qtbot.keyClick(editor.table, Key.Key_Return)
    qtbot.keyClicks(field(editor), "t5")
    qtbot.keyClick(field(editor), Key.Key_Escape)
    qtbot.waitUntil(lambda: editor.table.findChild(RemedyField) is None)
    qtbot.keyClick(editor.table, Key.Key_Escape)
    assert editor.model.rowCount() == 3
    assert session.undo_stack.count() == 0


def test_what_is_typed_is_explained_underlined_and_completed(
    qtbot: QtBot, editor: LinesEditor, theme: Theme
) -> None:
    edit = DirectionsEdit(lambda text: editor.model.explain(text, TAKE), theme)
    qtbot.addWidget(edit)
    edit.show()
    said: list[tuple[str, bool]] = []
    edit.explained.connect(lambda text, wrong: said.append((text, wrong)))
    qtbot.keyClicks(edit, "1 cup t")
    assert edit.offered() == ("tds",)
    assert said[-1][1] is True
    assert edit.wrong == (6, 7)
    edit._take("tds")
    assert edit.text() == "1 cup tds "
    assert said[-1] == ("1 cup three times a day, at breakfast, lunch and the evening meal", False)
    edit.hide()


def test_completion_in_steps_begins_behind_the_colon(qtbot: QtBot, theme: Theme) -> None:
    edit = DirectionsEdit(lambda _text: ("", None), theme)
    qtbot.addWidget(edit)
    edit.setText("4 w: 1 cup bd; 8 w: 1 c")
    assert edit.offered() == ("cup", "capsule")
    edit._take("cup")
    assert edit.text() == "4 w: 1 cup bd; 8 w: 1 cup "


def test_phases_are_added_split_copied_moved_and_removed(
    editor: LinesEditor, session: Session
) -> None:
    bar = editor.bar
    bar.add()
    assert session.phase_id == "maintenance 2"
    bar.move_by(1)
    bar.remove()
    session.choose_phase("loading")
    bar.copy()
    assert session.phase_id == "loading 2"
    session.choose_phase("loading")
    session.go_to(course_cases.START.replace(day=18))
    bar.split()
    ids = [phase.id for phase in session.course.protocol.phases]
    assert ids == ["loading", "loading 3", "loading 2", "maintenance", "taper", "rescue"]
    assert bar.choices.count() == 6
    session.undo_stack.undo()
    session.undo_stack.undo()
    assert [phase.id for phase in session.course.protocol.phases][:2] == ["loading", "maintenance"]


def test_phases_have_room_for_their_words_whatever_is_added(editor: LinesEditor) -> None:
    choices = editor.bar.choices
    for width in (1400, 700, 1400):
        editor.resize(width, 300)
        editor.bar.add_rescue()
        QApplication.processEvents()
        sizes = [choices.tabSizeHint(n).width() for n in range(choices.count())]
        assert [choices.tabRect(n).width() for n in range(choices.count())] == sizes
    assert choices.count() == 7


def test_what_cannot_be_done_to_a_phase_is_told(editor: LinesEditor, session: Session) -> None:
    session.choose_phase("taper")
    editor.bar.move_by(-1)
    assert "stay the last" in editor.message_label.text()
    assert [phase.id for phase in session.course.protocol.phases][1] == "maintenance"


def test_a_length_is_typed(editor: LinesEditor, session: Session) -> None:
    editor.bar.length.setText("10 d")
    editor.bar.length.editingFinished.emit()
    assert session.phase.length == Length(10, CalendarUnit.DAYS)
    editor.bar.length.setText("often")
    editor.bar.length.editingFinished.emit()
    assert "6 w, 10 d, 3 mo" in editor.message_label.text()
    assert editor.bar.length.text() == "10 d"
    assert read_length("3 months") == Length(3, CalendarUnit.MONTHS)
    assert read_length("open") is None
    with pytest.raises(EditError):
        read_length("0 w")


def test_a_phase_is_renamed_or_told_why_not(
    qtbot: QtBot, editor: LinesEditor, session: Session
) -> None:
    dialog = RenamePhase(session.course, "loading", editor)
    qtbot.addWidget(dialog)
    dialog.field.setText("taper")
    dialog.field.textEdited.emit("taper")
    assert not dialog.main_button.isEnabled()
    dialog.field.setText("First weeks")
    dialog.field.textEdited.emit("First weeks")
    assert dialog.main_button.isEnabled()
    assert dialog.course.protocol.phases[0].id == "First weeks"


# What could be misread is asked about, with a button for each choice


def typed_into(
    qtbot: QtBot, editor: LinesEditor, row: int, column: int, text: str
) -> DirectionsEdit:
    editor.table.setCurrentIndex(editor.model.index(row, column))
    editor.table.edit(editor.model.index(row, column))
    edit = QApplication.focusWidget()
    assert isinstance(edit, DirectionsEdit)
    edit.selectAll()
    qtbot.keyClicks(edit, text)
    return edit


def close_field(qtbot: QtBot, editor: LinesEditor, edit: DirectionsEdit) -> None:
    """Leave the field before the window goes."""
    edit.clearFocus()
    qtbot.waitUntil(lambda: not editor.table.is_typing)


def offered(editor: LinesEditor) -> list[str]:
    return [button.text()[4:] for button in editor.questions.buttons]


@pytest.mark.parametrize(
    ("text", "choices"),
    [
        ("1.0 cup tds", ["1", "10"]),
        ("5 U tds", ["mL", "drop"]),
        ("5 µg od", ["0.005 mg", "5 mg"]),
        ("1 cup every 1 to 3 hours", ["every 1-3 h prn", "every 1 h", "every 3 h"]),
        ("1 cup tds for 3 days, then twice a week", ["od on mon thu", "od on tue fri"]),
    ],
)
def test_dangerous_directions_are_asked_about_with_buttons(
    qtbot: QtBot, theme: Theme, text: str, choices: list[str]
) -> None:
    day = ClientDay.at()
    edit = DirectionsEdit(lambda typed: explain_take(typed, day), theme, read=parse_take)
    bar = QuestionBar.beneath(edit)
    for widget in (edit, bar):
        qtbot.addWidget(widget)
    edit.setText(text)
    assert [button.text()[4:] for button in bar.buttons] == choices
    assert bar.isVisible()
    bar.buttons[0].click()
    assert choices[0] in edit.text()
    assert [button.text()[4:] for button in bar.buttons] != choices


def test_alt_and_its_number_press_a_choice_without_leaving_the_field(
    qtbot: QtBot, editor: LinesEditor, session: Session
) -> None:
    edit = typed_into(qtbot, editor, 0, TAKE, "1.0 cup tds")
    qtbot.keyClick(edit, Key.Key_2, Qt.KeyboardModifier.AltModifier)
    qtbot.waitUntil(lambda: edit.text() == "10 cup tds")
    assert edit.hasFocus()
    qtbot.keyClick(edit, Key.Key_Return)
    qtbot.waitUntil(lambda: not editor.table.is_typing)
    assert directions(session, "loading")["t1"] == "10 cup tds"


def test_a_draft_goes_on_asking_until_it_is_answered(
    qtbot: QtBot, editor: LinesEditor, session: Session
) -> None:
    edit = typed_into(qtbot, editor, 0, TAKE, "1.0 cup bd")
    qtbot.keyClick(edit, Key.Key_Return)
    qtbot.waitUntil(lambda: not editor.table.is_typing)
    assert directions(session, "loading")["t1"] == "1 cup tds ac"
    editor.table.setCurrentIndex(editor.model.index(1, TAKE))
    assert not editor.questions.isVisible()
    editor.table.setCurrentIndex(editor.model.index(0, TAKE))
    assert offered(editor) == ["1", "10"]
    qtbot.mouseClick(editor.questions.buttons[0], Qt.MouseButton.LeftButton)
    assert directions(session, "loading")["t1"] == "1 cup bd"
    assert not editor.questions.isVisible()


def test_d_c_is_not_guessed_and_has_no_choice(qtbot: QtBot, editor: LinesEditor) -> None:
    edit = typed_into(qtbot, editor, 0, TAKE, "1 cup d/c")
    assert edit.wrong == (6, 9)
    assert editor.questions.buttons == ()
    close_field(qtbot, editor, edit)


def test_what_follows_is_typed_with_the_line(
    qtbot: QtBot, editor: LinesEditor, session: Session
) -> None:
    text = "1 cup every 1 to 3 hours as needed for 3 days, then two or three times a day"
    edit = typed_into(qtbot, editor, 0, TAKE, text)
    qtbot.keyClick(edit, Key.Key_Return)
    qtbot.waitUntil(lambda: not editor.table.is_typing)
    line = session.phase.lines[0]
    assert str(line.directions) == "1 cup every 1-3 h prn"
    assert editor.model.index(0, STEPS).data() == "3 d: 1 cup bd and prn max 1/day"


def test_what_is_typed_and_not_taken_comes_back_as_a_draft(
    qtbot: QtBot, session: Session, theme: Theme
) -> None:
    """A cell that is open, one that cannot be read, a line begun, and the length of a phase."""
    editor = LinesEditor(session, theme)
    qtbot.addWidget(editor)
    new = replace(session.course.remedies[0], id="new", name="New")
    editor.model.shelf = (new,)
    asked: list[LineEditRequest] = []
    editor.asked.connect(asked.append)
    editor.model.setData(editor.model.index(1, TAKE), "5 mL often")
    editor.table.setCurrentIndex(editor.model.index(0, TAKE))
    editor.table.edit(editor.model.index(0, TAKE))
    editor.table.indexWidget(editor.model.index(0, TAKE)).setText("2 cups bd")  # type: ignore[attr-defined]
    editor.bar.length.setText("6 ")
    kept, phase = editor.typed.draft_value(), session.phase_id

    session.choose_phase(session.course.protocol.phases[-1].id)
    editor.model.put_drafts({})
    editor.typed.put_draft_value(kept)
    assert session.phase_id == phase
    assert editor.typed.draft_value() == kept
    assert [editor.model.text(row, TAKE) for row in (0, 1)] == ["2 cups bd", "5 mL often"]
    assert editor.model.cell(0, TAKE).plain.startswith("Not entered yet (F2, then Enter): 2 cup")
    assert editor.bar.length.text() == "6 "
    editor.typed.put_draft_value({"cells": [[phase, new.id, int(TAKE), "1 cup"]], "length": None})
    assert editor.model.row_count() == len(editor.model.lines) + 1
    assert (editor.model.text(editor.model.row_count() - 1, TAKE), asked) == ("1 cup", [])
    editor.typed.put_draft_value([])
    assert editor.model.drafts
