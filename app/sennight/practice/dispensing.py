"""Handing over what was prepared, with its labels; it counts as giving, and findings stop it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime
from fractions import Fraction
from pathlib import Path

from sennight.domain.dispensary.batches import Batch, HandedOver, has_same_contents
from sennight.domain.dispensary.labels import Supply, quantity_words
from sennight.domain.papers import PaperKind
from sennight.domain.practices import PracticeCard
from sennight.domain.supply.quantities import Quantity
from sennight.practice.course_reading import CourseReading, read_course, read_entry
from sennight.practice.courses import list_courses
from sennight.practice.dispensary import batch_left
from sennight.practice.labelling import label_for, taken_next
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs
from sennight.practice.papers import finish
from sennight.practice.returned import Returned, keep_in, usually_within
from sennight.practice.standings import keep_given
from sennight.practice.supplying import lasting_in
from sennight.practice.work_folder import work_folder
from sennight.practice.writing import Staging
from sennight.store.entries import CourseEntry, NewPaper
from sennight.store.unit import UnitOfWork

__all__ = [
    "HandOverError",
    "Handing",
    "LabelChoices",
    "Wanting",
    "hand_over",
    "handed_to",
    "label_stocks",
    "last_container",
    "open_courses",
]


NO_DAY_LEFT = "the course has no day left for this remedy; expected one that goes on"


class HandOverError(ValueError):
    """What cannot be handed over; the message says why and what was expected."""


@dataclass(frozen=True, slots=True)
class Handing:
    """So many containers of a batch, each of so much, for a remedy of a course, and by whom.

    `left` is what the client still had of it, in the batch's unit; None where nobody looked.
    """

    batch: str
    course: str
    remedy: str
    containers: int
    each: Quantity
    by: str
    left: Fraction | None = None

    @property
    def amount(self) -> Quantity:
        """All of it."""
        return Quantity(self.each.amount * self.containers, self.each.unit)


@dataclass(frozen=True, slots=True)
class Wanting:
    """A remedy of a course that a batch can be handed over for.

    `plan` is the flare-up plan that it is kept at home for, empty for what has its days; `had`
    what was handed over of it before, in the batch's unit.
    """

    entry: CourseEntry
    remedy: str
    plan: str = ""
    had: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class LabelChoices:
    """How labels are printed, and where their file goes.

    `stock` is a name of `label_stocks`, `start` the first free label of the first sheet, from 1;
    `in_two` gives each container two labels.
    """

    path: Path
    stock: str
    start: int = 1
    in_two: bool = False


def label_stocks() -> tuple[str, ...]:
    """The label sheets and rolls that can be printed on, the usual one first."""
    from sennight.publish.labels.stocks import STOCKS

    return tuple(stock.name for stock in STOCKS)


def hand_over(
    practice: OpenPractice,
    handing: Handing,
    labels: LabelChoices | None = None,
    *,
    today: date,
    now: datetime,
) -> HandedOver:
    """Keep on record that a client got it, and write a label for each container.

    All or nothing: raises UnacceptedError where a finding to avoid stands that nobody accepted,
    HandOverError for a batch that is out of date or has not so much left, ReturnedError for more
    left than was ever handed over, LabelTooSmallError, ValueError for a label that the sheet does
    not have, FolderError, MissingRecordError.
    """
    herbs = known_herbs(practice)
    with Staging(work_folder(practice.path)) as staging:
        with practice.file.writing() as unit:
            entry = unit.courses.get(handing.course)
            reading = read_entry(unit, entry, today=today, materia_medica=herbs)
            reading.safety.require_accepted()
            batch = unit.dispensary.batch(handing.batch)
            _require_fit(batch, handing, batch_left(unit, batch), today)
            _require_formula(reading, batch, handing.remedy)
            handed = _handed(batch, entry.client_id, handing, today)
            _keep_left(unit, handing, today, now)
            unit.dispensary.hand_over(handed, recorded=now)
            if labels is None:
                return handed
            pdf = _labels_to_keep(unit, reading, batch, handing, labels)
            paper = NewPaper(PaperKind.LABELS.value, labels.path.name, pdf)
            number = unit.papers.add(entry.client_id, [paper], course_id=handing.course, given=now)
            keep_given(unit, reading, number)
            staging.put({labels.path: pdf})
        finish(staging, number)
    return handed


def _handed(batch: Batch, client_id: str, handing: Handing, today: date) -> HandedOver:
    return HandedOver(
        batch.id,
        client_id,
        handing.course,
        handing.remedy,
        today,
        handing.amount,
        handing.containers,
        handing.by,
    )


def _labels_to_keep(
    unit: UnitOfWork,
    reading: CourseReading,
    batch: Batch,
    handing: Handing,
    labels: LabelChoices,
) -> bytes:
    """The labels, which say how long it lasts with what is handed over now."""
    lasting = replace(reading, lasts=lasting_in(unit, reading.layout))
    return labels_pdf(lasting, unit.card.get(), batch, handing, labels)


def _keep_left(unit: UnitOfWork, handing: Handing, today: date, now: datetime) -> None:
    """What the client still had, before there is more."""
    if handing.left is None:
        return
    left = Quantity(handing.left, handing.each.unit)
    within = usually_within(left.unit)
    returned = Returned(handing.course, handing.remedy, today, left, within)
    keep_in(unit, returned, today=today, now=now)


def _require_fit(batch: Batch, handing: Handing, left: Fraction, today: date) -> None:
    if batch.use_by < today:
        raise HandOverError(
            f"batch {batch.number} was to be used by {batch.use_by}; expected one in date"
        )
    if handing.containers < 1 or handing.each.amount <= 0:
        raise HandOverError("nothing would be handed over; expected 1 container or more")
    if handing.each.unit is not batch.amount.unit or handing.amount.amount > left:
        raise HandOverError(
            f"{quantity_words(Quantity(left, batch.amount.unit))} are left of batch "
            f"{batch.number}; expected no more"
        )


def _require_formula(reading: CourseReading, batch: Batch, remedy: str) -> None:
    """Refuse a batch of another formula than the one that the course was checked with."""
    taking = taken_next(reading, remedy, reading.today)
    if taking is None:
        raise HandOverError(NO_DAY_LEFT)
    wanted = reading.course.remedy(taking.formula)
    if not has_same_contents(batch.remedy, wanted):
        raise HandOverError(
            f"batch {batch.number} was made by another formula than “{wanted.name}” in the "
            "course, which is what was checked for this client; expected a batch of the same "
            "herbs and amounts"
        )


def last_container(practice: OpenPractice, batch: Batch) -> Quantity | None:
    """What a container of this remedy held when it was handed over last; None for the first."""
    with practice.file.reading() as unit:
        same = {
            made.id
            for made in unit.dispensary.batches()
            if made.remedy.name == batch.remedy.name and made.amount.unit is batch.amount.unit
        }
        handed = unit.dispensary.handed_from(same)
    if not handed:
        return None
    last = handed[-1]
    return Quantity(last.amount.amount / last.containers, last.amount.unit)


def handed_to(practice: OpenPractice, client_id: str) -> tuple[tuple[HandedOver, Batch], ...]:
    """What a client got, each with its batch, in the order in which it was handed over."""
    with practice.file.reading() as unit:
        handed = unit.dispensary.handed_to(client_id)
        made = unit.dispensary.batches_by_id(part.batch for part in handed)
    return tuple((part, made[part.batch]) for part in handed)


def labels_pdf(
    reading: CourseReading,
    card: PracticeCard,
    batch: Batch,
    handing: Handing,
    choices: LabelChoices,
) -> bytes:
    """A label for each container, with the directions from the reading's day on.

    They go as far as what the client then has lasts, by the reading. Raises HandOverError where
    the course has the remedy no more, and as `hand_over`.
    """
    from sennight.publish.labels.document import labels_pdf as set_labels
    from sennight.publish.labels.stocks import stock_named

    taking = taken_next(reading, handing.remedy, reading.today)
    if taking is None:
        raise HandOverError(NO_DAY_LEFT)
    supply = Supply(handing.each, reading.today, handing.by)
    until = next(
        (
            row.last_day
            for row in reading.lasts
            if (row.bottle.remedy, row.bottle.formula) == (taking.remedy, taking.formula)
        ),
        None,
    )
    label = label_for(reading, card, batch, supply, taking, until)
    dyed = [(label, reading.places[handing.remedy])] * handing.containers
    return set_labels(
        dyed,
        stock_named(choices.stock),
        practice=card.name,
        start=choices.start,
        in_two=choices.in_two,
    )


def open_courses(
    practice: OpenPractice, client_id: str, batch: Batch, today: date
) -> tuple[Wanting, ...]:
    """What a batch can be handed over for: remedies of a client's courses, in their order.

    What they take next is made by the same formula; or what they would take in a flare.
    """
    with practice.file.reading() as unit:
        had = [
            (part.course, part.remedy, part.amount.amount)
            for part in unit.dispensary.handed_to(client_id)
            if part.amount.unit is batch.amount.unit
        ]

    def before(course: str, remedy: str) -> Fraction:
        parts = (amount for *key, amount in had if key == [course, remedy])
        return sum(parts, Fraction(0))

    return tuple(
        Wanting(entry, remedy.id, taking.only_plan, before(entry.id, remedy.id))
        for entry in list_courses(practice, client_id)
        for reading in (read_course(entry.course, today=today),)
        for remedy in entry.course.remedies
        if (taking := taken_next(reading, remedy.id, today))
        and has_same_contents(batch.remedy, entry.course.remedy(taking.formula))
    )
