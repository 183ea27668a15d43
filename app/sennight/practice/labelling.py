"""Labels for what a course hands over next: one a container, from what the course says that day.

A container that was not prepared as a recorded batch has lines on which its number, the day it
was prepared and the day to use it by are written by hand.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise

from sennight.domain.courses.ceilings import within_ceilings
from sennight.domain.courses.possible_flares import possible_flares, repeated_flares
from sennight.domain.courses.protocols import Phase
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span
from sennight.domain.directions.directions import Directions
from sennight.domain.dispensary.batches import Batch
from sennight.domain.dispensary.label_directions import ForClient, Period, Plan
from sennight.domain.dispensary.labels import Label, Supply, label_of
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.letters import letter_of
from sennight.domain.supply.containers import PhaseSupply
from sennight.domain.supply.quantities import Quantity
from sennight.domain.take_home.flare_plans import is_reached
from sennight.domain.take_home.names import plan_name
from sennight.practice.course_reading import CourseReading
from sennight.practice.label_warnings import makes_sleepy

BY_HAND = "__________"
"""Where what is not known yet is written by hand."""

Dyed = tuple[Label, int]
"""A label, and its remedy's place in the course."""


@dataclass(frozen=True, slots=True)
class ToTake:
    """How a remedy is taken, made by a formula.

    `usual` are the stretches outside flare-ups from that day on, the first of which has a day that
    was asked for; none for what is kept for flare-ups alone. `plans` are the flare-up plans that
    run, or may come, and ask for it.
    """

    remedy: str
    formula: str
    usual: tuple[Stretch, ...]
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
    running = [
        row for row in reading.supplies if any(day in span for span in reading.spans_of(row.phase))
    ]
    until = {row.bottle: row.lasts_until for row in running}
    rows = (*running, *(row for row in kept if row.order_by is None))
    return tuple(
        dyed for row in rows for dyed in _labels(reading, row, day, until.get(row.bottle), card)
    )


def _labels(
    reading: CourseReading, row: PhaseSupply, day: date, until: date | None, card: PracticeCard
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
    label = label_for(reading, card, batch, Supply(amount, reading.today, ""), taking, until)
    label = replace(label, prepared=BY_HAND, use_by=BY_HAND)
    if size is None and not remedy.container:
        label = replace(label, quantity=f"Quantity {BY_HAND}")
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
    coming = _coming(reading.layout, remedy, day, formula)
    usual = [stretch for stretch in coming if stretch.phase not in rescue]
    first = _first(s for s in usual if phase in (*rescue, s.phase, ""))
    if first is not None:
        same = (
            s for s in usual if s.formula == first.formula and s.span.first >= first.span.first
        )
        in_order = tuple(sorted(same, key=lambda stretch: stretch.span.first))
        return ToTake(remedy, first.formula, in_order, tuple(plan for plan, _ in plans))
    if plans:
        return ToTake(remedy, plans[0][1].formula, (), tuple(plan for plan, _ in plans))
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
    until: date | None,
) -> Label:
    """What the label of a container says, with how it is taken up to the supply's last day.

    `until` is None where that is not known: then it is taken to be the phase's last day.
    """
    course, names = reading.course, reading.materia_medica.names
    client = ForClient(
        course.client.name,
        letter_of(reading.places[taking.remedy]),
        _periods(reading, taking, until),
        course.client.day,
        course.id,
        tuple(_in_a_flare(reading, plan, taking) for plan in taking.plans),
        makes_sleepy=makes_sleepy(reading, taking.remedy, batch.remedy),
    )
    herbs = [names.get(part.herb, part.herb) for part in batch.remedy.ingredients]
    return label_of(batch, supply, client, card, herbs)


def _periods(reading: CourseReading, taking: ToTake, until: date | None) -> tuple[Period, ...]:
    """The days of a supply, cut where the directions change or the remedy is left out of a phase.

    Days without it within a phase (of a cycle, of a pause) cut nothing: what is taken after them
    is what was taken before.
    """
    if not taking.usual:
        return ()
    first = taking.usual[0]
    if until is None:
        runs = reading.spans_of(first.phase)
        until = max((run.last for run in runs), default=first.span.last)
    periods = [Period(first.span, first.directions)]
    for before, stretch in pairwise(taking.usual):
        if stretch.span.first > until:
            break
        last = periods[-1]
        goes_on = before.span.end == stretch.span.first or before.phase == stretch.phase
        if goes_on and last.directions == stretch.directions:
            periods[-1] = replace(last, span=Span(last.span.first, stretch.span.end))
        else:
            periods.append(Period(stretch.span, stretch.directions))
    return tuple(periods)


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
