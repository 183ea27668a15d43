"""What the panel of supplies says."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from pytestqt.qtbot import QtBot

from sennight.desktop.course.consequences.supply_dialog import SupplyDialog
from sennight.desktop.course.consequences.supply_panel import SupplyPanel, needed_words
from sennight.desktop.kit.theme import Theme
from sennight.domain.courses.courses import Course
from sennight.domain.dates import Span
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.plain_words import counted
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.dispensary.lasting import Lasting
from sennight.domain.dispensary.pricing import PriceRule, Prices
from sennight.domain.dispensary.stock import material_of
from sennight.domain.dispensary.taken_within import taken_within
from sennight.domain.remedies.remedies import Ingredient
from sennight.domain.supply.containers import PhaseSupply
from sennight.domain.supply.needs import Bottle
from sennight.domain.supply.settings import USUAL_SUPPLY
from sennight.practice.course_reading import read_course
from sennight.practice.pricing import Costing
from support import course_cases


def test_each_remedy_in_whole_containers_and_when_to_order(qtbot: QtBot, theme: Theme) -> None:
    panel = SupplyPanel(theme)
    qtbot.addWidget(panel)
    panel.set_open(is_open=True)
    reading = read_course(course_cases.full_course(), today=course_cases.TODAY)
    panel.refresh(reading)
    lines = panel.lines_label.text().splitlines()
    kept = len(reading.kept_supplies)
    assert len(lines) == len({row.bottle for row in reading.supplies}) + kept
    assert ["for one flare-up" in line for line in lines[-kept:]] == [True] * kept
    assert any(" × 100 " in line for line in lines)
    assert panel.head.verdict == "none given"
    panel.lasts = (Lasting(reading.supplies[0].bottle, date(2027, 3, 7), date(2027, 2, 28)),)
    panel.refresh(reading)
    assert panel.head.verdict == "by 28 Feb"
    lasts, order = panel.lines_label.text().splitlines()[-2:]
    assert lasts.endswith("lasts until 7 March 2027")
    assert order == "order more by 28 February 2027"


@pytest.mark.parametrize(
    ("size", "told"), [(None, "5 applications"), (Fraction(30), "5 applications, 1 × 30")]
)
def test_of_what_is_counted_none_is_left_out(size: Fraction | None, told: str) -> None:
    """Half of what may be taken as needed, three times a day on three days, is four and a half."""
    rub = Bottle("rub", "rub", Unit.APPLICATION)
    row = PhaseSupply(rub, "loading", Fraction(9, 2), 1 if size else None, None, None, None)
    assert needed_words(size, rub, [row]) == told


def test_what_is_kept_for_a_flare_up_and_what_all_costs(qtbot: QtBot, theme: Theme) -> None:
    panel = SupplyPanel(theme)
    qtbot.addWidget(panel)
    panel.set_open(is_open=True)
    course = course_cases.full_course(decided=False)
    reading = read_course(course, today=course_cases.TODAY)
    panel.costing = Costing({}, Prices(), USUAL_SUPPLY)
    panel.refresh(reading)
    lines = panel.lines_label.text().splitlines()
    assert [line for line in lines if "for one flare-up" in line] == lines[-2:]
    assert lines[-1].endswith("157.5 mL, 2 × 100 mL")
    reading = reading.of(drops_alone(course, again=False))
    remedy = reading.course.remedy("t2")
    costs = {material_of(remedy, remedy.ingredients[0]): Fraction(1, 10)}
    panel.costing = Costing(costs, Prices(PriceRule(markup=Fraction(1, 2))), USUAL_SUPPLY)
    for several, head in ((False, "Costs"), (True, "All of it costs")):
        reading = reading.of(drops_alone(course, again=several))
        panel.refresh(reading)
        told = panel.lines_label.text().splitlines()
        containers = [row.containers or 0 for row in reading.supplies]
        whole = sum(containers)
        assert told[-1] == f"{head} about £{whole * 10}.00, priced at £{whole * 15}.00"
    phases = [f"costs about £{n * 10}.00, priced at £{n * 15}.00" for n in containers]
    assert told[-3:-1] == [f"Loading {phases[0]}", f"Later {phases[1]}"]


def drops_alone(course: Course, *, again: bool) -> Course:
    """The first phase with its drops alone, whose formula says its parts; twice if `again`."""
    loading = course.protocol.phases[0]
    first = replace(loading, lines=loading.lines[1:2])
    phases = (first, replace(first, id="later")) if again else (first,)
    protocol = replace(course.protocol, phases=phases)
    made = tuple(
        replace(remedy, ingredients=(Ingredient("ginger", parts=Fraction(1)),))
        for remedy in course.remedies
    )
    return replace(course, protocol=protocol, remedies=made)


@pytest.mark.usefixtures("theme")
def test_how_much_is_taken_to_the_next_review_and_to_any_day(qtbot: QtBot) -> None:
    reading = read_course(course_cases.full_course(), today=course_cases.TODAY)
    visit = course_cases.TODAY + timedelta(days=6)
    dialog = SupplyDialog(reading, visit)
    qtbot.addWidget(dialog)
    days = reading.today, visit + timedelta(days=1)
    assert dialog.span == Span(*days)
    assert [name for name, _ in dialog.lines()] == [
        f"{taken.remedy.name}: {quantity_words(taken.amount)}"
        + ("" if taken.containers is None else f", {counted(taken.containers, 'container')}")
        for taken in taken_within(reading.layout, Span(*days))
    ]
    dialog.days.setCurrentIndex(dialog.days.count() - 1)
    assert dialog.span is None
    for text in ("soon", "1 May 2020"):
        dialog.until.setText(text)
        assert (dialog.span, dialog.lines()) == (None, ())
    dialog.until.set_day(visit)
    assert dialog.span == Span(*days)
    dialog.days.setCurrentIndex(dialog.days.count() - 2)
    assert dialog.span == reading.layout.days
