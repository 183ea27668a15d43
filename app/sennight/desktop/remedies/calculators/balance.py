"""The parts that fit what is asked, with the least change from the practitioner's own."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from PySide6.QtWidgets import QComboBox, QWidget

from sennight.desktop.kit.forms import TypedField, explained
from sennight.desktop.parts.amounts_reading import read_percent
from sennight.desktop.parts.range_bar import band_words, reservations_text
from sennight.desktop.remedies.calculators.base import PLACES, CalculatorDialog
from sennight.desktop.remedies.formula import Formula
from sennight.domain.amounts import rounded
from sennight.domain.directions.plain_words import listed
from sennight.domain.exposure.bands import Band
from sennight.domain.formulas.balance import ZERO, Bound, Daily, band_bounds, strength_bound
from sennight.domain.formulas.calculations import CalculationError
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.herbs.ranges import Reservation, WorkingRange, working_range
from sennight.domain.remedies.contents import millilitres, shares
from sennight.domain.remedies.form_facts import Composition
from sennight.domain.remedies.forms import composition_of
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.practice.balancing import Conflict
from sennight.practice.formulating import Rebalanced, rebalance


class BalanceDialog(CalculatorDialog):
    """Asks where each herb should lie, and how strong the blend may be."""

    def __init__(
        self, parent: QWidget | None, before: Formula, materia_medica: MateriaMedica
    ) -> None:
        super().__init__(parent, self.tr("Balance the parts"), before, materia_medica)
        self.bands: dict[str, QComboBox] = {}
        self.strength = TypedField(read_percent, placeholder=self.tr("any"))
        for ingredient in before.remedy.ingredients:
            if ingredient.herb not in self.bands:
                self.bands[ingredient.herb] = self._band_box()
                self.fields.row(self.herb_name(ingredient.herb), self.bands[ingredient.herb])
        if composition_of(before.remedy.form) is Composition.BY_VOLUME:
            row = self.fields.row(self.tr("Maximum strength, % v/v"), self.strength)
            explained(row, self.strength, lambda _: "")
        template = self.tr(
            "For the trial dose: {dose}. A day's amounts are those of the timed doses."
        )
        self.quiet(template.format(dose=before.tried))
        self.ready(lines=38)

    def _band_box(self) -> QComboBox:
        box = QComboBox()
        box.addItem(self.tr("no target"), None)
        for band, _ in PLACES:
            box.addItem(band_words(band), band)
        return box

    def work_out(self) -> tuple[str, Formula | None]:
        """The new parts, or what cannot hold together."""
        remedy = self.before.remedy
        bounds = tuple(self._bounds(remedy))
        if not bounds:
            return self.tr("Choose where a herb should lie, or how strong the blend may be."), None
        result = rebalance(remedy, bounds)
        if isinstance(result, Conflict):
            says = listed([f"{self.herb_name(bound.of)}: {bound.asks}" for bound in result.bounds])
            template = self.tr("These cannot all be met at once: {all}. Relax one of them.")
            return template.format(all=says), None
        remarks = reservations_text(self._reservations(result.remedy))
        return remarks + self._sentence(remedy, result), replace(self.before, remedy=result.remedy)

    def _reservations(self, remedy: Remedy) -> Iterator[Reservation]:
        """What is to be said of the ranges that were aimed at, with the new parts."""
        tried = self.before.trial(self.materia_medica)
        wanted = {herb for herb, box in self.bands.items() if box.currentData() is not None}
        for ingredient, share in zip(remedy.ingredients, shares(remedy), strict=True):
            limit = (
                self._limit(remedy, ingredient) if ingredient.herb in wanted and tried else None
            )
            if limit and tried and share is not None:
                directions = tried.directions
                ml = millilitres(remedy, directions.amount * tried.most, directions.unit)
                is_liquid = composition_of(remedy.form) is Composition.BY_VOLUME
                yield from limit.reservations(ml * share if is_liquid and ml else None)

    def _bounds(self, remedy: Remedy) -> Iterator[Bound]:
        wanted = {herb: box.currentData() for herb, box in self.bands.items()}
        for ingredient in remedy.ingredients:
            band = wanted.pop(ingredient.herb, None)
            if band is not None:
                yield from self._band_bounds(remedy, ingredient, Band(band))
        most = self.strength.value()
        if most is not None:
            yield strength_bound(remedy, most)

    def _band_bounds(
        self, remedy: Remedy, ingredient: Ingredient, band: Band
    ) -> tuple[Bound, ...]:
        tried = self.before.trial(self.materia_medica)
        if tried is None:
            raise CalculationError(self.tr("enter a valid trial dose"))
        limit = self._limit(remedy, ingredient)
        if limit is None:
            template = self.tr(
                "no range is recorded for {herb} as {form}, so it can have no target"
            )
            form = _taken_as(remedy)
            raise CalculationError(
                template.format(herb=self.herb_name(ingredient.herb), form=form)
            )
        daily = Daily(tried.directions.amount, tried.directions.unit, tried.timed, tried.most)
        return band_bounds(remedy, daily, ingredient.herb, band, limit)

    def _limit(self, remedy: Remedy, ingredient: Ingredient) -> WorkingRange | None:
        herb = self.materia_medica.herb(ingredient.herb)
        return working_range(herb, _taken_as(remedy), ingredient.ratio) if herb else None

    def _sentence(self, before: Remedy, result: Rebalanced) -> str:
        if not result.change:
            return self.tr("The parts already meet all of this; nothing is changed.")
        changes = [
            self.tr("{herb} {old} to {new}").format(
                herb=self.herb_name(old.herb),
                old=rounded(old.parts or ZERO, 3),
                new=rounded(new.parts or ZERO, 3),
            )
            for old, new in zip(before.ingredients, result.remedy.ingredients, strict=True)
            if old.parts != new.parts
        ]
        template = self.tr(
            "The smallest change that meets it, in parts: {all}. The total stays the same."
        )
        return template.format(all=listed(changes))


def _taken_as(remedy: Remedy) -> TakenAs:
    by_weight = composition_of(remedy.form) is Composition.BY_WEIGHT
    return TakenAs.TEA if by_weight else TakenAs.LIQUID
