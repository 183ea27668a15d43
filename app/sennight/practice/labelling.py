"""Labels for what a course hands over next: one a container, from what the course says that day.

A container that was not prepared as a recorded batch has lines on which its number, the day it
was prepared and the day to use it by are written by hand.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

from sennight.domain.courses.ceilings import within_ceilings
from sennight.domain.courses.possible_flares import possible_flares
from sennight.domain.courses.protocols import Phase
from sennight.domain.courses.stretches import Stretch
from sennight.domain.directions.directions import Directions
from sennight.domain.dispensary.batches import Batch
from sennight.domain.dispensary.labels import ForClient, Label, Plan, Supply, label_of
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.letters import letter_of
from sennight.domain.supply.containers import PhaseSupply, usual_size
from sennight.domain.supply.quantities import Quantity
from sennight.domain.take_home.flare_plans import is_reached
from sennight.practice.course_reading import CourseReading

BY_HAND = "__________"
"""Where what is not known yet is written by hand."""

Dyed = tuple[Label, int]
"""A label, and its remedy's place in the course."""


@dataclass(frozen=True, slots=True)
class ToTake:
    """How a remedy is taken; `plan` is the flare-up plan where no flare has called it yet."""

    stretch: Stretch
    plan: Phase | None = None


@dataclass(frozen=True, slots=True)
class LabelsMade:
    """Labels as a PDF, empty where there is nothing to label or it does not fit, and why not."""

    pdf: bytes = b""
    why_not: str = ""


def labels_due(reading: CourseReading, card: PracticeCard) -> tuple[Dyed, ...]:
    """The labels of the phase that runs on the reading's day, the first phase before the course.

    One for each container that the phase adds; one for what is counted in applications. Flares
    under way have theirs too.
    """
    day = max(reading.today, reading.layout.days.first)
    return tuple(
        dyed
        for row in reading.supplies
        if any(day in span for span in reading.spans_of(row.phase))
        for dyed in _labels(reading, row, day, card)
    )


def _labels(
    reading: CourseReading, row: PhaseSupply, day: date, card: PracticeCard
) -> Iterator[Dyed]:
    bottle = row.bottle
    stretch = next_stretch(reading, bottle.remedy, day, formula=bottle.formula, phase=row.phase)
    if stretch is None:
        return
    remedy = reading.course.remedy(bottle.formula)
    size = usual_size(bottle)
    amount = Quantity(row.amount if size is None else size, bottle.unit)
    if size is None and remedy.container:
        amount = Quantity(remedy.container.amount, remedy.container.unit)
    # When it is made, until when it keeps, and what a rub's container holds is not known yet.
    batch = Batch("", BY_HAND, remedy, amount, reading.today, card.practitioner, reading.today)
    label = label_for(reading, card, batch, Supply(amount, reading.today, ""), ToTake(stretch))
    label = replace(label, prepared=BY_HAND, use_by=BY_HAND)
    if size is None and not remedy.container:
        label = replace(label, quantity=BY_HAND)
    for _ in range(1 if row.containers is None else row.containers):
        yield label, reading.places[bottle.remedy]


def next_stretch(
    reading: CourseReading, remedy: str, day: date, *, formula: str = "", phase: str = ""
) -> Stretch | None:
    """How a remedy is taken on a day, or next after it; of one formula and phase if said."""
    coming = [
        stretch
        for stretch in reading.layout.stretches
        if stretch.remedy == remedy
        and stretch.span.end > day
        and formula in ("", stretch.formula)
        and phase in ("", stretch.phase)
    ]
    return min(coming, key=lambda stretch: stretch.span.first, default=None)


def taken_next(reading: CourseReading, remedy: str) -> ToTake | None:
    """How a remedy is taken on the reading's day or next, else in a flare that may come."""
    stretch = next_stretch(reading, remedy, reading.today)
    if stretch is not None:
        return ToTake(stretch)
    return next(_in_plans(reading, remedy), None)


def _in_plans(reading: CourseReading, remedy: str) -> Iterator[ToTake]:
    """How it is taken by each flare-up plan that no flare has called yet, as if from today."""
    for flare in possible_flares(reading.layout):
        coming = [
            stretch
            for stretch in flare.any_day.stretches
            if (stretch.phase, stretch.remedy) == (flare.phase.id, remedy)
            and stretch.span.end > reading.today
        ]
        if coming:
            yield ToTake(min(coming, key=lambda stretch: stretch.span.first), flare.phase)


def label_for(
    reading: CourseReading,
    card: PracticeCard,
    batch: Batch,
    supply: Supply,
    taking: ToTake,
) -> Label:
    """What the label of a container says, with how it is taken."""
    course, names = reading.course, reading.materia_medica.names
    stretch = taking.stretch
    client = ForClient(
        course.client.name,
        letter_of(reading.places[stretch.remedy]),
        stretch.directions,
        course.client.day,
        course.id,
    )
    if taking.plan is not None:
        client = _in_a_flare(client, reading, taking.plan, stretch.remedy)
    herbs = [names.get(part.herb, part.herb) for part in batch.remedy.ingredients]
    return label_of(batch, supply, client, card, herbs)


def _in_a_flare(client: ForClient, reading: CourseReading, plan: Phase, remedy: str) -> ForClient:
    """The same for what is kept at home: when to begin, and the plan's directions in order."""
    course = reading.course
    line = next(line for line in plan.lines if line.remedy == remedy)
    day = course.client.day

    def within(directions: Directions) -> Directions:
        return within_ceilings(course.protocol, remedy, directions, day)

    steps = tuple(
        (step.after, within(step.directions)) for step in line.steps if is_reached(plan, step)
    )
    return replace(
        client, directions=within(line.directions), plan=Plan(plan.trigger, plan.length, steps)
    )


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
