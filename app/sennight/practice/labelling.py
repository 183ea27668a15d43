"""Labels for what a course hands over next: one a container, from what the course says that day.

A container that was not prepared as a recorded batch has lines on which its number, the day it
was prepared and the day to use it by are written by hand.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from sennight.domain.courses.ceilings import within_ceilings
from sennight.domain.courses.possible_flares import possible_flares, repeated_flares
from sennight.domain.courses.protocols import Phase
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.directions.directions import Directions
from sennight.domain.dispensary.batches import Batch
from sennight.domain.dispensary.labels import ForClient, Label, Plan, Supply, label_of
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.letters import letter_of
from sennight.domain.supply.containers import PhaseSupply
from sennight.domain.supply.quantities import Quantity
from sennight.domain.take_home.flare_plans import is_reached
from sennight.domain.take_home.names import plan_name
from sennight.practice.course_reading import CourseReading

BY_HAND = "__________"
"""Where what is not known yet is written by hand."""

Dyed = tuple[Label, int]
"""A label, and its remedy's place in the course."""


@dataclass(frozen=True, slots=True)
class ToTake:
    """How a remedy is taken, made by a formula.

    `usual` is None for what is kept for flare-ups alone; `plans` are the flare-up plans that run,
    or may come, and ask for it.
    """

    remedy: str
    formula: str
    usual: Stretch | None
    plans: tuple[Phase, ...] = ()

    @property
    def only_plan(self) -> str:
        """The flare-up plan that it is kept for, empty for what is taken outside flare-ups."""
        return "" if self.usual or not self.plans else self.plans[0].id


@dataclass(frozen=True, slots=True)
class LabelsMade:
    """Labels as a PDF, empty where there is nothing to label or it does not fit, and why not."""

    pdf: bytes = b""
    why_not: str = ""


def labels_due(reading: CourseReading, card: PracticeCard) -> tuple[Dyed, ...]:
    """The labels of the phase that runs on the reading's day, the first phase before the course.

    One for each container that the phase adds; one for what is counted in applications. Flares
    under way have theirs too, and in the first phase what is kept at home for flare-ups.
    """
    day = max(reading.today, reading.layout.days.first)
    phases = reading.layout.phases
    kept = reading.kept_supplies if phases and day in phases[0].span else ()
    rows = (
        *(
            row
            for row in reading.supplies
            if any(day in span for span in reading.spans_of(row.phase))
        ),
        *(row for row in kept if row.order_by is None),
    )
    return tuple(dyed for row in rows for dyed in _labels(reading, row, day, card))


def _labels(
    reading: CourseReading, row: PhaseSupply, day: date, card: PracticeCard
) -> Iterator[Dyed]:
    bottle = row.bottle
    taking = taken_next(reading, bottle.remedy, day, formula=bottle.formula, phase=row.phase)
    if taking is None:
        return
    remedy = reading.course.remedy(bottle.formula)
    size = reading.settings.size_of(bottle)
    amount = Quantity(row.amount if size is None else size, bottle.unit)
    if size is None and remedy.container:
        amount = Quantity(remedy.container.amount, remedy.container.unit)
    # When it is made, until when it keeps, and what a rub's container holds is not known yet.
    batch = Batch("", BY_HAND, remedy, amount, reading.today, card.practitioner, reading.today)
    label = label_for(reading, card, batch, Supply(amount, reading.today, ""), taking)
    label = replace(label, prepared=BY_HAND, use_by=BY_HAND)
    if size is None and not remedy.container:
        label = replace(label, quantity=BY_HAND)
    for _ in range(1 if row.containers is None else row.containers):
        yield label, reading.places[bottle.remedy]


