"""The story of a client, put together from all that the practice file holds of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date, datetime
from itertools import groupby

from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.stretches import lay_out
from sennight.domain.directions.plain_words import counted, listed
from sennight.domain.dispensary.batches import Batch, HandedOver
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.follow_up.story import (
    StoryItem,
    StoryKind,
    consultation_item,
    course_items,
    diary_item,
    in_order,
    note_items,
    reaction_items,
    score_items,
)
from sennight.domain.papers import NameParts
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs
from sennight.practice.papers import paper_words
from sennight.store.entries import Attachment, ConsultationEntry, CourseEntry, GivenPaper
from sennight.store.unit import UnitOfWork

__all__ = ["StoryItem", "StoryKind", "client_story", "size_words", "story_paper"]


def story_paper(
    practice: OpenPractice, client_id: str, *, today: date, paper: str = "A4"
) -> tuple[str, bytes]:
    """The whole story as a PDF for the practice's own record, and a name for its file.

    The name has the client's initials alone.
    """
    from sennight.publish.pdf.story_sheet import story_pdf

    items = client_story(practice, client_id, today=today)
    with practice.file.reading() as unit:
        client, card = unit.clients.get(client_id).client, unit.card.get()
    parts = (NameParts(client.name).stem, "record", today.isoformat())
    name = "-".join(part for part in parts if part) + ".pdf"
    return name, story_pdf(items, client, card, today=today, paper=paper)


def client_story(practice: OpenPractice, client_id: str, *, today: date) -> tuple[StoryItem, ...]:
    """All that happened with a client up to `today`, the newest first.

    Courses that cannot be read are left out. Raises MissingRecordError.
    """
    names = known_herbs(practice).names
    with practice.file.reading() as unit:
        client = unit.clients.get(client_id).client
        entries, _ = unit.courses.with_damaged(client_id)
        items = [
            *_consultations(unit.consultations.of_client(client_id)),
            *reaction_items(client.reactions, names),
            *_given(unit.papers.of_client(client_id)),
            *_dispensed(unit, client_id),
        ]
        for entry in entries:
            items += _of_course(unit, entry, today)
    return in_order(items)


def _consultations(entries: Iterable[ConsultationEntry]) -> Iterator[StoryItem]:
    for entry in entries:
        item = consultation_item(entry.consultation, entry.id, void=entry.void)
        yield item if entry.is_whole else replace(item, about=_told_damaged(item.about))
        for file in entry.attachments:
            yield _file(entry.consultation.day, file)


def _told_damaged(about: str) -> str:
    """What is said of one whose words are not those that were kept."""
    return f"{about}, damaged" if about else "damaged"


def _file(day: date, file: Attachment) -> StoryItem:
    return StoryItem(
        day, StoryKind.FILE, file.name, size_words(file.size), record=file.id, void=file.void
    )


def size_words(size: int) -> str:
    """A file's size: `820 KB`, `3.4 MB`."""
    return f"{size / 1e6:.1f} MB" if size >= 1_000_000 else f"{max(1, round(size / 1000))} KB"


def _given(papers: Iterable[GivenPaper]) -> Iterator[StoryItem]:
    """One item a giving; the number is that of its first paper."""
    for number, together in groupby(papers, key=lambda paper: paper.number):
        given = tuple(together)
        title = listed(tuple(dict.fromkeys(map(paper_words, given))))
        yield StoryItem(
            _day(given[0].when),
            StoryKind.GIVEN,
            f"{title[:1]}{title[1:].lower()} given",
            f"no. {number}",
            course=given[0].course_id or "",
            record=given[0].id,
        )


def _day(when: datetime) -> date:
    """The day that it was here."""
    return when.astimezone().date()


def _dispensed(unit: UnitOfWork, client_id: str) -> Iterator[StoryItem]:
    handed = unit.dispensary.handed_to(client_id)
    batches = unit.dispensary.batches_by_id(part.batch for part in handed)
    for number, part in enumerate(handed, 1):
        yield _handed_item(part, number, batches)


def _handed_item(handed: HandedOver, number: int, batches: Mapping[str, Batch]) -> StoryItem:
    """The number counts what the client was handed over, from the first on."""
    remedy = batches[handed.batch].remedy.name
    many = f" in {counted(handed.containers, 'container')}" if handed.containers > 1 else ""
    return StoryItem(
        handed.day,
        StoryKind.DISPENSED,
        f"Dispensed: {remedy}",
        f"{quantity_words(handed.amount)}{many}",
        course=handed.course,
        record=number,
    )


def _of_course(unit: UnitOfWork, entry: CourseEntry, today: date) -> Iterator[StoryItem]:
    try:
        yield from course_items(entry.id, lay_out(entry.course), today)
    except LayoutError:  # its page says what is wrong
        return
    diaries = unit.diaries
    yield from score_items(entry.id, diaries.scores(entry.id), diaries.measures(entry.id))
    yield from note_items(entry.id, unit.day_notes.of_course(entry.id))
    for entered, span in diaries.savings(entry.id):
        yield diary_item(entry.id, _day(entered), span)
