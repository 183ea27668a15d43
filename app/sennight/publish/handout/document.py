"""The take-home sheet, as a PDF.

The same course, card and day give the same bytes. The file's own properties name the practice
but not the client.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from reportlab.platypus import Flowable

from sennight.domain.courses.stretches import Layout
from sennight.domain.practices import PracticeCard
from sennight.publish.handout import sections as parts
from sennight.publish.handout import taking
from sennight.publish.handout.input import Handout, HerbWords
from sennight.publish.pdf.one_column import one_column_pdf
from sennight.publish.pdf.style import page_of
from sennight.publish.pdf.typeface import (
    MissingGlyph,
    MissingGlyphsError,
    missing_glyphs,
    register_faces,
)

TITLE = "Course of herbs: take-home sheet"


def handout_pdf(
    layout: Layout,
    card: PracticeCard,
    *,
    today: date,
    herbs: HerbWords,
    paper: str = "A4",
    replace_missing: bool = False,
) -> bytes:
    """The handout for a course.

    `paper` is A4 or Letter. Raises ValueError for another paper and for a course without a day,
    and MissingGlyphsError where a name has letters that the typefaces lack, unless
    `replace_missing` says to print a visible sign in their place.
    """
    if not layout.days:
        raise ValueError("the course has no day left; expected a course with a day to print")
    register_faces()
    missing = unprintable(layout, card, herbs.names)
    if missing and not replace_missing:
        raise MissingGlyphsError(missing)
    handout = Handout(layout, card, today, herbs, page_of(paper))
    client = layout.course.client.name
    return one_column_pdf(
        handout.page, _story(handout), title=TITLE, author=card.name, foot=client
    )


def unprintable(
    layout: Layout, card: PracticeCard, herb_names: Mapping[str, str]
) -> tuple[MissingGlyph, ...]:
    """The letters of this handout that the typefaces lack, with the text each is in."""
    return tuple(
        glyph for words in _words(layout, card, herb_names) for glyph in missing_glyphs(words)
    )


def _words(layout: Layout, card: PracticeCard, herb_names: Mapping[str, str]) -> Iterator[str]:
    """Whatever is printed that people have written."""
    course = layout.course
    yield course.client.name
    yield from (card.name, card.practitioner, *card.address, card.phone, card.email)
    yield from (phase.id for phase in course.protocol.phases)
    for remedy in course.remedies:
        yield remedy.name
        yield from (
            herb_names.get(ingredient.herb, ingredient.herb) for ingredient in remedy.ingredients
        )


def _story(handout: Handout) -> list[Flowable]:
    return [
        *parts.opening(handout),
        *taking.what_to_take(handout),
        *taking.flare_plan(handout),
        *taking.your_day(handout),
        *parts.how_to(handout),
        *parts.please_read(handout),
        *parts.contact(handout),
        *parts.weeks(handout),
    ]
