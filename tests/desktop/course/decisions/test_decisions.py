"""Decisions: they say what they change, refuse what cannot be, and leave one revision."""

from __future__ import annotations

from datetime import date

import pytest
from pytestqt.qtbot import QtBot

from sennight.desktop.course.decisions.base import Decision
from sennight.desktop.course.decisions.remedies import ChangeDirections, StopRemedy
from sennight.desktop.course.decisions.timing import (
    ChangeLength,
    EndCourse,
    MoveOn,
    RecordFlare,
    TakePause,
)
from sennight.desktop.course.session import SaveError, Session
from sennight.desktop.kit.theme import Theme
from sennight.desktop.parts.question_bar import QuestionBar
from sennight.domain.courses.courses import (
    Advance,
    Course,
    End,
    Extend,
    Flare,
    Pause,
    PauseMode,
    Redirect,
    Stop,
)
from support import course_cases

TODAY = course_cases.TODAY
LATER = date(2027, 5, 3)


@pytest.fixture
def session() -> Session:
    return course_cases.session()


def shown(qtbot: QtBot, dialog: Decision) -> Decision:
    qtbot.addWidget(dialog)
    return dialog


def type_into(dialog: Decision, name: str, text: str) -> None:
    field = dialog.rows[name].field
    field.setText(text)  # type: ignore[attr-defined]
    field.textEdited.emit(text)  # type: ignore[attr-defined]


def test_a_pause_says_what_moves_and_is_recorded(qtbot: QtBot, session: Session) -> None:
    dialog = shown(qtbot, TakePause(session))
    type_into(dialog, "from", "3 May 2027")
    type_into(dialog, "to", "9.5.2027")
    assert dialog.changes_label.text().startswith(
        "Maintenance ends 30 May 2027 instead of 23 May 2027; "
    )
    assert "reminders change" in dialog.changes_label.text()
    type_into(dialog, "reason", "travelling")
    dialog.submit()
    assert session.course.revisions[-1] == Pause(
        on=TODAY, reason="travelling", first=LATER, last=date(2027, 5, 9), mode=PauseMode.FREEZE
    )


def test_what_is_impossible_is_told_at_its_field(qtbot: QtBot, session: Session) -> None:
    dialog = shown(qtbot, TakePause(session))
    type_into(dialog, "from", "3 May 2027")
    type_into(dialog, "to", "1 May 2027")
    assert dialog.rows["to"].is_wrong
    assert "before it begins" in dialog.rows["to"].beneath.text()
    assert not dialog.main_button.isEnabled()
    assert dialog.changes_label.text() == ""
    type_into(dialog, "from", "soon")
    assert dialog.rows["from"].is_wrong
    dialog.submit()
    assert session.course.revisions == course_cases.DECIDED


def test_overlapping_flares_are_refused(qtbot: QtBot, session: Session) -> None:
    dialog = shown(qtbot, RecordFlare(session))
    type_into(dialog, "from", "25 February 2027")
    assert "overlaps" in dialog.rows["from"].beneath.text()
    type_into(dialog, "from", "3 May 2027")
    assert dialog.changes_label.text().startswith("The flare-up plan runs from 3 to 9 May 2027")
    dialog.submit()
    assert session.course.revisions[-1] == Flare(on=TODAY, first=LATER, rescue="rescue")


def test_moving_on_drops_what_lies_between(qtbot: QtBot, session: Session) -> None:
    dialog = shown(qtbot, MoveOn(session))
    type_into(dialog, "from", "3 May 2027")
    assert "Maintenance ends 2 May 2027 instead of" in dialog.changes_label.text()
    dialog.submit()
    assert session.course.revisions[-1] == Advance(on=TODAY, to="taper", first=LATER)


def test_a_phase_gets_shorter(qtbot: QtBot, session: Session) -> None:
    dialog = shown(qtbot, ChangeLength(session, phase="maintenance", days=-10))
    assert dialog.rows["by"].field.text() == "-10 d"  # type: ignore[attr-defined]
    type_into(dialog, "by", "-1 w")
    assert "Maintenance ends 16 May 2027 instead of 23 May 2027" in dialog.changes_label.text()
    dialog.submit()
    assert session.course.revisions[-1] == Extend(
        on=TODAY, phase="maintenance", by=-1, in_weeks=True
    )
    for text in ("0 d", "long", "-20 w"):
        again = shown(qtbot, ChangeLength(session, phase="maintenance"))
        type_into(again, "by", text)
        assert not again.main_button.isEnabled()


def test_other_directions_are_read_and_explained(
    qtbot: QtBot, session: Session, theme: Theme
) -> None:
    dialog = shown(qtbot, ChangeDirections(session, theme))
    assert dialog.changes_label.text() == "Nothing changes."
    assert not dialog.main_button.isEnabled()
    type_into(dialog, "take", "1 cup qd")
    assert "Which is meant: od, or qds?" in dialog.rows["take"].beneath.text()
    (bar,) = dialog.findChildren(QuestionBar)
    assert [button.text()[4:] for button in bar.buttons] == ["od", "qds"]
    bar.buttons[0].click()
    assert dialog.rows["take"].beneath.text().startswith("1 cup once a day")
    assert not bar.isVisible()
    type_into(dialog, "take", "2 cups od")
    assert dialog.rows["take"].beneath.text() == "2 cup od: 2 cups once a day, at breakfast"
    assert dialog.changes_label.text().startswith(
        "Remedy t1: 2 cups od instead of 1 cup bd from 3 March"
    )
    dialog.submit()
    made = session.course.revisions[-1]
    assert isinstance(made, Redirect)
    assert (made.remedy, str(made.directions), made.first) == ("t1", "2 cup od", TODAY)


def test_a_stop_wants_its_reason(qtbot: QtBot, session: Session) -> None:
    dialog = shown(qtbot, StopRemedy(session))
    assert "Enter a reason" in dialog.rows["reason"].beneath.text()
    assert not dialog.main_button.isEnabled()
    assert not dialog.main_button.isEnabled()
    type_into(dialog, "reason", "rash on the arms")
    assert "fewer doses in all" in dialog.changes_label.text()
    dialog.submit()
    assert session.course.revisions[-1] == Stop(
        on=TODAY, reason="rash on the arms", remedy="t1", first=TODAY
    )


def test_the_end_of_a_course(qtbot: QtBot, session: Session) -> None:
    dialog = shown(qtbot, EndCourse(session))
    type_into(dialog, "from", "3 May 2027")
    dialog.submit()
    assert session.course.revisions[-1] == End(on=TODAY, first=LATER)
    assert session.reading.layout.days.last == date(2027, 5, 2)


def test_a_decision_closes_the_way_back(qtbot: QtBot, session: Session) -> None:
    assert session.edit("Longer", course_cases.full_course(weeks=31))
    assert session.undo_stack.canUndo()
    dialog = shown(qtbot, EndCourse(session))
    type_into(dialog, "from", "3 May 2027")
    dialog.submit()
    assert not session.undo_stack.canUndo()


def test_what_cannot_be_saved_is_not_shown(qtbot: QtBot) -> None:
    def refuse(_course: Course) -> None:
        raise SaveError("saved elsewhere")

    session = course_cases.session(save=refuse)
    told: list[str] = []
    session.refused.connect(told.append)
    dialog = shown(qtbot, EndCourse(session))
    dialog.submit()
    assert told == ["saved elsewhere"]
    assert dialog.changes_label.text() == "saved elsewhere", "told where it was decided"
    assert session.course.revisions == course_cases.DECIDED
    assert dialog.result() == 0
