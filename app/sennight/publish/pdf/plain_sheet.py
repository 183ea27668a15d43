"""Printed sheets of plain text for practitioners: a letter, a report, the practitioner's copy.

The same content gives the same bytes. The file's own properties name the practice alone.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from reportlab.platypus import Flowable, KeepTogether, PageBreak, Spacer

from sennight.domain.practices import PracticeCard
from sennight.publish.pdf.one_column import LetterBegins, one_column_pages
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.style import HAIRLINE, INK_COLOUR, QUIET_COLOUR, Page, page_of
from sennight.publish.pdf.tables import Columns, Ruled, rows
from sennight.publish.pdf.tags import decoration
from sennight.publish.pdf.typeface import register_faces

BLANK_HEIGHT, BLANK_LIFT = 18, 2
_LETTERHEAD_SHARES = 0.4, 0.6
Row = tuple[str, Sequence[str]]
"""A name at the side, and paragraphs beside it."""


def plain_sheet(
    title: str,
    story: Callable[[Page], list[Flowable]],
    *,
    card: PracticeCard,
    paper: str = "A4",
    about: str = "",
) -> bytes:
    """A sheet under a title; `paper` is A4 or Letter (ValueError else).

    The foot of each page has the title, and whom it is `about`, so that a loose page is known.

    Letters that the typefaces lack are printed as a visible sign.
    """
    return plain_sheet_pages(title, story, card=card, paper=paper, about=about)[0]


def plain_letters(
    title: str,
    letters: Sequence[Callable[[Page], list[Flowable]]],
    *,
    card: PracticeCard,
    paper: str = "A4",
) -> bytes:
    """Letters under the same title in one file, each with pages of its own, from page 1."""
    register_faces()
    page = page_of(paper)
    content: list[Flowable] = []
    for letter in letters:
        heading = text(title, "title")
        heading.level = 0
        content += [PageBreak()] * bool(content)
        content += [LetterBegins(), *_letterhead(page, card), heading, *letter(page)]
    return one_column_pages(page, content, title=title, author=card.name, foot=title)[0]


def plain_sheet_pages(
    title: str,
    story: Callable[[Page], list[Flowable]],
    *,
    card: PracticeCard,
    paper: str = "A4",
    about: str = "",
) -> tuple[bytes, int]:
    """The same, with the number of its pages."""
    register_faces()
    page = page_of(paper)
    heading = text(title, "title")
    heading.level = 0
    content = [*_letterhead(page, card), heading, *story(page)]
    foot = f"{about} · {title}" if about else title
    return one_column_pages(page, content, title=title, author=card.name, foot=foot)


def _letterhead(page: Page, card: PracticeCard) -> list[Flowable]:
    """Who at the left, where and how to reach them at the right."""
    who = [text(card.name, "practice")] if card.name else []
    who += [text(card.practitioner, "quiet" if who else "practice")] if card.practitioner else []
    address = ", ".join(line for line in card.address if line)
    where = [text(address, "contact")] if address else []
    where += [text(card.phone, "contact", tel(card.phone))] if card.phone else []
    where += [text(card.email, "contact", f"mailto:{card.email}")] if card.email else []
    if not who and not where:
        return []
    edges = [(f"{side}PADDING", (0, 0), (-1, -1), 0) for side in ("LEFT", "RIGHT", "TOP")]
    line = ("LINEBELOW", (0, 0), (-1, -1), 0.8, INK_COLOUR)
    head = Columns(
        [[who, where]],
        colWidths=[page.measure * share for share in _LETTERHEAD_SHARES],
        style=[("VALIGN", (0, 0), (-1, -1), "TOP"), *edges, line],
    )
    return [head, Spacer(0, 12)]


def signed(card: PracticeCard) -> list[Flowable]:
    """The end of a letter, with the name and how to reach it; lines to fill in without a card."""
    who = [card.practitioner] if card.practitioner else []
    who += [card.name] if card.name else []
    lines: list[Flowable] = [text(line) for line in who]
    lines += [text(card.phone, link=tel(card.phone))] if card.phone else []
    lines += [text(card.email, link=f"mailto:{card.email}")] if card.email else []
    by_hand: list[Flowable] = [text("Name, telephone:", "quiet"), Blank(), Blank()]
    end = [text("With kind regards,"), Spacer(0, 34), *(lines or by_hand)]
    return [Spacer(0, 12), KeepTogether(end)]


def tel(phone: str) -> str:
    """The address that a telephone number leads to (RFC 3966): figures, and a plus before."""
    figures = "".join(sign for sign in phone if sign.isdecimal())
    return f"tel:{'+' if phone.strip().startswith('+') else ''}{figures}"


def ruled(page: Page, content: Sequence[Row]) -> Ruled:
    """Rows of a name and what is said beside it; what is empty is a line to fill in."""
    return rows(
        page,
        [
            [text(name, "name"), [text(line) if line else Blank() for line in lines or ("",)]]
            for name, lines in content
        ],
    )


class Blank(Flowable):
    """A line to be filled in by hand, with room above it to write."""

    def wrap(self, availWidth: float, _availHeight: float) -> tuple[float, float]:
        """As wide as there is room."""
        self.width, self.height = availWidth, BLANK_HEIGHT
        return self.width, self.height

    def draw(self) -> None:
        """Draw the line, which says nothing to a screen reader."""
        with decoration(self.canv):
            self.canv.setStrokeColor(QUIET_COLOUR)
            self.canv.setLineWidth(HAIRLINE)
            self.canv.setDash(1, 2)
            self.canv.line(0, BLANK_LIFT, self.width, BLANK_LIFT)
