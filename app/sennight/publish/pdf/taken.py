"""What a client takes, in rows for the papers that practitioners read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from datetime import date
from fractions import Fraction
from itertools import groupby

from sennight.domain.amounts import plain_number, rounded
from sennight.domain.courses.ceilings import within_ceilings
from sennight.domain.courses.protocols import Line
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import (
    plain_amount,
    plain_date,
    plain_dates,
    plain_directions,
)
from sennight.domain.exposure.ethanol import strength
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.letters import letter_of
from sennight.domain.remedies.making_words import time_words, water_words
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.domain.remedies.remedy_words import ratio_words
from sennight.domain.tag_words import upper_first
from sennight.domain.take_home.names import plan_name
from sennight.publish.pdf.plain_sheet import Row

HerbNames = Mapping[str, str]
"""Each herb by its id, with its Latin name and part."""


def remedy_rows(layout: Layout, herbs: HerbNames, within: Span, *, but: str = "") -> list[Row]:
    """Each remedy taken on these days, `but` one: how, from when to when, and what is in it."""
    course = layout.course
    rows: list[Row] = []
    for index, remedy in enumerate(course.remedies):
        taken = [
            stretch
            for stretch in layout.stretches
            if stretch.remedy == remedy.id != but and stretch.span.touches(within)
        ]
        if taken:
            lines = [*ways(layout, taken), *_contents(layout, taken, herbs)]
            rows.append((f"{letter_of(index)} {remedy.name}", lines))
    return rows


def ways(layout: Layout, taken: Sequence[Stretch], *, until: date | None = None) -> Iterator[str]:
    """Each way in which a remedy is taken, with its first and last day.

    What goes on after `until` is told from its first day on: what comes then is only planned.
    """
    in_order = sorted(taken, key=lambda stretch: stretch.span)
    for _, group in groupby(in_order, key=lambda stretch: stretch.directions):
        same = list(group)
        days = Span(same[0].span.first, same[-1].span.end)
        words = plain_directions(same[0].directions, layout.course.client.day)
        is_past = until is None or days.last <= until
        told = plain_dates(days) if is_past else f"since {plain_date(days.first)}"
        yield f"{upper_first(words)}: {told}."


def _contents(layout: Layout, taken: Sequence[Stretch], herbs: HerbNames) -> Iterator[str]:
    for formula in dict.fromkeys(stretch.formula for stretch in taken):
        remedy = layout.course.remedy(formula)
        name = f"{remedy.name}, " if formula != taken[0].remedy else ""
        noun = upper_first(name + remedy.form.facts.noun)
        yield f"{noun}: {'; '.join(formula_words(remedy, herbs))}."


def formula_words(remedy: Remedy, herbs: HerbNames) -> Iterator[str]:
    """What a remedy is made of, and how: each ingredient, then the cup or the strength."""
    yield from (ingredient_words(ingredient, herbs) for ingredient in remedy.ingredients)
    yield from _base_words(remedy)
    if remedy.tea is not None:
        grams = plain_number(remedy.tea.grams_per_cup)
        water = water_words(remedy.tea.water_ml)
        yield (
            f"{grams} g in {water} of water for one {remedy.form.facts.making}, "
            f"{remedy.tea.method}, {time_words(remedy.tea.minutes)}"
        )
    if remedy.spoon_g is not None:
        yield f"{plain_number(remedy.spoon_g)} g in a teaspoon"
    if remedy.mg_in is not None:
        yield f"all in {plain_amount(remedy.mg_in.amount, remedy.mg_in.unit)}"
    if remedy.dropperful is not None:
        holds = plain_amount(remedy.dropperful.amount, remedy.dropperful.unit)
        yield f"{holds} in a dropperful"
    percent = strength(remedy)
    if percent:
        yield f"about {rounded(percent, 0)} % alcohol by volume"


def _base_words(remedy: Remedy) -> Iterator[str]:
    """What the herbs are in or thinned with, and how much of it."""
    base = remedy.base
    if base:
        parts = f" {counted_parts(base.parts)}" if base.parts else ""
        sugar = f", {plain_number(base.sugar)} g of sugar in 100 mL of it" if base.sugar else ""
        yield f"in {base.name or 'its base'}{parts}{sugar}"
    if remedy.batch_g is not None:
        is_of_drops = any(ingredient.drops for ingredient in remedy.ingredients)
        whole = "the drops in" if is_of_drops else "in a batch of"
        yield f"{whole} {plain_number(remedy.batch_g)} g"


def ingredient_words(ingredient: Ingredient, herbs: HerbNames) -> str:
    """One ingredient: herb, share, ratio and strength, or milligrams a piece."""
    words = herbs.get(ingredient.herb, ingredient.herb.replace("-", " "))
    if ingredient.parts is not None:
        words += f" {counted_parts(ingredient.parts)}"
    is_plain = ingredient.filling in (None, Filling.SUBSTANCE)
    filling = "" if is_plain else str(ingredient.filling).replace("-", " ")
    if ingredient.mg is not None:
        words += f" {plain_number(ingredient.mg)} mg{f' of {filling}' if filling else ''}"
    elif filling:
        words += f", {filling}"
    if ingredient.percent is not None:
        words += f" {rounded(ingredient.percent, 2)} % by weight"
    if ingredient.drops is not None:
        words += f" {plain_number(ingredient.drops)} drops"
    if ingredient.ratio is not None:
        words += f", ratio {ratio_words(ingredient.ratio)}"
    if ingredient.ethanol:
        words += f", {plain_number(ingredient.ethanol)} % ethanol"
    return words


def counted_parts(parts: Fraction) -> str:
    """A share: `1 part`, `2.5 parts`."""
    return f"{plain_number(parts)} part{'' if parts == 1 else 's'}"


def flare_rows(layout: Layout, herbs: HerbNames, within: Span) -> list[Row]:
    """The lines of each flare-up plan, without the remedies that were stopped.

    What a remedy is made of is told here unless it is taken within these days: `remedy_rows`
    has it then.
    """
    course = layout.course
    told = {s.remedy for s in layout.stretches if s.span.touches(within)}
    stopped = {remedy for remedy, _ in layout.plan.stops}
    rows: list[Row] = []
    for phase in course.protocol.phases:
        lines = [line for line in phase.lines if phase.is_rescue and line.remedy not in stopped]
        if lines:
            words = [word for line in lines for word in _line(layout, line, herbs, told)]
            rows.append((plan_name(phase.id), list(dict.fromkeys(words))))
    return rows


def _line(layout: Layout, line: Line, herbs: HerbNames, told: Set[str]) -> Iterator[str]:
    remedy, day = layout.course.remedy(line.remedy), layout.course.client.day
    allowed = within_ceilings(layout.course.protocol, line.remedy, line.directions, day)
    yield f"{remedy.name}: {plain_directions(allowed, day)}."
    if remedy.id not in told:
        noun = upper_first(remedy.form.facts.noun)
        yield f"{noun}: {'; '.join(formula_words(remedy, herbs))}."
