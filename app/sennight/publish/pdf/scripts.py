"""Text in scripts of its own: Hebrew and Arabic in faces that have them, shaped, from the right.

Everything else that is printed runs from left to right, so a name in such a script is one run
within it: HarfBuzz shapes the run, and gives its glyphs from left to right as they are seen
(Unicode Standard Annex 9, of which one level is enough here). What a screen reader is to say is
kept beside it. The two faces have no shaping tables of their own, so that HarfBuzz joins Arabic by
the presentation forms of Unicode, which need no places worked out; vowel marks stand where the
face puts them by itself.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from html import escape
from pathlib import Path
from typing import Any

import uharfbuzz  # type: ignore[import-untyped]
from reportlab.pdfbase.pdfmetrics import getFont, stringWidth
from reportlab.pdfgen.canvas import Canvas

from sennight.publish.pdf.typeface import (
    PRIVATE,
    SCRIPTS,
    TEXT,
    bound,
    register_faces,
    with_replacements,
)

LONGEST = 60
"""Letters of a run that stay on one line: longer ones are set as several, one after the other."""
SMALLEST = 9.0
"""Points: a line that is too long at this size loses its last words."""
_RUN = re.compile(
    "|".join(
        f"(?P<{face.rpartition('-')[2]}>[{letters}](?:[{letters} \u00a0'’־.-]*[{letters}])?)"
        for face, letters in SCRIPTS.items()
    )
)
_FACES = {face.rpartition("-")[2]: face for face in SCRIPTS}


@dataclass(frozen=True, slots=True)
class Piece:
    """Text in one face, in the order in which it is seen; `spoken` in that of reading."""

    seen: str
    spoken: str
    face: str
    """Empty for the face of whatever is around it."""


def pieces_of(words: str) -> Iterator[Piece]:
    """The pieces of a text, letters that cannot be printed replaced by a sign."""
    words, at = bound(with_replacements(words)), 0
    for run in _RUN.finditer(words):
        if run.start() > at:
            yield Piece(words[at : run.start()], words[at : run.start()], "")
        face = _FACES[run.lastgroup or ""]
        for number, part in enumerate(_parts(run.group())):
            if number:
                yield Piece(" ", " ", "")
            yield Piece(shaped(part, face), part, face)
        at = run.end()
    if at < len(words):
        yield Piece(words[at:], words[at:], "")


def _parts(run: str) -> Iterator[str]:
    """A run in parts that fit on a line, cut between words."""
    part = ""
    for word in run.split():
        if part and len(part) + len(word) >= LONGEST:
            yield part
            part = ""
        part = f"{part}\u00a0{word}" if part else word
    yield part


@cache
def shaped(run: str, face: str) -> str:
    """The glyphs of a run as they are seen from left to right, each as a letter of the face.

    A glyph that no letter stands for gets one of private use.
    """
    register_faces()
    font: Any = getFont(face)
    shaping = _shaping(face)
    buffer = uharfbuzz.Buffer()
    buffer.add_str(run)
    buffer.guess_segment_properties()
    uharfbuzz.shape(shaping, buffer)
    glyphs = [info.codepoint for info in buffer.glyph_infos]
    seen = "".join(_letter(font, glyph) for glyph in glyphs)
    _SPOKEN[face, seen] = run
    return seen


@cache
def _shaping(face: str) -> Any:  # noqa: ANN401 - the library's
    """The face as HarfBuzz reads it."""
    font: Any = getFont(face)
    return uharfbuzz.Font(uharfbuzz.Face(Path(font.face.filename).read_bytes()))


def _letter(font: Any, glyph: int) -> str:  # noqa: ANN401 - the library's
    letters = [code for code in font.face.glyphToChar.get(glyph, ()) if code not in PRIVATE]
    if letters:
        return chr(letters[0])
    code = PRIVATE.start + glyph
    if code not in font.face.charToGlyph:
        shaping = _shaping(font.fontName)
        advance = shaping.get_glyph_h_advance(glyph) * 1000 / shaping.face.upem
        font.face.charToGlyph[code] = glyph
        font.face.charWidths[code] = advance
    return chr(code)


_SPOKEN: dict[tuple[str, str], str] = {}


def spoken(seen: str, face: str) -> str:
    """What is read aloud for a text that is set in a face."""
    return _SPOKEN.get((face, seen), seen)


def markup(words: str) -> str:
    """Plain words as markup for a paragraph: amounts and dates not torn apart, runs shaped."""
    return "".join(_marked(piece) for piece in pieces_of(words))


def _marked(piece: Piece) -> str:
    words = escape(piece.seen, quote=False)
    return f'<font name="{piece.face}">{words}</font>' if piece.face else words


def draw_line(
    canvas: Canvas, words: str, at: tuple[float, float], *, room: float, size: float
) -> None:
    """Draw words in one line from its left end; smaller, then without its last words, to fit."""
    shown, size = _fitting(words, room, size)
    x, y = at
    for piece in pieces_of(shown):
        face = piece.face or TEXT
        canvas.setFont(face, size)
        canvas.drawString(x, y, piece.seen)
        x += stringWidth(piece.seen, face, size)


def _fitting(words: str, room: float, size: float) -> tuple[str, float]:
    wide = line_width(words, size)
    if wide <= room:
        return words, size
    if wide * SMALLEST / size <= room:
        return words, size * room / wide
    kept = words.split()
    while len(kept) > 1 and line_width(f"{' '.join(kept)} …", SMALLEST) > room:
        kept.pop()
    shown = f"{' '.join(kept)} …"
    return shown, min(SMALLEST, SMALLEST * room / line_width(shown, SMALLEST))


def line_width(words: str, size: float) -> float:
    """How wide words of running text are in one line, in points."""
    return sum(stringWidth(piece.seen, piece.face or TEXT, size) for piece in pieces_of(words))
