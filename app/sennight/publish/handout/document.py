"""The take-home papers as a PDF, set from the neutral document.

The same document gives the same bytes. The file's own properties name the practice but not the
client.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass

from sennight.domain.take_home.choices import FOLDED, USUAL, SheetChoices
from sennight.domain.take_home.document import TakeHome
from sennight.publish.handout.paper import paper_of
from sennight.publish.handout.setting import story_of
from sennight.publish.pdf.booklet import folded
from sennight.publish.pdf.one_column import one_column_pdf
from sennight.publish.pdf.typeface import (
    MissingGlyph,
    MissingGlyphsError,
    missing_glyphs,
    register_faces,
)

TITLE = "Herbal remedies: take-home sheet"


def handout_pdf(
    document: TakeHome,
    choices: SheetChoices = USUAL,
    *,
    replace_missing: bool = False,
) -> bytes:
    """The card and the sheet.

    Of the choices paper and letters count; the rest is in the document already. Raises
    ValueError for a paper that we have not, CannotBeSetError, and MissingGlyphsError where a
    name has letters that the typefaces lack, unless `replace_missing` says to print a visible
    sign in their place.
    """
    register_faces()
    sheet = paper_of(choices.page_size, choices.letters)
    missing = unprintable(document)
    if missing and not replace_missing:
        raise MissingGlyphsError(missing)
    pages = one_column_pdf(
        sheet.page,
        story_of(sheet, document),
        title=TITLE,
        author=document.letterhead.practice,
        foot=document.client,
    )
    return folded(pages) if choices.paper == FOLDED else pages


def unprintable(document: TakeHome) -> tuple[MissingGlyph, ...]:
    """The letters that the typefaces lack, each once, with the first text that it is in."""
    found: dict[str, MissingGlyph] = {}
    for words in _words(document):
        for glyph in missing_glyphs(words):
            found.setdefault(glyph.letter, glyph)
    return tuple(found.values())


def _words(part: object) -> Iterator[str]:
    """Whatever a document says, in its order; of a document the client's name first."""
    if isinstance(part, TakeHome):
        yield part.client
    if isinstance(part, str):
        yield part
    elif isinstance(part, tuple):
        for inner in part:
            yield from _words(inner)
    elif is_dataclass(part):
        for field in fields(part):
            yield from _words(getattr(part, field.name))
