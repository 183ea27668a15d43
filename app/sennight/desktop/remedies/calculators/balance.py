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
from sennight.domain.remedies.forms import Composition, composition_of
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
        for one in before.remedy.ingredients:
            if one.herb not in self.bands:
                self.bands[one.herb] = self._band_box()
                self.fields.row(self.herb_name(one.herb), self.bands[one.herb])
        if composition_of(before.remedy.form) is Composition.BY_VOLUME:
            row = self.fields.row(self.tr("At most so strong, % v/v"), self.strength)
            explained(row, self.strength, lambda _: "")
        told = self.tr("For the trial dose: {dose}. A day's amounts are those of the timed doses.")
        self.quiet(told.format(dose=before.tried))
        self.ready(lines=38)

    def _band_box(self) -> QComboBox:
        box = QComboBox()
        box.addItem(self.tr("wherever it falls"), None)
        for band, _ in PLACES:
            box.addItem(band_words(band), band)
        return box

    def work_out(self) -> tuple[str, Formula | None]:
        """The new parts, or what cannot hold together."""
        remedy = self.before.remedy
        bounds = tuple(self._bounds(remedy))
        if not bounds:
            return self.tr("Choose where a herb should lie, or how strong the blend may be."), None
        found = rebalance(remedy, bounds)
        if isinstance(found, Conflict):
            says = listed([self._named(bound.says) for bound in found.bounds])
            told = self.tr(
                "No parts of these herbs can do this all at once: {all}. Let one of it go."
            )
            return told.format(all=says), None
        said = reservations_text(self._reservations(found.remedy))
        return said + self._sentence(remedy, found), replace(self.before, remedy=found.remedy)

    def _reservations(self, remedy: Remedy) -> Iterator[Reservation]:
        """What is to be said of the ranges that were aimed at, with the new parts."""
        tried = self.before.trial(self.materia_medica)
        wanted = {herb for herb, box in self.bands.items() if box.currentData() is not None}
        for one, share in zip(remedy.ingredients, shares(remedy), strict=True):
            limit = self._limit(remedy, one) if one.herb in wanted and tried else None
            if limit and tried and share is not None:
                take = tried.directions
                ml = millilitres(take.amount * tried.most, take.unit, remedy.drops_per_ml)
                is_liquid = composition_of(remedy.form) is Composition.BY_VOLUME
                yield from limit.reservations(ml * share if is_liquid and ml else None)

    def _bounds(self, remedy: Remedy) -> Iterator[Bound]:
        wanted = {herb: box.currentData() for herb, box in self.bands.items()}
        for one in remedy.ingredients:
            band = wanted.pop(one.herb, None)
            if band is not None:
                yield from self._band_bounds(remedy, one, Band(band))
        most = self.strength.value()
        if most is not None:
            yield strength_bound(remedy, most)

    def _band_bounds(self, remedy: Remedy, one: Ingredient, band: Band) -> tuple[Bound, ...]:
        tried = self.before.trial(self.materia_medica)
        if tried is None:
            raise CalculationError(self.tr("expected a trial dose that can be read"))
        limit = self._limit(remedy, one)
        if limit is None:
            told = self.tr("no range is recorded for {herb} as {form}, so nothing can be aimed at")
            form = _taken_as(remedy)
            raise CalculationError(told.format(herb=self.herb_name(one.herb), form=form))
        daily = Daily(tried.directions.amount, tried.directions.unit, tried.timed, tried.most)
        return band_bounds(remedy, daily, one.herb, band, limit)

    def _limit(self, remedy: Remedy, one: Ingredient) -> WorkingRange | None:
        herb = self.materia_medica.herb(one.herb)
        return working_range(herb, _taken_as(remedy), one.ratio) if herb else None

    def _named(self, says: str) -> str:
        """A bound by the herb's name, not its id."""
        head, colon, rest = says.partition(":")
        return f"{self.herb_name(head)}{colon}{rest}"

    def _sentence(self, before: Remedy, found: Rebalanced) -> str:
        if not found.change:
            return self.tr("The parts as they are do all of this; nothing is changed.")
        said = [
            self.tr("{herb} {old} to {new}").format(
                herb=self.herb_name(one.herb),
                old=rounded(one.parts or ZERO, 3),
                new=rounded(new.parts or ZERO, 3),
            )
            for one, new in zip(before.ingredients, found.remedy.ingredients, strict=True)
            if one.parts != new.parts
        ]
        told = self.tr("The least change that does it, in parts: {all}. The sum of parts stays.")
        return told.format(all=listed(said))


def _taken_as(remedy: Remedy) -> TakenAs:
    by_weight = composition_of(remedy.form) is Composition.BY_WEIGHT
    return TakenAs.TEA if by_weight else TakenAs.LIQUID
