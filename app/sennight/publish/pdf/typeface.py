"""The typefaces that everything printed is set in, and which letters they have."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from sennight.domain.directions.plain_words import MONTH_NAMES
from sennight.places import own_folder

TEXT = "SennightText"
ITALIC = "SennightText-Italic"
SEMIBOLD = "SennightText-Semibold"
BOLD = "SennightText-Bold"
HEADING = "SennightHeading"
HEBREW = "SennightText-Hebrew"
ARABIC = "SennightText-Arabic"
"""Faces that have one script alone, whatever the style of the text around it."""
SCRIPTS = {
    HEBREW: "\u0590-\u05ff\ufb1d-\ufb4f",
    ARABIC: "\u0600-\u065f\u066a-\u06ef\u06fa-\u06ff\u0750-\u077f\ufb50-\ufdff\ufe70-\ufefc",
}
"""The letters of these scripts, without figures, which run the other way."""
PRIVATE = range(0xE000, 0xF900)
"""Letters of private use, which stand for glyphs without a letter."""

_FILES = {
    TEXT: "SourceSans3-Regular.ttf",
    ITALIC: "SourceSans3-It.ttf",
    SEMIBOLD: "SourceSans3-Semibold.ttf",
    BOLD: "SourceSans3-Bold.ttf",
    HEADING: "heading/GentiumBookPlus-Regular.ttf",
}
_ONE_SCRIPT = {
    HEBREW: "right-to-left/NotoSansHebrew-Regular.ttf",
    ARABIC: "right-to-left/NotoSansArabic-Regular.ttf",
}

NO_BREAK = "\u00a0"
"""The space that no line ends at."""
REPLACEMENT = "[?]"
"""What stands for a letter that cannot be printed, where the caller decides to print anyway."""

_UNITS = (
    "mL|g|mg|cups?|drops?|capsules?|tablets?|pieces?"
    "|scoops?|applications?|level|teaspoons?|tablespoons?|(?:extra )?doses?"
    "|minutes?|hours?|days?|weeks?|months?|times?|parts?"
)
_HELD_TOGETHER = re.compile(
    rf"(?<=[\d½¼¾⅓⅔]) (?=(?:{_UNITS}|{'|'.join(MONTH_NAMES)}|%)(?!\w))|(?<= level) (?=tea|table)"
)


@dataclass(frozen=True, slots=True)
class MissingGlyph:
    """A letter that the typefaces lack: its Unicode name, and the text that it is in."""

    letter: str
    name: str
    text: str

    def __str__(self) -> str:
        return f"{self.name} (U+{ord(self.letter):04X}) in “{self.text}”"


class MissingGlyphsError(ValueError):
    """Text that cannot be printed as it stands; `missing` lists every letter at fault."""

    def __init__(self, missing: Iterable[MissingGlyph]) -> None:
        self.missing = tuple(missing)
        glyphs = "; ".join(str(glyph) for glyph in self.missing)
        super().__init__(
            f"the font has no letter for {glyphs}. Expected Latin, Greek, Cyrillic, Hebrew "
            f"or Arabic: write the text in one of these, or print it with {REPLACEMENT} in "
            "their place"
        )


def register_faces() -> None:
    """Make the faces known to the PDF writer; further calls cost nothing."""
    rl_config.useA85 = 0  # streams as they are: a fifth smaller than in ASCII, and faster
    known = set(pdfmetrics.getRegisteredFontNames())
    for name, file in (_FILES | _ONE_SCRIPT).items():
        if name not in known:
            pdfmetrics.registerFont(TTFont(name, str(_folder() / file)))


def _folder() -> Path:
    return own_folder("resources") / "fonts"


@cache
def _letters() -> frozenset[int]:
    """The code points that all faces have, and those of scripts with a face of their own."""
    register_faces()
    common = frozenset.intersection(*(_codes(name) for name in _FILES))
    return common.union(*(_of_script(name) for name in _ONE_SCRIPT)) - frozenset(PRIVATE)


def _of_script(name: str) -> Iterator[int]:
    letters = re.compile(f"[{SCRIPTS[name]}]")
    return (code for code in _codes(name) if letters.match(chr(code)))


def _codes(name: str) -> frozenset[int]:
    font = pdfmetrics.getFont(name)
    return frozenset(font.face.charToGlyph) if isinstance(font, TTFont) else frozenset()


def missing_glyphs(text: str) -> tuple[MissingGlyph, ...]:
    """The letters of a text that cannot be printed, each once, in order.

    Text is composed first (NFC), so that an accent typed apart finds its letter.
    """
    composed = unicodedata.normalize("NFC", text)
    lacking = dict.fromkeys(c for c in composed if not _printable(c))
    return tuple(MissingGlyph(c, _name(c), text) for c in lacking)


def _printable(letter: str) -> bool:
    return letter in "\n\t" or ord(letter) in _letters()


def _name(letter: str) -> str:
    return unicodedata.name(letter, "letter without a name")


def with_replacements(text: str) -> str:
    """The text composed, with REPLACEMENT for each letter that cannot be printed."""
    composed = unicodedata.normalize("NFC", text)
    return "".join(c if _printable(c) else REPLACEMENT for c in composed)


def bound(text: str) -> str:
    """The text with no line break between a number and its unit or month."""
    return _HELD_TOGETHER.sub(NO_BREAK, text)
