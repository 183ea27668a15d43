"""What a practice sets for its dispensary: prices, minimums and how supply is reckoned."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from fractions import Fraction

from sqlalchemy import select
from sqlalchemy.orm import Session

from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.preparing import Rounding
from sennight.domain.dispensary.pricing import PriceRule, Prices
from sennight.domain.dispensary.settings import DispensarySettings
from sennight.domain.dispensary.stock import Held, Material
from sennight.domain.supply.needs import Allowance
from sennight.domain.supply.settings import SupplySettings
from sennight.store.decoding import decoding
from sennight.store.rows import plain_rows
from sennight.store.tables.dispensary import (
    DispensarySettingRow,
    PriceRuleRow,
    StockMinimum,
)

USUAL = ""
"""The form that the rule for all is kept under."""


class PriceRepository:
    """Prices and minimums of one transaction; the row that was recorded last holds."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def prices(self) -> Prices:
        """The rules; those that a practice has where it never set any."""
        query = select(PriceRuleRow).order_by(PriceRuleRow.id)
        rows = {row.form: row for row in plain_rows(self._session, PriceRuleRow, query)}
        usual = rows.pop(USUAL, None)
        if usual is None:
            return Prices()
        return Prices(
            _rule(usual), {form: _rule(row) for form, row in rows.items()}, usual.currency
        )

    def keep(self, prices: Prices, *, recorded: datetime) -> None:
        """Keep the rules that differ from those that hold."""
        held = self.prices()
        changed = {
            form: rule
            for form, rule in {USUAL: prices.usual, **prices.rules}.items()
            if rule != (held.usual if form == USUAL else held.rules.get(form))
            or (form == USUAL and prices.currency != held.currency)
        }
        self._session.add_all(
            PriceRuleRow(
                recorded=recorded,
                form=form,
                markup=rule.markup,
                fee=rule.fee,
                tax=rule.tax,
                step=rule.step,
                currency=prices.currency,
            )
            for form, rule in changed.items()
        )
        self._session.flush()

    def settings(self) -> DispensarySettings:
        """How supply is reckoned and amounts are rounded; the usual where none was set."""
        query = select(DispensarySettingRow).order_by(DispensarySettingRow.id.desc()).limit(1)
        rows = list(plain_rows(self._session, DispensarySettingRow, query))
        return _settings(rows[0]) if rows else DispensarySettings()

    def keep_settings(self, settings: DispensarySettings, *, recorded: datetime) -> None:
        """Reckon so from now on."""
        supply, steps = settings.supply, settings.rounding.steps
        self._session.add(
            DispensarySettingRow(
                recorded=recorded,
                as_needed=supply.allowance.as_needed,
                spillage=supply.allowance.spillage,
                ml=supply.ml,
                grams=supply.grams,
                capsules=supply.capsules,
                weighed=steps[Unit.G],
                measured=steps[Unit.ML],
                order_days=supply.order_days,
            )
        )
        self._session.flush()

    def minimums(self) -> Mapping[Material, Fraction]:
        """How much of each material is to be left; those of 0 are none."""
        query = select(StockMinimum).order_by(StockMinimum.id)
        rows = plain_rows(self._session, StockMinimum, query)
        held = {_material(row): row.amount for row in rows}
        return {material: amount for material, amount in held.items() if amount}

    def keep_minimum(self, material: Material, amount: Fraction, *, recorded: datetime) -> None:
        """Keep how much of a material is to be left; 0 takes it back."""
        self._session.add(
            StockMinimum(
                recorded=recorded,
                material=material.name,
                held=str(material.held),
                unit=str(material.unit),
                ratio=material.ratio,
                ethanol=material.ethanol,
                amount=amount,
            )
        )
        self._session.flush()


def _settings(row: DispensarySettingRow) -> DispensarySettings:
    supply = SupplySettings(
        Allowance(row.as_needed, row.spillage),
        row.ml,
        row.grams,
        row.capsules,
        row.order_days,
    )
    return DispensarySettings(supply, Rounding({Unit.G: row.weighed, Unit.ML: row.measured}))


def _rule(row: PriceRuleRow) -> PriceRule:
    return PriceRule(row.markup, row.fee, row.tax, row.step)


def _material(row: StockMinimum) -> Material:
    with decoding("a material"):
        return Material(row.material, Held(row.held), Unit(row.unit), row.ratio, row.ethanol)
