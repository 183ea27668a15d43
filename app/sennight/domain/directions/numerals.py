"""Amounts as people write them: numbers in figures, words, halves and quarters, and units."""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

from sennight.domain.amounts import plain_number
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.pieces import Part, Said, Spelling

_WHOLE = {
    "a": 1,
    "an": 1,
    "one": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "seven": 7,
    "eight": 8,
    "nine": 9,
    "ten": 10,
    "eleven": 11,
    "twelve": 12,
    "fifteen": 15,
    "twenty": 20,
    "thirty": 30,
    "forty": 40,
    "fifty": 50,
}
_PARTS = {
    "half": Fraction(1, 2),
    "quarter": Fraction(1, 4),
    "quarters": Fraction(1, 4),
    "third": Fraction(1, 3),
    "thirds": Fraction(1, 3),
}

_NAMES = "|".join(sorted(_WHOLE, key=len, reverse=True))
_SIGN = "[¼-¾⅐-⅞]"
_FIGURES = r"[0-9]+\s*/\s*[0-9]*[1-9][0-9]*"
_PART = rf"(?:(?:an?|one) )?(?:half|quarter|third)|three quarters|two thirds|{_FIGURES}|{_SIGN}"
WHOLE_NUMBER = rf"(?:[0-9]+|(?:{_NAMES})(?![a-z]))"
"""Matches a whole number, in figures or in words; a blank stands for blanks or a hyphen."""

NUMBER = (
    rf"(?:{WHOLE_NUMBER}\s*{_SIGN}|{WHOLE_NUMBER} and (?:{_PART})|{WHOLE_NUMBER} {_FIGURES}"
    rf"|{_PART}|[0-9]+\.[0-9]+|{WHOLE_NUMBER})"
)
"""Matches an amount's number, as `WHOLE_NUMBER` does."""

_WORD = re.compile(rf"[0-9]+\s*/\s*[0-9]+|[0-9]+(?:\.[0-9]+)?|{_SIGN}|[a-z]+")


def whole_number(text: str) -> int:
    """The value of a text that `WHOLE_NUMBER` matches."""
    return _WHOLE[text] if text in _WHOLE else int(text)


def number(text: str) -> Fraction:
    """The value of a text in lower case that `NUMBER` matches, exact."""
    total, before = Fraction(0), Fraction(0)
    for word in _WORD.findall(text):
        if word in _PARTS:  # three quarters; one and a half
            counted = before or Fraction(1)
            total, before = total + counted * _PARTS[word], Fraction(0)
        elif word == "and":
            total, before = total + before, Fraction(0)
        else:
            total, before = total + before, _value(word)
    return total + before


def _value(word: str) -> Fraction:
    if word in _WHOLE:
        return Fraction(_WHOLE[word])
    spelt = unicodedata.normalize("NFKC", word).replace("\u2044", "/")
    return Fraction("".join(spelt.split()))


# Units

_UNITS: tuple[tuple[str, Unit, int], ...] = (
    (r"mls?|millilit(?:re|er)s?", Unit.ML, 1),
    (r"lit(?:re|er)s?", Unit.ML, 1000),
    (r"dessert ?spoon(?:ful)?s?(?:ful)?|dspn?s?|dstspn?s?", Unit.ML, 10),
    (r"tea ?spoon(?:ful)?s?(?:ful)?|tspn?s?", Unit.TSP, 1),
    (r"table ?spoon(?:ful)?s?(?:ful)?|tbl?sp?n?s?", Unit.TBSP, 1),
    (r"(?:tea)?cup(?:ful)?s?(?:ful)?", Unit.CUP, 1),
    (r"dropper(?: ?full?)?s?(?:ful)?|pipettes?(?:ful)?s?", Unit.DROPPERFUL, 1),
    (r"drops?|gtts?|guttae", Unit.DROP, 1),
    (r"mgs?|milligram(?:me)?s?", Unit.MG, 1),
    (r"g|gms?|gram(?:me)?s?", Unit.G, 1),
    (r"caps?|capsules?", Unit.CAPSULE, 1),
    (r"tabs?|tablets?", Unit.TABLET, 1),
    (r"pieces?", Unit.PIECE, 1),
    (r"(?:level )?scoop(?:ful)?s?(?:ful)?", Unit.SCOOP, 1),
    (r"applications?|applic", Unit.APPLICATION, 1),
)
"""Each unit's spellings, and how many of the unit one of them is. Dessertspoon: 10 mL."""

_UNIT_WORDS = "|".join(pattern for pattern, _unit, _times in _UNITS)
_UNIT = "|".join(f"(?P<unit{n}>{pattern})" for n, (pattern, _unit, _times) in enumerate(_UNITS))


def _unit_of(match: re.Match[str]) -> tuple[Unit, int]:
    return next((unit, times) for n, (_, unit, times) in enumerate(_UNITS) if match[f"unit{n}"])


def _amount(match: re.Match[str]) -> Said:
    unit, times = _unit_of(match)
    value = number(match["number"]) + (number(match["more"]) if match["more"] else 0)
    return ((Part.AMOUNT, f"{plain_number(value * times)} {unit}"),)


def _range(match: re.Match[str]) -> Said:
    unit, times = _unit_of(match)
    least, most = (plain_number(number(match[key]) * times) for key in ("least", "most"))
    return ((Part.AMOUNT, f"{least}-{most} {unit}"),)


TO = r" ?(?:-|to|or) ?"
"""What stands between the ends of a range."""

AMOUNTS = (
    Spelling(
        rf"(?P<least>{NUMBER})(?: ?(?:an? )?(?:{_UNIT_WORDS}))?{TO}"
        rf"(?P<most>{NUMBER}) ?(?:of )?(?:{_UNIT})",
        _range,
    ),
    Spelling(
        rf"(?:x ?)?(?P<number>{NUMBER}) ?(?:x |of )?(?:an? )?(?:{_UNIT})"
        r"(?P<more> and an? (?:half|quarter))?",
        _amount,
    ),
)
"""A number, or a range of two, and its unit."""
