"""The neutral document as flowables: the card on the first page, then the sheet."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain
from typing import assert_never

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, PageBreak, Spacer

from sennight.domain.tag_words import lower_first
from sennight.domain.take_home.document import (
    Block,
    Bullets,
    Entry,
    Grid,
    Letterhead,
    Mark,
    Part,
    Section,
    Sentence,
    Steps,
    TakeHome,
    Tone,
)
from sennight.publish.handout.day_grid import EDGES, day_grid, ruled, steps_table
from sennight.publish.handout.marks import indent_of, marked
from sennight.publish.handout.paper import LEAST, Paper
from sennight.publish.pdf.paragraphs import Text
from sennight.publish.pdf.style import ACCENT, INK_COLOUR
from sennight.publish.pdf.tables import Columns, Ruled

_URGENT_SHARE = 0.58
"""The share of the width for what asks for help at once."""
_HALF = 0.5
"""The share of a page that a day which is longer than one begins on."""
_BEGINNING = 4
"""So many lines are the beginning of what a heading is for."""
_LABEL_SHARE = 0.24
"""The share of the width for the labels of what comes next."""
_WHO_SHARE = 0.64
"""The share of a wide page for the practice and where it is; beside it who gives the sheet."""
_SNUG = 0.93
"""How much smaller a card may be so that it is one page: 13 points in standard print."""
_CLOSE = 0.92
"""The size of what asks for help, of the body's, so that it stands on the first page."""
_RUNNING = ("body", "item")
"""The styles of running text: what is set in another leads to it."""
_STYLES = {Tone.PLAIN: "body", Tone.STRONG: "strong", Tone.QUIET: "quiet"}


class Together(KeepTogether):
    """Parts that stay together, and can be measured before they are on a page."""

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:
        """The size of all."""
        if hasattr(self, "canv"):
            width, height = super().wrap(aW, aH)
            return float(width), float(height)
        return aW, sum(part.wrap(aW, aH)[1] for part in self._content)  # type: ignore[attr-defined]


class Gap(Spacer):
    """Space between two parts; none at the top of a page."""

    def __init__(self, height: float) -> None:
        super().__init__(0, height)
        self.whole = height

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:
        """Its size where it would stand."""
        frame = getattr(self, "_frame", None)
        self.height = 0.0 if frame is not None and frame._atTop else self.whole  # noqa: SLF001 - the library says it nowhere else
        return super().wrap(aW, aH)


def story_of(paper: Paper, document: TakeHome) -> list[Flowable]:
    """The card, a new page, the sheet."""
    sheet = [flowable for section in document.sheet for flowable in _section(paper, section)]
    return [*card(paper, document), *([PageBreak(), *sheet] if sheet else [])]


def card(paper: Paper, document: TakeHome) -> list[Flowable]:
    """The card, a little smaller where only so it fits on the first page.

    Where it does not fit at all, when to get help comes first, then what comes next, which may
    stand beneath the day; the day is on a page of its own.
    """
    page = paper.page.text_height
    for size in (paper, Paper(paper.page, paper.body * _SNUG)):
        parts = [_section(size, section) for section in document.card]
        whole = [*_opening(size, document), *chain.from_iterable(parts)]
        if _height(size, whole) <= page:
            return whole
    first = [*_opening(paper, document), *_parts(paper, document, Part.HELP)]
    dates = _parts(paper, document, Part.DATES)
    day = _parts(paper, document, Part.NOW)
    if _height(paper, [*first, *dates]) > page >= _height(paper, [*day, *dates]):
        day += dates
    else:
        first += dates
    height = _height(paper, day)
    return [*first, CondPageBreak(height if height < page else page * _HALF), *day]


def _parts(paper: Paper, document: TakeHome, *wanted: Part) -> list[Flowable]:
    """These parts of the card, in its order."""
    sections = [section for section in document.card if section.part in wanted]
    return [flowable for section in sections for flowable in _section(paper, section)]


def _height(paper: Paper, flowables: Sequence[Flowable]) -> float:
    width, height = paper.page.measure, paper.page.text_height
    return sum(flowable.wrap(width, height)[1] for flowable in flowables)


def _opening(paper: Paper, document: TakeHome) -> list[Flowable]:
    """The letterhead, the client's name, the days, and when it was made."""
    head = document.letterhead
    letterhead = [_letterhead(paper, head), Spacer(0, paper.body * 0.6)]
    return [
        *(letterhead if any((head.practice, head.practitioner, head.address, head.email)) else []),
        paper.title(document.client),
        paper.text(f"{document.title}, {lower_first(document.days)}", "strong"),
        paper.text(document.made, "quiet"),
    ]


def _letterhead(paper: Paper, head: Letterhead) -> Flowable:
    who = [paper.text(head.practice, "practice")] if head.practice else []
    where = [paper.text(head.address, "quiet")] if head.address else []
    by = [paper.text(head.practitioner, "reach")] if head.practitioner else []
    mail = [paper.text(head.email, "reach", link=f"mailto:{head.email}")] if head.email else []
    width = paper.page.measure
    share = _WHO_SHARE if paper.is_wide else 0.5
    return Columns(
        [[[*who, *where] or "", [*by, *mail] or ""]],
        colWidths=[width * share, width * (1 - share)],
        style=[
            *EDGES,
            ("VALIGN", (0, 0), (-1, -1), "BOTTOM"),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
            ("LINEBELOW", (0, 0), (-1, -1), 0.8, INK_COLOUR),
        ],
        hAlign="LEFT",
    )


