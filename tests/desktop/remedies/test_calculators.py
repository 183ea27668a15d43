"""The answers: each told in a sentence, and applied as one edit that can be undone."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from PySide6.QtWidgets import QDialog, QLabel

from sennight.desktop.remedies.calculators.balance import BalanceDialog
from sennight.desktop.remedies.calculators.child_doses import ChildDoseDialog
from sennight.desktop.remedies.calculators.scale import ScaleDialog
from sennight.desktop.remedies.calculators.strength import StrengthDialog
from sennight.desktop.remedies.calculators.top_up import TopUpDialog
from sennight.desktop.remedies.page import RemedyPage
from sennight.domain.courses.clients import Client
from support.next_dialog import in_next_dialog


def sheet(page: RemedyPage, question: str) -> Any:  # noqa: ANN401 - one of five
    assert page.formula is not None
    return page.calculator_menu.sheet(question, page.formula, page.materia_medica)


def test_scaling_tells_the_amounts_and_writes_them_as_parts(page: RemedyPage) -> None:
    made: ScaleDialog = sheet(page, "scale")
    made.amount.setText("90")
    assert made.message.text().startswith("For 90 g: 60 g Nettle leaf and 30 g Ginger.")
    assert made.answer is not None
    assert [one.parts for one in made.answer.remedy.ingredients] == [60, 30]
    made.amount.setText("-3")
    assert made.answer is None
    assert made.message.property("role") == "alarm"


def test_an_answer_is_applied_as_one_edit(page: RemedyPage) -> None:
    def apply(dialog: ScaleDialog) -> None:
        dialog.amount.setText("90")
        dialog.submit()

    in_next_dialog(apply)
    page.ask("scale")
    assert page.formula is not None
    assert page.formula.remedy.ingredients[0].parts == 60
    assert page.undo_stack is not None
    assert page.undo_stack.count() == 1
    page.undo_stack.undo()
    assert page.formula.remedy.ingredients[0].parts == 2


def test_leaving_an_answer_changes_nothing(page: RemedyPage) -> None:
    in_next_dialog(lambda dialog: dialog.reject())
    page.ask("scale")
    assert not page.is_changed


def test_topping_up_gives_the_least_that_reaches(page: RemedyPage) -> None:
    """6 g of nettle leaf a day now; 8 g, the minimum, are 1 cup (2 g) more: 4 quarter cups.

    The range was read in its text and is a range, so nothing has to be said before.
    """
    made: TopUpDialog = sheet(page, "top-up")
    made.place.setCurrentIndex(0)
    assert made.message.text().startswith("1 cup more of Joint tea a day brings Nettle leaf")
    assert made.answer is not None
    take = made.answer.directions
    assert take is not None
    assert take.amount == Fraction(4, 3)


def test_topping_up_with_what_does_not_hold_the_herb_is_refused(page: RemedyPage) -> None:
    made: TopUpDialog = sheet(page, "top-up")
    made.adding.setCurrentIndex(made.adding.findText("Warming drops"))
    assert "Warming drops contains no Nettle leaf" in made.message.text()
    assert not made.main_button.isEnabled()


def test_balancing_moves_the_parts_or_names_what_conflicts(page: RemedyPage) -> None:
    made: BalanceDialog = sheet(page, "balance")
    assert "Choose where a herb should lie" in made.message.text()
    made.bands["nettle-leaf"].setCurrentIndex(1)
    assert made.answer is not None
    nettle, ginger = (one.parts for one in made.answer.remedy.ingredients)
    assert nettle is not None
    assert ginger is not None
    assert nettle + ginger == 3, "the sum of the parts stays"
    assert nettle / 3 * 9 == 8, "3 g a cup, three cups: the minimum of 8 g exactly"
    made.bands["nettle-leaf"].setCurrentIndex(3)
    assert "These cannot all be met at once: Nettle leaf: high, " in made.message.text()
    assert made.answer is None


def test_balancing_a_herb_without_a_range_says_so(page: RemedyPage) -> None:
    made: BalanceDialog = sheet(page, "balance")
    made.bands["ginger"].setCurrentIndex(1)
    assert "no range is recorded for Ginger as tea" in made.message.text().replace("No", "no", 1)


def test_strength_is_mixed_by_alligation(page: RemedyPage) -> None:
    """96 % and water to 45 %: 45 parts to 51, as 15 to 17; 500 mL take 234.375 mL."""
    page.open("drops")
    made: StrengthDialog = sheet(page, "strength")
    made.wanted.setText("45")
    assert "234.375 mL of 96 %, made up with water (15 parts to 17)" in made.message.text()
    assert made.answer is not None
    assert made.answer.remedy.ingredients[0].ethanol == 45
    made.wanted.setText("97")
    assert "cannot be mixed" in made.message.text()
    made.wanted.setText("")
    made.ratio.setText("1:6")
    assert made.answer is not None
    assert made.answer.remedy.ingredients[0].parts == 60, "twice the volume for the same herb"


def test_the_rules_for_children_stand_beside_each_other(page: RemedyPage) -> None:
    """Young's rule at 30 years: 30 ÷ (30 + 12) = 71.4 %."""
    made: ChildDoseDialog = sheet(page, "young")
    assert made.answer is None
    made.age.setText("8")
    assert made.model.rowCount() == 0, "no dose is shown where the texts say too young"
    assert "whatever a rule gives" in made.message.text()
    assert made.answer is None
    assert made.main_button.isHidden()
    made.age.setText("30")
    rows = {
        made.model.index(row, 0).data(): made.model.index(row, 2).data()
        for row in range(made.model.rowCount())
    }
    assert rows["Young"] == "71.4 %"
    assert rows["Clark"] == ""
    assert "Too young" not in made.message.text()
    assert "use the lowest, and a dose published" in made.message.text()


def test_a_clients_age_is_taken(page: RemedyPage) -> None:
    made: ChildDoseDialog = sheet(page, "young")
    made.client.setCurrentIndex(made.client.findText("Noor Müller"))
    client = made.client.currentData()
    assert isinstance(client, Client)
    assert made.age.text() == "36.58"


@pytest.mark.parametrize("question", ["top-up", "balance", "young"])
def test_questions_that_make_no_sense_are_told(page: RemedyPage, question: str) -> None:
    page.open("drops")
    assert page.formula is not None
    page.begin(replace(page.formula.remedy, id="x", ingredients=()))
    page.open("x")
    told: list[str] = []

    def close(dialog: QDialog) -> None:
        told.extend(label.text() for label in dialog.findChildren(QLabel))
        dialog.accept()

    in_next_dialog(close)
    page.ask(question)
    assert "The formula has no herb yet. Add one first." in told
    assert page.undo_stack is not None
    assert page.undo_stack.count() == 0
