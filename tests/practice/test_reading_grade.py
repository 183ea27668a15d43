"""The client's English over all demo sheets, by two published formulas of readability.

Grade level: Kincaid, Fishburne, Rogers, Chissom, *Derivation of new readability formulas for Navy
enlisted personnel* (1975): 0.39 words/sentences + 11.8 syllables/words - 15.59.
Coleman-Liau index: Coleman, Liau, *A computer readability formula designed for machine scoring*,
J Appl Psychol 1975;60:283-284: 0.0588 L - 0.296 S - 15.8, with letters L and sentences S in 100
words. Both from memory. Names of people, remedies and herbs are left out: nobody can choose them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta

import pytest

from sennight.domain.dates import Span
from sennight.domain.take_home.document import (
    Bullets,
    Entry,
    Grid,
    Sentence,
    Steps,
    TakeHome,
)
from sennight.practice.course_outputs import NO_CARD
from sennight.practice.course_reading import read_course
from sennight.practice.demo import read_demo
from sennight.practice.given_papers import handout_pdf
from sennight.practice.take_home import take_home_document
from sennight.publish.diary.document import diary_sheet
from support.pdf_pages import page_texts

TODAY = date(2027, 3, 1)
MOST = 6.0


def sentences(document: TakeHome) -> Iterator[str]:
    """Each sentence and each item of a list, without what only names things."""
    for section in (*document.card, *document.sheet):
        for block in section.blocks:
            for told in _told(block):
                yield from re.split(r"(?<=[.!?:]) (?=[A-Z])", told)


def _told(block: object) -> Iterator[str]:
    match block:
        case Sentence(words):
            yield words
        case Bullets(items, lead):
            yield from (lead, *items)
        case Steps(rows):
            yield from (how for _, how in rows)
        case Entry(_, blocks):
            for piece in blocks:
                yield from _told(piece)
        case Grid(_, columns, _):
            yield from (note.words for column in columns for note in column.notes)


def syllables(word: str) -> int:
    """A rough count: groups of vowels, a silent e at the end left out."""
    groups = re.findall(r"[aeiouy]+", word.lower().removesuffix("e"))
    return max(1, len(groups))


def grades(said: list[str], names: set[str]) -> tuple[float, float]:
    """Kincaid grade level and Coleman-Liau index."""
    lines = [
        [word for word in re.findall(r"[A-Za-z’']+", told) if word.lower() not in names]
        for told in said
    ]
    lines = [line for line in lines if len(line) > 2]
    words = [word for line in lines for word in line]
    kincaid = (
        0.39 * len(words) / len(lines) + 11.8 * sum(map(syllables, words)) / len(words) - 15.59
    )
    letters = 100 * sum(map(len, words)) / len(words)
    return kincaid, 0.0588 * letters - 0.296 * 100 * len(lines) / len(words) - 15.8


def names_in(document: TakeHome, herbs: Iterator[str]) -> set[str]:
    """The single words of names."""
    marks = (
        block.head.name
        for section in document.sheet
        for block in section.blocks
        if isinstance(block, Entry) and not isinstance(block.head, str)
    )
    return {word.lower() for name in (*marks, *herbs) for word in re.findall(r"\w+", name)}


@pytest.mark.parametrize(
    ("said", "kincaid", "index"),
    [
        (
            "The cat sat on the mat",
            0.39 * 6 + 11.8 - 15.59,
            0.0588 * 1700 / 6 - 0.296 * 100 / 6 - 15.8,
        )
    ],
)
def test_the_formulas_on_a_sentence_counted_by_hand(
    said: str, kincaid: float, index: float
) -> None:
    """Six words of one syllable and 17 letters."""
    assert grades([said], set()) == pytest.approx((kincaid, index))


def test_twelve_weeks_of_the_joint_course_are_four_pages_and_three_of_diary() -> None:
    """On its first day, with one thing rated each week; of two, three weeks go on a page."""
    file = next(c.file for c in read_demo(TODAY).clients if c.file.course.protocol.phase("rescue"))
    course = file.course
    assert len(course.protocol.sequence[0].lines) == 4
    read = read_course(course, today=course.start)
    assert len(page_texts(handout_pdf(read, NO_CARD))) <= 4
    days = Span(course.start, course.start + timedelta(weeks=12))
    pain = diary_sheet(read.layout, NO_CARD, days).pdf
    both = diary_sheet(read.layout, NO_CARD, days, recorded=("stiffness",)).pdf
    assert (len(page_texts(pain)), len(page_texts(both))) == (3, 4)


def test_when_to_get_help_stands_on_page_one_of_each_demo_sheet() -> None:
    demo = read_demo(TODAY)
    for client in demo.clients:
        read = read_course(client.file.course, today=TODAY)
        first = page_texts(handout_pdf(read, demo.card))[0]
        assert "Get help at once" in first, client.file.course.protocol.name
        assert f"Call us: {demo.card.phone}" in first


def test_each_demo_sheet_can_be_read_at_grade_six() -> None:
    demo = read_demo(TODAY)
    for client in demo.clients:
        read = read_course(client.file.course, today=TODAY)
        document = take_home_document(read, demo.card)
        herbs = (
            read.materia_medica.names.get(ingredient.herb, ingredient.herb)
            for remedy in read.course.remedies
            for ingredient in remedy.ingredients
        )
        kincaid, index = grades(list(sentences(document)), names_in(document, herbs))
        assert max(kincaid, index) <= MOST, client.file.course.protocol.name
