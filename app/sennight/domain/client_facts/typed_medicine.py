"""A medicine as it is typed, taken apart: “ramipril 5 mg in the morning, 08:00”.

    typed = name [amount] [rhythm] {time}   or   amount name …
    amount = number unit, with more of it: 5 mg, 500 micrograms, 2 puffs, 8/500, 1 tablet
    rhythm = od, bd, tds …, once a day, twice daily, every 8 hours, weekly, as needed …
    time   = 08:00, 8 am, bedtime, mane, nocte …

The name ends where an amount or a rhythm begins; all that follows is the dose, kept as typed,
but for the times that it ends with. Only clock times, and words that stand for one moment of the
day, are times: “twice a day” says how often and not when. What is not understood stays where it
was.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import time

from sennight.domain.day import Moment

_NUMBER = r"(?:\d+(?:[.,]\d+)?|½|¼|one|two|three|four|half)"
_UNIT = (
    r"(?:milligrams?|micrograms?|nanograms?|grams?|mgs?|mcgs?|ug|µg|μg|ng|g|mls?|millilitres?|l"
    r"|i\.?u\.?|units?|mmol|%|puffs?|sprays?|drops?|tablets?|tabs?|capsules?|caps?|pills?"
    r"|patch(?:es)?|sachets?|spoon(?:ful)?s?|lozenges?|suppositor(?:y|ies)|pessar(?:y|ies)"
    r"|injections?|ampoules?)"
)
_STRENGTH = rf"{_NUMBER}\s*(?:-|to)?\s*(?:{_NUMBER}\s*)?{_UNIT}(?![\w-])"
_PAIR = r"\d+(?:\.\d+)?/\d+(?:\.\d+)?(?:/\d+(?:\.\d+)?)?"
_OFTEN = (
    r"o\.?d|b\.?d|b\.?i\.?d|t\.?d\.?s|t\.?i\.?d|q\.?d\.?s|q\.?i\.?d|daily|weekly|monthly|mane|nocte"
    r"|prn|p\.r\.n|(?:once|twice|one|two|three|four|five|\d)\s*(?:times?|x|×)?\s*(?:a|per|each|every)?"
    r"\s*(?:day|daily|night|week|weekly|month|monthly)|every\s|each\s|when\s+(?:needed|required)"
    r"|as\s+(?:needed|required|directed)|at\s+night|at\s+bedtime|in\s+the\s+(?:morning|evening)"
    r"|at\s+\d"
)
_DOSE = re.compile(
    rf"(?<![\w/-])(?:{_STRENGTH}|{_PAIR}(?![\w/])|(?:{_OFTEN})(?![\w-]))", re.IGNORECASE
)
_CLOCK_TIME = (
    r"(?<![\d/.:])(?:(?P<h>[01]?\d|2[0-3])[:.](?P<m>[0-5]\d)(?:\s*(?P<half>[ap])\.?m\b)?"
    r"|(?P<hour>1[0-2]|0?[1-9])\s*(?P<part>[ap])\.?m\b)(?!\d)"
)
_CLOCK = re.compile(_CLOCK_TIME, re.IGNORECASE)
_MOMENTS = {
    "mane": Moment.RISING,
    "on rising": Moment.RISING,
    "nocte": Moment.BEDTIME,
    "at night": Moment.BEDTIME,
    "at bedtime": Moment.BEDTIME,
    "bedtime": Moment.BEDTIME,
    "with breakfast": Moment.BREAKFAST,
    "at breakfast": Moment.BREAKFAST,
    "with lunch": Moment.LUNCH,
    "at lunch": Moment.LUNCH,
    "with supper": Moment.SUPPER,
    "with evening meal": Moment.SUPPER,
    "at evening meal": Moment.SUPPER,
    "at supper": Moment.SUPPER,
}
_MOMENT_WORDS = (
    r"(?<!\w)(?:" + "|".join(re.escape(w).replace(r"\ ", r"\s+") for w in _MOMENTS) + r")(?!\w)"
)
_MOMENT = re.compile(_MOMENT_WORDS, re.IGNORECASE)
_A_TIME = f"(?:at\\s+)?(?:{re.sub('[?]P<[a-z]+>', '?:', _CLOCK_TIME)}|{_MOMENT_WORDS})"
_TIMES_AT_END = re.compile(rf"\s*,?\s*{_A_TIME}(?:\s*(?:,|and|&)?\s*{_A_TIME})*$", re.IGNORECASE)
_NOON = 12


@dataclass(frozen=True, slots=True)
class TypedMedicine:
    """The parts of what was typed; the dose in its own words, times in the order of the text."""

    name: str
    dose: str = ""
    at: tuple[Moment | time, ...] = ()


def typed_medicine(text: str) -> TypedMedicine:
    """What was typed, taken apart; where no dose is seen in it, all of it is the name."""
    text = " ".join(text.split())
    dose = _DOSE.search(text)
    if dose is None:
        return TypedMedicine(text)
    name, rest = text[: dose.start()].strip(" ,;:"), text[dose.start() :]
    if not name:
        name, rest = text[dose.end() :].strip(" ,;:"), dose[0]
        after = _DOSE.search(name)
        if after is not None and after.start() > 0:
            rest = f"{rest} {name[after.start() :]}"
            name = name[: after.start()].strip(" ,;:")
    if not name:
        return TypedMedicine(text)
    at = _times(rest)
    dose_alone = _TIMES_AT_END.sub("", rest) if at else rest
    return TypedMedicine(name, dose_alone.strip(" ,;"), at)


def _times(text: str) -> tuple[Moment | time, ...]:
    by_place: dict[int, Moment | time] = {}
    for match in _CLOCK.finditer(text):
        by_place[match.start()] = _clock(match)
    for match in _MOMENT.finditer(text):
        by_place[match.start()] = _MOMENTS[" ".join(match[0].lower().split())]
    return tuple(dict.fromkeys(by_place[place] for place in sorted(by_place)))


def _clock(match: re.Match[str]) -> time:
    hour, minute = int(match["h"] or match["hour"]), int(match["m"] or 0)
    half = (match["half"] or match["part"] or "").lower()
    if half and hour <= _NOON:
        hour = hour % _NOON + (_NOON if half == "p" else 0)
    return time(hour, minute)
