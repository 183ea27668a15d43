"""Remedies that join, formulas that take a remedy's place, and entries that are struck out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from pytestqt.qtbot import QtBot

from sennight.desktop.course.decisions.base import Decision
from sennight.desktop.course.decisions.changing import JoinPhase, TakeFormula
from sennight.desktop.course.decisions.striking import StrikeOut
from sennight.desktop.course.session import Session
from sennight.desktop.kit.theme import Theme
from sennight.desktop.parts.question_bar import QuestionBar
from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Reaction
from sennight.domain.courses.courses import Join, Reformulate
from sennight.domain.directions.parser import parse_directions
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient
from support import course_cases, samples

TODAY = course_cases.TODAY
SHELF = (samples.remedy("new tea", Form.TEA), samples.remedy("t1", Form.TEA))


@pytest.fixture
def session() -> Session:
    return course_cases.session()


def type_into(dialog: Decision, name: str, text: str) -> None:
    field = dialog.rows[name].field
    field.setText(text)  # type: ignore[attr-defined]
    field.textEdited.emit(text)  # type: ignore[attr-defined]


def test_a_remedy_of_the_shelf_joins_the_phase_under_way(
    qtbot: QtBot, session: Session, theme: Theme
) -> None:
    dialog = JoinPhase(session, theme, SHELF)
    qtbot.addWidget(dialog)
    dialog.remedy.setCurrentIndex(dialog.remedy.findText("Remedy new tea"))
    assert not dialog.main_button.isEnabled()
    take = dialog.rows["take"]
    assert take.beneath.text() == "Enter directions, for example 1 cup tds."
    assert not take.is_wrong, "what is still missing is not wrong"
    dialog.directions.setText("1.0 cup nocte")
    (bar,) = dialog.findChildren(QuestionBar)
    bar.buttons[0].click()
    assert dialog.directions.text() == "1 cup nocte"
    type_into(dialog, "take", "1 cup nocte")
    assert "Remedy new tea: 1 cup nocte from 3 March to" in dialog.changes_label.text()
    row = dialog.doses.rows[0]
    assert (row.before, row.after) == ("not taken", "1 cup nocte")
    dialog.submit()
    assert session.course.revisions[-1] == Join(
        on=TODAY, remedy="new tea", first=TODAY, directions=parse_directions("1 cup nocte")
    )
    assert session.course.remedies[-1].id == "new tea"


def test_a_remedy_that_is_in_the_phase_cannot_join_it(
    qtbot: QtBot, session: Session, theme: Theme
) -> None:
    remedy = session.course.remedies[0]
    dialog = JoinPhase(session, theme, (), remedy=remedy, directions=parse_directions("1 cup od"))
    qtbot.addWidget(dialog)
    assert "is taken in phase “maintenance” already" in dialog.rows["remedy"].beneath.text()
    assert not dialog.main_button.isEnabled()


def test_the_newer_version_of_the_shelf_takes_a_remedys_place(
    qtbot: QtBot, session: Session
) -> None:
    newer = replace(SHELF[1], ingredients=(Ingredient("sage", Fraction(1)),))
    dialog = TakeFormula(session, (newer,))
    qtbot.addWidget(dialog)
    assert dialog.formula.currentText() == "Remedy t1 (as it is on the shelf now)"
    assert "made like" in dialog.doses.rows[0].after, [
        (name, row.beneath.text()) for name, row in dialog.rows.items()
    ]
    dialog.submit()
    assert session.course.revisions[-1] == Reformulate(
        on=TODAY, remedy="t1", first=TODAY, formula="t1-2"
    )
    assert session.course.remedies[-1] == replace(newer, id="t1-2")
    assert TakeFormula(session, (newer,)).formula.findText(dialog.formula.currentText()) == -1


def test_a_formula_of_another_form_is_refused(qtbot: QtBot, session: Session) -> None:
    dialog = TakeFormula(session, ())
    qtbot.addWidget(dialog)
    dialog.formula.setCurrentIndex(1)
    assert "measured in the same way" in dialog.rows["with"].beneath.text()


def struck(session: Session, qtbot: QtBot, words: str) -> list[tuple[int, str]]:
    """Strike the entry with these words out; what was said of reactions."""
    told: list[tuple[int, str]] = []
    dialog = StrikeOut(session, lambda place, why: told.append((place, why)))
    qtbot.addWidget(dialog)
    entries = [dialog.entry.itemText(n) for n in range(dialog.entry.count())]
    dialog.entry.setCurrentIndex(next(n for n, entry in enumerate(entries) if words in entry))
    dialog.submit()
    assert dialog.reason_row.is_wrong
    dialog.reason.setText("meant for another client")
    assert dialog.is_changed()
    dialog.submit()
    return told


def test_entries_made_in_error_are_struck_out_and_stay(qtbot: QtBot) -> None:
    course = course_cases.full_course()
    reaction = Reaction(date(2027, 2, 1), "Tea", ("sage",), "Itching")
    course = replace(
        course,
        client=replace(course.client, reactions=(reaction,)),
        accepts=(Accept("sage.gout", "fine"),),
        discussed=(Accept("thyme.gout", "said"),),
    )
    session = course_cases.session(course)
    assert struck(session, qtbot, "flare-up plan") == []
    flare = session.course.revisions[1]
    assert (flare.void, flare.void_on) == ("meant for another client", TODAY)
    assert session.reading.layout.flares == ()
    struck(session, qtbot, "Accepted: ")
    assert session.course.accepts[0].is_void
    struck(session, qtbot, "Discussed: ")
    assert session.course.discussed[0].is_void
    assert struck(session, qtbot, "Reaction on 1 February") == [(0, "meant for another client")]
    struck(session, qtbot, "The whole course")
    assert session.course.is_void
    assert session.reading.layout.stretches == ()
    left = StrikeOut(session, lambda _place, _why: None)
    qtbot.addWidget(left)
    entries = [left.entry.itemText(n) for n in range(left.entry.count())]
    assert not any("The whole course" in entry or "Accepted" in entry for entry in entries)
