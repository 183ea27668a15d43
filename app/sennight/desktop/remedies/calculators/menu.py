"""Asks the questions of the remedy on a page, and applies the answers there."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from PySide6.QtWidgets import QWidget

from sennight.desktop.kit.short_dialogs import message_dialog
from sennight.desktop.kit.translating import translate
from sennight.desktop.remedies.calculators.balance import BalanceDialog
from sennight.desktop.remedies.calculators.base import CalculatorDialog
from sennight.desktop.remedies.calculators.child_doses import ChildDoseDialog
from sennight.desktop.remedies.calculators.scale import ScaleDialog
from sennight.desktop.remedies.calculators.strength import StrengthDialog
from sennight.desktop.remedies.calculators.top_up import TopUpDialog
from sennight.desktop.remedies.formula import Formula, not_counted_words
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.remedies.form_facts import Composition
from sennight.domain.remedies.forms import composition_of, is_taken_by_mouth
from sennight.practice.clients import list_clients
from sennight.practice.opening import OpenPractice
from sennight.practice.remedies import list_remedies

Edit = Callable[[str, Formula], bool]


class CalculatorMenu:
    """Asks on behalf of a page: `edit` makes an undoable edit of it."""

    def __init__(self, parent: QWidget, practice: OpenPractice, today: Callable[[], date]) -> None:
        self._parent, self._practice, self._today = parent, practice, today

    def ask(self, name: str, formula: Formula, materia_medica: MateriaMedica, edit: Edit) -> None:
        """Ask a question, and apply its answer where that is wanted."""
        refusal = _refusal(name, formula)
        if refusal:
            heading = translate("Remedies", "There is nothing to calculate yet")
            message_dialog(self._parent, heading, refusal).exec()
            return
        sheet = self.sheet(name, formula, materia_medica)
        remedy = formula.remedy
        sheet.keep_draft(self._practice, f"calculate/{name}", remedy.id, about=remedy.name)
        if sheet.exec() and sheet.answer is not None:
            edit(sheet.heading.text(), sheet.answer)
        sheet.deleteLater()

    def sheet(
        self, name: str, formula: Formula, materia_medica: MateriaMedica
    ) -> CalculatorDialog:
        """The question of that name."""
        parent = self._parent
        if name == "top-up":
            shelf = tuple(entry.remedy for entry in list_remedies(self._practice))
            return TopUpDialog(parent, formula, materia_medica, shelf=shelf)
        if name == "young":
            clients = tuple(entry.client for entry in list_clients(self._practice))
            return ChildDoseDialog(
                parent, formula, materia_medica, clients=clients, today=self._today
            )
        sheets = {"balance": BalanceDialog, "scale": ScaleDialog, "strength": StrengthDialog}
        return sheets[name](parent, formula, materia_medica)


def _refusal(name: str, formula: Formula) -> str:
    """Why a question makes no sense for a formula; nothing where it does."""
    remedy = formula.remedy
    if not remedy.ingredients:
        return translate("Remedies", "The formula has no herb yet. Add one first.")
    if not is_taken_by_mouth(remedy.form) and name in {"top-up", "balance", "young"}:
        return not_counted_words(remedy.form)
    if name == "balance" and composition_of(remedy.form) is Composition.BY_PIECE:
        return translate(
            "Remedies", "Amounts in mg per piece cannot be scaled. Change them by hand."
        )
    if name == "scale" and not remedy.form.facts.own_formula:
        return translate("Remedies", "It is bought ready-made, so there is nothing to scale.")
    if name == "strength" and composition_of(remedy.form) is not Composition.BY_VOLUME:
        return translate("Remedies", "Only liquids have a strength and a ratio.")
    return ""
