"""Spellings of directions that could be misread, which are asked about, never guessed.

Sources: Joint Commission "Do Not Use" list (U, IU, QD, QOD, trailing zero, no leading zero) and
the ISMP list of error-prone abbreviations (cc, µg, hs, qhs, qn, q1d, TIW, BIW, d/c, x3d, ss);
those of meals and spoons are common practice. Patterns are written as in `spellings`.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from sennight.domain.amounts import plain_number
from sennight.domain.directions.numerals import NUMBER, TO, WHOLE_NUMBER, number

Choices = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Misreading:
    """A pattern, why what it matches could be misread, and what could be written instead."""

    pattern: str
    why: str
    choices: Callable[[re.Match[str]], Choices]


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """A pattern of what directions do not hold, why, and what to do about it."""

    pattern: str
    why: str
    expected: str


def _asked(pattern: str, why: str, *choices: str) -> Misreading:
    return Misreading(pattern, why, lambda _match: choices)


def _without_zeros(match: re.Match[str]) -> Choices:
    meant = plain_number(Fraction(match["number"]))
    return meant, match["number"].replace(".", "").lstrip("0") or "1"


def _with_a_zero(match: re.Match[str]) -> Choices:
    return f"0{match['number']}", match["number"][1:].lstrip("0") or "1"


def _whole_and_part(match: re.Match[str]) -> Choices:
    whole, part = number(match["whole"]), number(match["part"])
    ends = sorted((whole, part))
    either = f"{plain_number(ends[0])}-{plain_number(ends[1])}"
    return plain_number(whole + part), either


def _comma(match: re.Match[str]) -> Choices:
    whole, rest = match["whole"], match["rest"]
    as_point = plain_number(Fraction(f"{whole}.{rest}"))
    return as_point, f"{whole}{rest}".lstrip("0") or "1"


def _micrograms(match: re.Match[str]) -> Choices:
    value = Fraction(match["number"])
    return f"{plain_number(value / 1000)} mg", f"{plain_number(value)} mg"


def _either_half_of_the_day(match: re.Match[str]) -> Choices:
    hour, minute = int(match["hour"]), match["minute"] or "00"
    return f"at {hour:02}:{minute}", f"at {(hour + 12) % 24:02}:{minute}"


def _noon_or_midnight(match: re.Match[str]) -> Choices:
    minute = match["minute"] or "00"
    return f"at 12:{minute}", f"at 00:{minute}"


def _at_the_side(*meals: str) -> Callable[[re.Match[str]], Choices]:
    return lambda match: tuple(f"{match['side'] or 'at'} {meal}" for meal in meals)


_FIGURES = r"(?P<number>[0-9]+(?:\.[0-9]+)?)"
_BEFORE_A_MEAL = r"(?:(?:at|(?P<side>before|after|with)) )?"

MISREADINGS: tuple[Misreading, ...] = (
    Misreading(
        r"(?P<whole>[0-9]+)\s*-\s*(?P<part>[0-9]+\s*/\s*[0-9]*[1-9][0-9]*|[¼-¾⅐-⅞])",
        "it could be a whole and a part of one, or from one to the other",
        _whole_and_part,
    ),
    Misreading(
        rf"(?P<least>{NUMBER}){TO}(?P<number>[0-9]+\.[0-9]*0)(?! ?[ap]\.?m)",
        "a zero at the end is read as ten times as much where the point is missed",
        lambda match: tuple(f"{match['least']}-{most}" for most in _without_zeros(match)),
    ),
    Misreading(
        r"(?P<number>[0-9]+\.[0-9]*0)(?! ?[ap]\.?m)",
        "a zero at the end is read as ten times as much where the point is missed",
        _without_zeros,
    ),
    Misreading(
        r"(?P<number>\.[0-9]*[1-9][0-9]*)",
        "a point with no figure before it is easily missed",
        _with_a_zero,
    ),
    Misreading(
        r"(?P<whole>[0-9]+),(?P<rest>[0-9]+)(?!:)",
        "the comma could be a decimal point, or part two figures of one number",
        _comma,
    ),
    Misreading(
        rf"{_FIGURES} ?(?:µg|μg|ug|mcg|microgram(?:me)?s?)",
        "micrograms are misread as milligrams, a thousand times as much",
        _micrograms,
    ),
    _asked(
        r"(?:i\.?u|u|units?)",
        "U and IU are misread as 0, 4 and cc, and are no amount of a herb",
        "mL",
        "drop",
    ),
    _asked(r"c\.?c", "cc is misread as U or 00; it could also be “with”", "mL", "with food"),
    _asked(r"t", "t could be a teaspoon or a tablespoon", "tsp", "tbsp"),
    _asked(r"spoon(?:ful)?s?", "a spoon could be of any size", "tsp", "dessertspoon", "tbsp"),
    _asked(
        r"q\.?o\.?d",
        "qod is misread as every day and as four times a day",
        "od alternate days",
        "od",
        "qds",
    ),
    _asked(r"q\.?d|q1d", "qd is misread as qid, four times a day", "od", "qds"),
    _asked(r"q\.?h\.?s", "qhs is misread as every hour", "nocte", "every 1 h"),
    _asked(r"q\.?n", "qn is misread as qh, every hour", "nocte", "every 1 h"),
    _asked(r"q\.?h", "qh is misread as qhs, at bedtime", "every 1 h", "nocte"),
    _asked(r"h\.?s", "hs could be at bedtime, or half strength", "nocte"),
    _asked(
        r"t\.?i\.?w",
        "tiw could be three times a week, or three times a day",
        "od on mon wed fri",
        "tds",
    ),
    _asked(
        r"b\.?i\.?w|bi ?weekly",
        "it could be twice a week, or every two weeks",
        "od on mon thu",
        "od every 14 days",
    ),
    _asked(
        r"every other week",
        "it could be once in two weeks, or a week on and a week off",
        "od every 14 days",
        "od 1 w on 1 w off",
    ),
    _asked(
        r"(?:twice|two times|2 ?(?:x|times)) (?:a|per|each|every) week|twice weekly",
        "the two days are not named",
        "od on mon thu",
        "od on tue fri",
    ),
    _asked(
        r"(?:thrice|three times|3 ?(?:x|times)) (?:a|per|each|every) week|three times weekly",
        "the three days are not named",
        "od on mon wed fri",
        "od on tue thu sat",
    ),
    _asked(r"x ?[0-9] ?d", "it could be so many days, or so many doses", "od", "tds"),
    _asked(r"ss|s\.s", "ss is misread as 55; it could be a half", "½"),
    _asked(r"d/c", "d/c could be to stop, or to send home"),
    _asked(
        r"e\.?o\.?d",
        "eod could be every other day, or the end of the day",
        "alternate days",
        "at supper",
    ),
    _asked(
        r"s\.?o\.?s",
        "sos could be once if needed, or as often as needed",
        "prn max 1/day",
        "prn gap 4 h",
    ),
    _asked(
        r"(?:on|with) an empty stomach",
        "it could be before food, or between meals",
        "ac",
        "at mid-morning,mid-afternoon",
    ),
    Misreading(
        rf"{_BEFORE_A_MEAL}dinner(?: ?time)?",
        "dinner could be at midday or in the evening",
        _at_the_side("lunch", "supper"),
    ),
    Misreading(
        rf"{_BEFORE_A_MEAL}tea ?time",
        "tea could be in the afternoon, or the evening meal",
        lambda _match: ("at mid-afternoon", "at supper"),
    ),
    Misreading(
        r"(?:at )?12(?:[:.](?P<minute>[0-9]{2}))? ?[ap]\.?m",
        "12 am and 12 pm are both read as noon and as midnight",
        _noon_or_midnight,
    ),
    Misreading(
        r"(?:at )?(?P<hour>[1-9]):(?P<minute>[0-5][0-9])(?! ?[ap]\.?m)",
        "it could be in the morning or in the afternoon",
        _either_half_of_the_day,
    ),
    Misreading(
        r"at (?P<hour>[1-9]|1[0-2])(?:\.(?P<minute>[0-5][0-9]))?(?: o'?clock)?"
        r"(?! ?(?:[ap]\.?m|[:.0-9]))",
        "it could be in the morning or in the afternoon",
        _either_half_of_the_day,
    ),
)

_HOW_LONG = "how long a remedy is taken is the length of its phase"

ELSEWHERE: tuple[Elsewhere, ...] = (
    Elsewhere(
        rf"for {WHOLE_NUMBER} ?(?:d|days?|w|wks?|weeks?|mo|months?)", _HOW_LONG, "no length here"
    ),
    Elsewhere(
        r"(?:glass|mug|pinch|handful|capful)(?:e?s)?",
        "its size is not known",
        "a unit: mL, cup, tsp, tbsp or g",
    ),
    Elsewhere(r"stat", "at once is a single dose", "how often, such as od"),
    Elsewhere(
        r"(?:in|with) (?:a little |some |warm |hot |cold )*(?:water|juice|honey|milk)",
        "this says what it is taken in",
        "amounts and times alone",
    ),
    Elsewhere(
        rf"(?!30|thirty|half|1/2|½){NUMBER} ?(?:h|hr|hours?|min(?:ute)?s?) "
        r"(?:before|after) (?:food|meals?|eating)",
        "before and after food are half an hour here",
        "ac, pc, or the times, such as at 08:00,13:00",
    ),
)
