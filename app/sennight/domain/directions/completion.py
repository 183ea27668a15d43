"""The words that can come next in the short form of directions.

The parser itself decides: a word fits where some ending makes the whole text parse.
"""

from __future__ import annotations

from sennight.domain.dates import WEEKDAYS
from sennight.domain.day import Moment
from sennight.domain.directions.directions import NAMED_RHYTHMS, Unit
from sennight.domain.directions.parser import DirectionsError, parse_directions

_UNIT_ENDINGS = (" od",)
_RHYTHM_ENDINGS = ("",)
_PLAIN = ("", " od", " max 1/day")
_ENDINGS: dict[str, tuple[str, ...]] = {
    "at": (" rising",),
    "every": (" 4 h", " 2 days"),
    "prn": ("", " max 1/day"),
    "ac": _PLAIN,
    "pc": _PLAIN,
    "with food": _PLAIN,
    "and prn": ("", " max 1/day"),
    "max": (" 1/day",),
    "gap": (" 1 h",),
    "on": (" mon", " 1 w off"),
    "alternate days": _PLAIN,
    "days": _PLAIN,
    "h": _PLAIN,
    "w": (" on 1 w off", " off"),
    "off": _PLAIN,
}
_WORDS: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(Unit, _UNIT_ENDINGS),
    **dict.fromkeys(NAMED_RHYTHMS, _RHYTHM_ENDINGS),
    **_ENDINGS,
    **dict.fromkeys(Moment, _PLAIN),
    **dict.fromkeys(WEEKDAYS, _PLAIN),
}


def next_words(text: str) -> tuple[str, ...]:
    """The words that can stand at the end of a text, in the place of a word begun there.

    `text` is what stands before the writing mark. Nothing is offered for numbers.
    """
    begun = _word_begun(text)
    before = text[: len(text) - len(begun)]
    if not before.strip():
        return ()
    gap = "" if before[-1] in " ,-" else " "
    return tuple(
        word
        for word, endings in _WORDS.items()
        if word.lower().startswith(begun.lower())
        and word.lower() != begun.lower()
        and _fits(before + gap + word, endings)
    )


def completed(text: str, word: str) -> str:
    """The text with a word of `next_words` in the place of the word begun, and a space."""
    before = text[: len(text) - len(_word_begun(text))]
    gap = "" if before[-1:] in (" ", ",", "") else " "
    return f"{before}{gap}{word} "


def _word_begun(text: str) -> str:
    """The letters at the end, with the hyphen of a moment such as mid-morning."""
    at = len(text)
    while at and (
        text[at - 1].isalpha() or (text[at - 1] == "-" and text[at - 2 : at - 1] == "d")
    ):
        at -= 1
    return text[at:]


def _fits(text: str, endings: tuple[str, ...]) -> bool:
    for ending in endings:
        try:
            parse_directions(text + ending)
        except DirectionsError:
            continue
        return True
    return False
