"""How much of each remedy the course needs, in whole containers, and how long it lasts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from fractions import Fraction
from math import ceil

from PySide6.QtCore import Qt

from sennight.desktop.course.consequences.panel import Panel
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button
from sennight.desktop.parts.typed import day_and_month
from sennight.domain.amounts import rounded
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.plain_words import counted, plain_date
from sennight.domain.dispensary.lasting import Lasting
from sennight.domain.supply.containers import PhaseSupply
from sennight.domain.supply.needs import Bottle
from sennight.domain.tag_words import upper_first
from sennight.practice.course_reading import CourseReading
from sennight.practice.pricing import Costing


class SupplyPanel(Panel):
    """One line a remedy; the next day to order stands first, where something was handed over.

    `lasts` is how long that lasts, `costing` what materials cost.
    """

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.lasts: tuple[Lasting, ...] = ()
        self.costing: Costing | None = None
        self.more = button(
            self.tr("For other days…"),
            kind="link",
            tip=self.tr("How much to the next review, or to any day, and what goes into it"),
        )
        self.more.setProperty("flush", "true")
        self.room.addWidget(self.more, 0, Qt.AlignmentFlag.AlignLeft)

    def title(self) -> str:
        """Supply."""
        return self.tr("Supply")

    def refresh(self, reading: CourseReading) -> None:
        """Add up what the phases need, and what is kept for a flare-up."""
        orders = [row.order_by for row in self.lasts if row.order_by is not None]
        order_by = min(orders, default=None)
        if order_by is not None:
            verdict = self.tr("by {day}").format(day=day_and_month(order_by))
        else:
            verdict = self.tr("none given") if not self.lasts else ""
        self.say_later(verdict, lambda: self._lines(reading, order_by))
        if self.isHidden():
            self.fill()  # there may be something to say now

    def _lines(self, reading: CourseReading, order_by: date | None) -> tuple[str, ...]:
        names = {remedy.id: remedy.name for remedy in reading.course.remedies}
        lines = [*self._needs(reading, names), *self._lasting(names)]
        self.setVisible(bool(lines))
        if order_by is not None:
            lines.append(self.tr("order more by {day}").format(day=plain_date(order_by)))
        return (*lines, *self._costs(reading))

    def _needs(self, reading: CourseReading, names: Mapping[str, str]) -> Iterator[str]:
        """A line for each bottle in the phases, then for each in a plan not called yet."""
        dated = len(reading.supplies)
        for is_plan, rows in (
            (False, reading.all_supplies[:dated]),
            (True, reading.all_supplies[dated:]),
        ):
            template = (
                self.tr("{name}, for one flare-up: {needed}")
                if is_plan
                else self.tr("{name}: {needed}")
            )
            needed: dict[tuple[str, Bottle], list[PhaseSupply]] = {}
            for row in rows:
                needed.setdefault((row.phase if is_plan else "", row.bottle), []).append(row)
            for (_, bottle), of_bottle in needed.items():
                said = needed_words(reading.settings.size_of(bottle), bottle, of_bottle)
                yield template.format(name=names[bottle.formula], needed=said)

    def _lasting(self, names: Mapping[str, str]) -> Iterator[str]:
        for row in self.lasts:
            if row.last_day is not None:
                template = (
                    self.tr("{name} was used in the flare-up to {day}: prepare it again")
                    if row.plan
                    else self.tr("{name} lasts until {day}")
                )
                yield template.format(
                    name=names.get(row.bottle.formula, ""), day=plain_date(row.last_day)
                )

    def _costs(self, reading: CourseReading) -> Iterator[str]:
        """What each phase and all of it cost and are sold for, where all parts are known."""
        if self.costing is None:
            return
        words, course, supplies = self.costing.prices.words, reading.course, reading.all_supplies
        several = len({row.phase for row in supplies}) > 1
        for phase, costed in self.costing.of_phases(course, supplies) if several else ():
            yield self.tr("{phase} costs about {cost}, priced at {price}").format(
                phase=upper_first(phase),
                cost=words(costed.cost),
                price=words(costed.price),
            )
        whole = self.costing.of_course(course, supplies)
        if whole is not None:
            template = (
                self.tr("All of it costs about {cost}, priced at {price}")
                if several
                else self.tr("Costs about {cost}, priced at {price}")
            )
            yield template.format(cost=words(whole.cost), price=words(whole.price))


def needed_words(size: Fraction | None, bottle: Bottle, rows: list[PhaseSupply]) -> str:
    """An amount, in containers of a size where it has one; what is counted is rounded up."""
    amount = sum((row.amount for row in rows), Fraction(0))
    containers = sum(row.containers or 0 for row in rows)
    if size is None:
        return counted(ceil(amount), str(bottle.unit))
    unit = "" if bottle.unit not in (Unit.ML, Unit.G) else f" {bottle.unit}"
    template = translate("Supply", "{amount}, {count} × {size}")
    return template.format(
        amount=f"{rounded(amount, 1)}{unit}" if unit else counted(ceil(amount), str(bottle.unit)),
        count=containers,
        size=f"{rounded(size, 0)}{unit}",
    )
