"""Setting a label: its text at the largest size that fits, down to a floor, and no smaller.

Letters are at least 1.5 mm high (Queensland Health (Drugs and Poisons) Regulation 1996, s 85): the
typeface's capitals are 0.66 of its size, so that 6.5 points is the floor.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from re import sub

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import Paragraph

from sennight.domain.dispensary.labels import Label
from sennight.publish.pdf.scripts import markup
from sennight.publish.pdf.style import INK_COLOUR
from sennight.publish.pdf.typeface import BOLD, SEMIBOLD, TEXT

LARGEST, FLOOR, STEP = 10.5, 6.5, 0.25
LEADING = 1.18
RED = HexColor("#B3261E")
"""Warnings are red on white where the printer can (Western Australia, labels on medicines)."""
CODE_SIDE = 13 * mm
CODE_FROM = 60 * mm
"""How wide a label is from which on it has room for a code."""


class LabelTooSmallError(ValueError):
    """A label whose text does not fit in letters that can be read; the message says what to do."""


@dataclass(frozen=True, slots=True)
class Block:
    """A paragraph of a label: its words, typeface, colour and size against the usual one."""

    words: str
    face: str = TEXT
    colour: Color = INK_COLOUR
    scale: float = 1
    may_be_left_out: bool = False


def front_blocks(label: Label, dye: Color) -> tuple[Block, ...]:
    """What must be read before each dose: who, what, how, and the warnings.

    `dye` is the colour of the remedy in its course, which its letter stands in too.
    """
    directions = (label.directions, *label.later, *label.in_flares)
    making = (Block(f"{label.making}.", may_be_left_out=True),) if label.making else ()
    return (
        Block(f"{label.letter} {label.remedy}", BOLD, dye, scale=1.2),
        Block(label.client, SEMIBOLD, scale=1.1),
        *(Block(f"{words}.", SEMIBOLD) for words in directions),
        *making,
        *(Block(words, BOLD, RED) for words in label.warnings),
        Block(f"Use by {label.use_by}. Batch {label.batch}. {label.quantity}.", SEMIBOLD),
    )


def back_blocks(label: Label) -> tuple[Block, ...]:
    """What is in it, how to keep it, and who made it."""
    made = f"Prepared {label.prepared}. Supplied {label.supplied}."
    inside = f"{label.contents}. {label.strength}." if label.strength else f"{label.contents}."
    keeping = " ".join((label.keeping, *(f"{line.rstrip('.')}." for line in label.own), made))
    return tuple(
        Block(words) for words in (inside, keeping, _unbroken(", ".join(label.practice))) if words
    )


def pair_block(label: Label, dye: Color) -> Block:
    """What a second label begins with, so that it goes onto the bottle of the first."""
    words = f"{label.letter} {label.remedy}, {label.client}, batch {label.batch}"
    return Block(words, SEMIBOLD, dye)


def _unbroken(words: str) -> str:
    """Figures that belong together, as of a telephone number, are kept on one line."""
    return sub(r"(?<=\d) (?=\d)", "\u00a0", words)


def _paragraphs(blocks: Sequence[Block], size: float) -> Iterator[Paragraph]:
    for block in blocks:
        points = max(size * block.scale, FLOOR)
        style = ParagraphStyle(
            "label",
            fontName=block.face,
            fontSize=points,
            leading=points * LEADING,
            textColor=block.colour,
            splitLongWords=0,
            spaceShrinkage=0,
        )
        words = markup(block.words)
        yield Paragraph(words, style)


def _height(paragraphs: Sequence[Paragraph], width: float) -> float | None:
    """How high they are at a width; None where a word is wider."""
    if any(paragraph.minWidth() > width for paragraph in paragraphs):
        return None
    return sum(float(paragraph.wrap(width, 10_000)[1]) for paragraph in paragraphs)


def fitted(blocks: Sequence[Block], width: float, height: float) -> list[Paragraph]:
    """The blocks as paragraphs, at the largest size at which they fit; points.

    What fits at a size fits at every smaller one, since smaller words never need more lines: so
    the sizes are halved, not tried in turn. Raises LabelTooSmallError where they do not fit at
    the floor.
    """
    paragraphs = _if_fitting(blocks, FLOOR, width, height)
    if paragraphs is None:
        raise LabelTooSmallError(
            f"the label of “{blocks[0].words}” does not fit in {width / mm:.0f} × "
            f"{height / mm:.0f} mm in letters that can be read (1.5 mm); expected a larger label, "
            "two labels a bottle, or shorter lines of your own"
        )
    fits, too_large = 0, round((LARGEST - FLOOR) / STEP) + 1
    while too_large - fits > 1:
        middle = (fits + too_large) // 2
        larger = _if_fitting(blocks, FLOOR + middle * STEP, width, height)
        if larger is None:
            too_large = middle
        else:
            fits, paragraphs = middle, larger
    return paragraphs


def _if_fitting(
    blocks: Sequence[Block], size: float, width: float, height: float
) -> list[Paragraph] | None:
    paragraphs = list(_paragraphs(blocks, size))
    needed = _height(paragraphs, width)
    return paragraphs if needed is not None and needed <= height else None
