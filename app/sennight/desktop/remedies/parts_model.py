"""The herbs of a formula as a table; which columns there are depends on the remedy's form.

The last row is empty: a herb that is named in it becomes one more ingredient. What is typed and
cannot be read stays here as a draft, told where it is, and never reaches the formula.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from PySide6.QtCore import QObject, Qt, Signal

from sennight.desktop.kit.grid_model import NOWHERE, GridModel, Index
from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.remedies.columns import READ, Part, changed_by, filled_as, parts_of
from sennight.domain.amounts import plain_number, rounded
from sennight.domain.courses.problems import nearest
from sennight.domain.formulas.formulas import (
    moved_ingredient,
    usual_ingredient,
    with_ingredient,
    without_ingredient,
)
from sennight.domain.formulas.writing import FormulaError, read_formula
from sennight.domain.herbs.herbs import Herb, MateriaMedica
from sennight.domain.herbs.naming import HerbNames
from sennight.domain.remedies.contents import shares
from sennight.domain.remedies.form_facts import Composition, Filling, filling_name
from sennight.domain.remedies.forms import Form, composition_of
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.domain.remedies.remedy_words import ratio_words

WRONG = Qt.ItemDataRole.UserRole + 41


_SMALL = 99
"""Shares whose fraction has at most so large a denominator are shown as one too."""


@dataclass(frozen=True, slots=True)
class FormulaEditRequest:
    """An edit that is asked for."""

    words: str
    remedy: Remedy


def _has_figures(text: str) -> bool:
    return any(sign.isdigit() for sign in text)


def _herbs(remedy: Remedy) -> list[str]:
    return [ingredient.herb for ingredient in remedy.ingredients]


def _gone(old: list[str], new: list[str]) -> int | None:
    """The place of the only one that is in the old list and not in the new one."""
    return next((n for n in range(len(old)) if old[:n] + old[n + 1 :] == new), None)


class PartsModel(GridModel):
    """The ingredients of `remedy`; `asked` carries the edits."""

    asked = Signal(object)
    wrong_changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.remedy = Remedy("", "", Form.TEA, ())
        self.herbs: dict[str, Herb] = {}
        self._drafts: dict[tuple[int, Part], str] = {}
        self._left: dict[str, dict[tuple[int, Part], str]] = {}
        self._shares: tuple[Fraction | None, ...] = ()

    def set_herbs(self, herbs: dict[str, Herb]) -> None:
        """The herbs that are known, by id, in order of their names."""
        self.herbs = herbs

    def show_remedy(self, remedy: Remedy) -> None:
        """Show a formula, as the least change of the table, so that the keyboard stays in it.

        Drafts stay where their rows are about the same herbs.
        """
        old, new = _herbs(self.remedy), _herbs(remedy)
        if (self.remedy.id, self.remedy.form) != (remedy.id, remedy.form):
            self._reset(remedy)
        elif len(new) > len(old) and old == new[: len(old)]:
            self._insert(remedy, len(old), len(new) - 1)
        elif len(old) == len(new) + 1 and (gone := _gone(old, new)) is not None:
            self._remove(remedy, gone)
        elif len(old) == len(new):
            self._replace(remedy, same=old == new)
        else:
            self._reset(remedy)
        self.wrong_changed.emit()

    def _take_over(self, remedy: Remedy) -> None:
        self.remedy, self._shares = remedy, shares(remedy)

    def _reset(self, remedy: Remedy) -> None:
        self.beginResetModel()
        if remedy.id != self.remedy.id:
            self._left[self.remedy.id] = self._drafts
        self._drafts = self._left.pop(remedy.id, {})
        self._take_over(remedy)
        self.endResetModel()

    def _insert(self, remedy: Remedy, row: int, last: int) -> None:
        self.beginInsertRows(NOWHERE, row, last)
        self._drafts = {at: text for at, text in self._drafts.items() if at[0] < row}
        self._take_over(remedy)
        self.endInsertRows()
        self._all_changed()

    def _remove(self, remedy: Remedy, row: int) -> None:
        self.beginRemoveRows(NOWHERE, row, row)
        self._drafts = {}
        self._take_over(remedy)
        self.endRemoveRows()
        self._all_changed()

    def _replace(self, remedy: Remedy, *, same: bool) -> None:
        if not same:
            self._drafts = {}
        self._take_over(remedy)
        self._all_changed()

    def _all_changed(self) -> None:
        last = self.index(self.rowCount() - 1, self.columnCount() - 1)
        self.dataChanged.emit(self.index(0, 0), last)

    # Shape

    @property
    def parts(self) -> tuple[Part, ...]:
        """The columns."""
        return parts_of(self.remedy.form)

    def row_count(self) -> int:
        """The ingredients, and an empty row."""
        return len(self.remedy.ingredients) + 1

    def column_count(self) -> int:
        """As many as the form has."""
        return len(self.parts)

    def heading(self, part: Part) -> str:
        """The name of a column."""
        by_weight = composition_of(self.remedy.form) is Composition.BY_WEIGHT
        return {
            Part.HERB: self.tr("Herb"),
            Part.PARTS: self.tr("Parts by weight") if by_weight else self.tr("Parts"),
            Part.RATIO: self.tr("Ratio"),
            Part.ETHANOL: self.tr("% v/v"),
            Part.MG: self.tr("mg"),
            Part.PERCENT: self.tr("% by weight"),
            Part.DROPS: self.tr("Drops"),
            Part.FILLING: self.tr("As"),
            Part.SHARE: self.tr("Share"),
        }[part]

    def column_heading(self, column: int, role: int) -> object:
        """The columns' names."""
        return self.heading(self.parts[column]) if role == Qt.ItemDataRole.DisplayRole else None

    def is_new(self, row: int) -> bool:
        """Whether a row is the empty one."""
        return row >= len(self.remedy.ingredients)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """All can be typed into but the share; of the empty row the herb alone."""
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        part, base = self.parts[index.column()], super().flags(index)
        fixed = part is Part.SHARE or (self.is_new(index.row()) and part is not Part.HERB)
        return base if fixed else base | Qt.ItemFlag.ItemIsEditable

    # Reading

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Texts, and what is wrong with them."""
        if not index.isValid():
            return None
        row, part = index.row(), self.parts[index.column()]
        if role == Qt.ItemDataRole.EditRole:
            return self.text(row, part, typing=True)
        if role == Qt.ItemDataRole.DisplayRole:
            return self.text(row, part)
        if role == WRONG:
            return self.wrong(row, part)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self._in_full(row, part)
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(self._in_full(row, part))
        return None

    def text(self, row: int, part: Part, *, typing: bool = False) -> str:
        """What a cell shows: the draft where there is one."""
        draft = self._drafts.get((row, part))
        if draft is not None:
            return draft
        if self.is_new(row):
            return "" if typing or part is not Part.HERB else self.tr("Add a herb")
        ingredient = self.remedy.ingredients[row]
        if part is Part.HERB:
            return self._name(ingredient.herb)
        return self._share(row) if part is Part.SHARE else self._amount(ingredient, part)

    def _name(self, herb_id: str) -> str:
        herb = self.herbs.get(herb_id)
        return herb.name if herb else herb_id

    def _amount(self, ingredient: Ingredient, part: Part) -> str:
        if part is Part.FILLING:
            return filling_name(ingredient.filling or self.remedy.form.facts.fillings[0])
        if part is Part.RATIO:
            return "" if ingredient.ratio is None else ratio_words(ingredient.ratio)
        value = {
            Part.PARTS: ingredient.parts,
            Part.ETHANOL: ingredient.ethanol,
            Part.MG: ingredient.mg,
            Part.PERCENT: ingredient.percent,
            Part.DROPS: ingredient.drops,
        }[part]
        return "" if value is None else plain_number(value)

    def _share(self, row: int) -> str:
        share = self._shares[row]
        if share is None:
            return ""
        percent = f"{rounded(share * 100, 1)} %"
        is_simple = 1 < share.denominator <= _SMALL
        return f"{share.numerator}/{share.denominator} · {percent}" if is_simple else percent

    @property
    def drafts(self) -> dict[tuple[int, Part], str]:
        """What was typed and cannot be taken, by row and column."""
        return dict(self._drafts)

    def put_drafts(self, drafts: Mapping[tuple[int, Part], str]) -> None:
        """Hold these and no others; those of rows or columns that are not there are left out."""
        rows, parts = range(self.row_count()), set(self.parts)
        there = {at: text for at, text in drafts.items() if at[0] in rows and at[1] in parts}
        self._drafts = {}
        self._drafts = {a: t for a, t in there.items() if t != self.text(*a, typing=True)}
        self._all_changed()
        self.wrong_changed.emit()

    def wrong(self, row: int, part: Part) -> str:
        """What is wrong with a cell's draft, in words; nothing where all is well."""
        draft = self._drafts.get((row, part))
        if draft is None:
            return ""
        if part is Part.HERB:
            return self._wrong_herb(draft)
        if part is Part.FILLING or (not draft and self._may_be_empty(part)):
            return ""
        try:
            READ[part](draft)
        except ReadingError as error:
            return str(error)
        return ""

    def _may_be_empty(self, part: Part) -> bool:
        """Whether an amount need not be said: the ratio of what is not a liquid."""
        return part is Part.RATIO and not self.remedy.form.facts.has_ratio

    def _wrong_herb(self, draft: str) -> str:
        """What is wrong with a herb's name, or with a formula typed in its place."""
        if self.herb_named(draft):
            return ""
        try:
            self._entries(draft)
        except FormulaError as error:
            return str(error) if _has_figures(draft) else self._no_herb(draft)
        return ""

    def _entries(self, typed: str) -> tuple[Ingredient, ...]:
        """The ingredients of a formula as people write it; raises FormulaError."""
        names = HerbNames(herb.heading for herb in self.herbs.values())
        return read_formula(typed, self.remedy.form, names, MateriaMedica(self.herbs))

    def _no_herb(self, typed: str) -> str:
        names = [herb.name for herb in self.herbs.values()]
        template = self.tr("no match for “{typed}”; choose a herb from the list")
        return template.format(typed=typed) + nearest(typed, names)

    def first_wrong(self) -> str:
        """The first cell that is wrong: its place and what was expected."""
        for row, part in sorted(self._drafts, key=lambda at: (at[0], self.parts.index(at[1]))):
            message = self.wrong(row, part)
            if message:
                where = self.tr("Row {row}, {column}: {said}")
                return where.format(row=row + 1, column=self.heading(part), said=message)
        return ""

    def _in_full(self, row: int, part: Part) -> str:
        words = f"{self.heading(part)}: {self.text(row, part)}"
        wrong = self.wrong(row, part)
        return f"{words}. {wrong}" if wrong else words

    # Editing

    def setData(self, index: Index, value: object, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Take what was typed: into the formula where it can be read, else as a draft."""
        if role != Qt.ItemDataRole.EditRole or not index.isValid():
            return False
        row, part = index.row(), self.parts[index.column()]
        text = " ".join(str(value).split())
        if self.is_new(row) and (not text or part is not Part.HERB):
            self._settle(index, None)
            return False
        if text == self.text(row, part, typing=True) and (row, part) not in self._drafts:
            return True
        self._drafts[row, part] = text
        if not self.wrong(row, part) and self._take(row, part, text):
            self._settle(index, None)
        else:
            self._settle(index, text)
        return True

    def _settle(self, index: Index, draft: str | None) -> None:
        key = index.row(), self.parts[index.column()]
        if draft is None:
            self._drafts.pop(key, None)
        self.dataChanged.emit(index, index)
        self.wrong_changed.emit()

    def herb_named(self, typed: str) -> Herb | None:
        """The one herb of that name, Latin name, other name or id; None where there is not one."""
        names = HerbNames(herb.heading for herb in self.herbs.values())
        ids = names.ids(typed)
        return self.herbs[ids[0]] if len(ids) == 1 else None

    def _take(self, row: int, part: Part, text: str) -> bool:
        if part is Part.HERB:
            herb = self.herb_named(text)
            return self._take_herb(row, herb) if herb else self._take_entries(row, text)
        ingredient = self.remedy.ingredients[row]
        if part is Part.FILLING:
            named = {filling_name(filling): filling for filling in Filling}
            changed = filled_as(ingredient, named[text])
        else:
            changed = changed_by(ingredient, part, READ[part](text) if text else None)
        self._drafts.pop((row, part), None)
        words = self.tr("Change {column} of {herb}")
        self._ask(
            words.format(column=self.heading(part).lower(), herb=self._name(ingredient.herb)),
            with_ingredient(self.remedy, row, changed),
        )
        return True

    def _take_herb(self, row: int, herb: Herb) -> bool:
        """Put a herb into a row; what was set for another one stays."""
        self._drafts.pop((row, Part.HERB), None)
        if self.is_new(row):
            ingredient = usual_ingredient(herb, self.remedy.form)
            words = self.tr("Add {herb}")
        else:
            ingredient = replace(self.remedy.ingredients[row], herb=herb.id)
            words = self.tr("Change to {herb}")
        self._ask(words.format(herb=herb.name), with_ingredient(self.remedy, row, ingredient))
        return True

    def _take_entries(self, row: int, text: str) -> bool:
        """Put a formula that was typed in one go in the place of a row, or behind the last."""
        entries = self._entries(text)
        self._drafts.pop((row, Part.HERB), None)
        before, after = self.remedy.ingredients[:row], self.remedy.ingredients[row + 1 :]
        names = ", ".join(self._name(entry.herb) for entry in entries)
        words = self.tr("Add {herb}").format(herb=names)
        self._ask(words, replace(self.remedy, ingredients=(*before, *entries, *after)))
        return True

    def _ask(self, words: str, remedy: Remedy) -> None:
        if remedy != self.remedy:
            self.asked.emit(FormulaEditRequest(words, remedy))

    def remove(self, row: int) -> None:
        """Take an ingredient out; of the empty row, what was typed."""
        if self.is_new(row):
            self._settle(self.index(row, 0), None)
            return
        words = self.tr("Remove {herb}").format(herb=self._name(self.remedy.ingredients[row].herb))
        self._ask(words, without_ingredient(self.remedy, row))

    def move(self, row: int, by: int) -> int:
        """Move an ingredient up or down; the row where it then is."""
        if self.is_new(row):
            return row
        words = self.tr("Move {herb}").format(herb=self._name(self.remedy.ingredients[row].herb))
        self._ask(words, moved_ingredient(self.remedy, row, by))
        return min(max(row + by, 0), len(self.remedy.ingredients) - 1)
