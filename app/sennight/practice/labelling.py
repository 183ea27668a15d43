"""Labels for what a course hands over next: one a container, from what the course says that day.

A container that was not prepared as a recorded batch has a line for its number to be written by
hand.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from sennight.domain.courses.stretches import Stretch
from sennight.domain.dispensary.batches import Batch, usual_use_by
from sennight.domain.dispensary.labels import ForClient, Label, Supply, label_of
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.letters import letter_of
from sennight.domain.supply.containers import PhaseSupply, usual_size
from sennight.domain.supply.quantities import Quantity
from sennight.practice.course_reading import CourseReading

BY_HAND = "__________"
"""Where a batch's number is written by hand."""

Dyed = tuple[Label, int]
"""A label, and its remedy's place in the course."""


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
    stretch = _on_or_after(reading, row, day)
    if stretch is None:
        return
    course, place = reading.course, reading.places[row.bottle.remedy]
    remedy = course.remedy(row.bottle.formula)
    use_by = usual_use_by(remedy, reading.today, ())
    size = usual_size(row.bottle)
    amount = Quantity(row.amount if size is None else size, row.bottle.unit)
    batch = Batch("", BY_HAND, remedy, amount, reading.today, card.practitioner, use_by)
    client = ForClient(
        course.client.name, letter_of(place), stretch.directions, course.client.day, course.id
    )
    names = [reading.materia_medica.names.get(part.herb, part.herb) for part in remedy.ingredients]
    label = label_of(batch, Supply(amount, reading.today, ""), client, card, names)
    for _ in range(1 if row.containers is None else row.containers):
        yield label, place


def _on_or_after(reading: CourseReading, row: PhaseSupply, day: date) -> Stretch | None:
    """How the remedy is taken in that phase on a day, or next after it."""
    taken = [
        stretch
        for stretch in reading.layout.stretches
        if (stretch.remedy, stretch.formula, stretch.phase)
        == (row.bottle.remedy, row.bottle.formula, row.phase)
        and stretch.span.end > day
    ]
    return min(taken, key=lambda stretch: stretch.span.first, default=None)


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
