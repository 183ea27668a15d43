"""How much of each remedy the course needs, in whole containers, and how long it lasts."""

from __future__ import annotations

from fractions import Fraction

from sennight.desktop.course.consequences.panel import Panel
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.typed import day_and_month
from sennight.domain.amounts import rounded
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.plain_words import counted, plain_date
from sennight.domain.dispensary.lasting import Lasting
from sennight.domain.supply.containers import PhaseSupply, usual_size
from sennight.domain.supply.needs import Bottle
from sennight.practice.course_reading import CourseReading


class SupplyPanel(Panel):
    """One line a remedy; above them the next day to order, where something was handed over."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.lasts: tuple[Lasting, ...] = ()

    def title(self) -> str:
        """Supply."""
        return self.tr("Supply")

    def refresh(self, reading: CourseReading) -> None:
        """Add up what the phases need."""
        names = {remedy.id: remedy.name for remedy in reading.course.remedies}
        needed: dict[Bottle, list[PhaseSupply]] = {}
        for row in reading.supplies:
            needed.setdefault(row.bottle, []).append(row)
        lines = [
            f"{names[bottle.formula]}: {_needed(bottle, rows)}" for bottle, rows in needed.items()
        ]
        orders = [row.order_by for row in self.lasts if row.order_by is not None]
        lines += [
            self.tr("{name} lasts to {day}").format(
                name=names.get(row.bottle.formula, ""), day=plain_date(row.last_day)
            )
            for row in self.lasts
            if row.last_day is not None
        ]
        self.setVisible(bool(lines))
        if orders:
            lines.append(self.tr("order more by {day}").format(day=plain_date(min(orders))))
            verdict = self.tr("by {day}").format(day=day_and_month(min(orders)))
        else:
            verdict = self.tr("none given") if not self.lasts else ""
        self.say(verdict, *lines)


def _needed(bottle: Bottle, rows: list[PhaseSupply]) -> str:
    amount = sum((row.amount for row in rows), Fraction(0))
    size, containers = usual_size(bottle), sum(row.containers or 0 for row in rows)
    if size is None:
        return counted(int(amount), str(bottle.unit))
    unit = "" if bottle.unit not in (Unit.ML, Unit.G) else f" {bottle.unit}"
    template = translate("Supply", "{amount}, {count} × {size}")
    return template.format(
        amount=f"{rounded(amount, 1)}{unit}" if unit else counted(int(amount), str(bottle.unit)),
        count=containers,
        size=f"{rounded(size, 0)}{unit}",
    )