def _section(paper: Paper, section: Section) -> list[Flowable]:
    head: list[Flowable] = [
        Gap(paper.body * 0.7),
        paper.text(section.title, "section"),
        Spacer(0, 2),
    ]
    if section.part is Part.HELP:
        return [Spacer(0, paper.body * 0.7), *_help(paper, section)]
    if section.part is Part.DATES:
        return [Spacer(0, paper.body * 0.5), *_labelled(paper, section)]
    body = [flowable for block in section.blocks for flowable in _block(paper, block)]
    if body and isinstance(body[0], CondPageBreak):
        body = body[1:]
    whole = [*head, *body]
    return [_room_for(paper, whole), *whole]


def _room_for(paper: Paper, flowables: Sequence[Flowable]) -> CondPageBreak:
    """A further page where a heading would stand without the beginning of what it is for."""
    measure, most = paper.page.measure, paper.page.text_height
    need = 0.0
    for flowable in flowables:
        if not isinstance(flowable, CondPageBreak):
            if isinstance(flowable, Ruled):
                need += flowable.needs(paper.page)
            else:
                need += flowable.wrap(measure, most)[1]
        if need >= paper.leading * _BEGINNING and not _leads_on(flowable):
            break
    return CondPageBreak(min(need, most - 1))


def _leads_on(flowable: Flowable) -> bool:
    """Whether it is a heading of what follows, or the space after one."""
    if isinstance(flowable, Text):
        return flowable.style.name not in _RUNNING
    return not isinstance(flowable, Ruled)


def _block(paper: Paper, block: Block) -> list[Flowable]:
    match block:
        case Sentence():
            return [paper.text(block.words, _STYLES[block.tone], link=block.link)]
        case Grid():
            grid = day_grid(paper, block)
            return [_room_for(paper, grid), *grid, Spacer(0, 8)]
        case Entry():
            return _entry(paper, block)
        case Bullets() | Steps():
            return _piece(paper, block, 0)
        case _:
            assert_never(block)


def _entry(paper: Paper, entry: Entry) -> list[Flowable]:
    indent = indent_of(paper) if isinstance(entry.head, Mark) else 0
    pieces = [f for piece in entry.blocks for f in _piece(paper, piece, indent)]
    whole = [_head(paper, entry.head), *pieces]
    return [_room_for(paper, whole), *_with_small_print(whole), Spacer(0, paper.body * 0.35)]


def _with_small_print(pieces: list[Flowable]) -> list[Flowable]:
    """The pieces, small print at the end kept with the words before it."""
    last = pieces[-1]
    if len(pieces) > 1 and isinstance(last, Text) and last.style.name == "quiet":
        return [*pieces[:-2], Together(pieces[-2:])]
    return pieces


def _head(paper: Paper, head: Mark | str) -> Flowable:
    return (
        marked(paper, head, head.name, "name")
        if isinstance(head, Mark)
        else paper.text(head, "name")
    )


def _piece(paper: Paper, piece: Sentence | Bullets | Steps, indent: float) -> list[Flowable]:
    match piece:
        case Sentence():
            return [paper.text(piece.words, _STYLES[piece.tone], indent=indent, link=piece.link)]
        case Bullets():
            lead = [paper.text(piece.lead, indent=indent)] if piece.lead else []
            return [*lead, *paper.items(piece.items, indent=indent)]
        case Steps():
            return steps_table(paper, piece.rows, indent)
        case _:
            assert_never(piece)


def _labelled(paper: Paper, section: Section) -> list[Flowable]:
    """What comes next: each entry's head at the side, its sentences beside it."""
    rows: list[list[list[Flowable]]] = []
    for block in section.blocks:
        if isinstance(block, Entry) and isinstance(block.head, str):
            said = [f for piece in block.blocks for f in _piece(paper, piece, 0)]
            rows.append([[paper.text(block.head, "head")], said])
    if not paper.is_wide:
        between = paper.body * 0.35
        return [Together([Spacer(0, between), *head, *said]) for head, said in rows]
    return [ruled(paper, rows, 0, paper.page.measure * _LABEL_SHARE)]


def _help(paper: Paper, section: Section) -> list[Flowable]:
    """When to call for help and when to see a doctor, side by side under a bold rule."""
    columns, contact = [], []
    close = Paper(paper.page, max(LEAST, paper.body * _CLOSE))
    for block in section.blocks:
        if isinstance(block, Entry) and isinstance(block.head, str):
            pieces = [f for piece in block.blocks for f in _piece(close, piece, 0)]
            columns.append([paper.text(block.head, "urgent"), *pieces])
        else:
            contact += _block(paper, block)
    width = paper.page.measure
    share = [width * _URGENT_SHARE, width * (1 - _URGENT_SHARE)] if paper.is_wide else [width]
    table = Columns(
        [columns] if paper.is_wide else [[column] for column in columns],
        colWidths=share,
        style=[
            *EDGES,
            ("RIGHTPADDING", (0, 0), (-2, -1), 12),
            ("TOPPADDING", (0, 0), (-1, -1), 3),
            ("LINEABOVE", (0, 0), (-1, 0), 2, ACCENT),
        ],
        hAlign="LEFT",
    )
    table.whole_page = paper.page.text_height
    return [table, Spacer(0, 4), *contact]