def taken_next(
    reading: CourseReading, remedy: str, day: date, *, formula: str = "", phase: str = ""
) -> ToTake | None:
    """How a remedy is taken from a day on, of one formula if said; None where it is no more.

    Of the days of a `phase`, if said, unless it is a flare-up plan.
    """
    plans = _plans(reading, remedy, day, formula)
    rescue = {plan.id for plan in reading.course.protocol.phases if plan.is_rescue}
    usual = _first(
        stretch
        for stretch in _coming(reading.layout, remedy, day, formula)
        if stretch.phase not in rescue and phase in (*rescue, stretch.phase, "")
    )
    if usual is not None:
        return ToTake(remedy, usual.formula, usual, tuple(plan for plan, _ in plans))
    if plans:
        return ToTake(remedy, plans[0][1].formula, None, tuple(plan for plan, _ in plans))
    return None


def _coming(layout: Layout, remedy: str, day: date, formula: str) -> Iterator[Stretch]:
    """The stretches of a remedy on a day or after it."""
    for stretch in layout.stretches:
        is_coming = stretch.remedy == remedy and stretch.span.end > day
        if is_coming and formula in ("", stretch.formula):
            yield stretch


def _first(stretches: Iterable[Stretch]) -> Stretch | None:
    return min(stretches, key=lambda stretch: stretch.span.first, default=None)


def _plans(
    reading: CourseReading, remedy: str, day: date, formula: str
) -> tuple[tuple[Phase, Stretch], ...]:
    """The flare-up plans that run on a day, or may be called from it on, and ask for a remedy."""
    layout = reading.layout
    coming = [flare.any_day for flare in possible_flares(layout)]
    coming += [flare.any_day for flare, _ in repeated_flares(layout)]
    found: dict[str, Stretch] = {}
    for place in (*coming, layout):
        for stretch in _coming(place, remedy, day, formula):
            found.setdefault(stretch.phase, stretch)
    plans = (phase for phase in reading.course.protocol.phases if phase.is_rescue)
    return tuple((plan, found[plan.id]) for plan in plans if plan.id in found)


def label_for(
    reading: CourseReading,
    card: PracticeCard,
    batch: Batch,
    supply: Supply,
    taking: ToTake,
) -> Label:
    """What the label of a container says, with how it is taken."""
    course, names = reading.course, reading.materia_medica.names
    client = ForClient(
        course.client.name,
        letter_of(reading.places[taking.remedy]),
        taking.usual.directions if taking.usual else None,
        course.client.day,
        course.id,
        tuple(_in_a_flare(reading, plan, taking) for plan in taking.plans),
    )
    herbs = [names.get(part.herb, part.herb) for part in batch.remedy.ingredients]
    return label_of(batch, supply, client, card, herbs)


def _in_a_flare(reading: CourseReading, phase: Phase, taking: ToTake) -> Plan:
    """When a plan is begun, and its directions in order."""
    course = reading.course
    line = next(line for line in phase.lines if line.remedy == taking.remedy)

    def within(directions: Directions) -> Directions:
        return within_ceilings(course.protocol, taking.remedy, directions, course.client.day)

    steps = tuple(
        (step.after, within(step.directions)) for step in line.steps if is_reached(phase, step)
    )
    plan = Plan(within(line.directions), phase.trigger, phase.length, steps)
    return replace(plan, name=plan_name(phase.id)) if len(taking.plans) > 1 else plan


def labels_made(reading: CourseReading, card: PracticeCard, *, paper: str) -> LabelsMade:
    """The labels on the paper's usual stock, in two where one does not hold all."""
    from sennight.publish.labels.document import labels_pdf
    from sennight.publish.labels.setting import LabelTooSmallError
    from sennight.publish.labels.stocks import usual_stock

    labels = labels_due(reading, card)
    if not labels:
        return LabelsMade()
    for in_two in (False, True):
        try:
            return LabelsMade(
                labels_pdf(labels, usual_stock(paper), practice=card.name, in_two=in_two)
            )
        except LabelTooSmallError as error:
            why_not = str(error)
    return LabelsMade(why_not=why_not)
