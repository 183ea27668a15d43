"""The usual spellings of directions, and what each says in the short form.

A table, in the order in which it is tried: a longer phrase stands before one that it begins
with. Patterns are in lower case; a blank in them stands for blanks or a hyphen. What could be
misread is not here but in `misreadings`.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from sennight.domain.dates import WEEKDAYS
from sennight.domain.directions.numerals import AMOUNTS, WHOLE_NUMBER, whole_number
from sennight.domain.directions.pieces import Part, Said, Spelling


def _means(part: Part, words: str, pattern: str) -> Spelling:
    return Spelling(pattern, lambda _match: ((part, words),))


# How often

_IN_A_DAY = (
    r"(?: ?(?:a|per|each|every|in a|in the|in any|in one|/) ?(?:day|d|24 ?h(?:ours|rs)?)"
    r"| daily| in 24 ?h(?:ours|rs)?)"
)
_A_DAY = rf"(?: ?(?:times?|x))?{_IN_A_DAY}"
_TIMES = rf"(?:once|twice|thrice|(?:x ?)?{WHOLE_NUMBER} ?(?:times?|x)|x ?[0-9]+)"
_HOURS = r"(?:h|hrs?|hours?)"
CODES = {1: "od", 2: "bd", 3: "tds", 4: "qds"}
"""The short form of so many times a day."""

_OFTEN = {"once": 1, "twice": 2, "thrice": 3}
_LATIN = {"od": 1, "bd": 2, "tds": 3, "qds": 4, "bid": 2, "tid": 3, "qid": 4}
_LATIN_CODE = "|".join(r"\.?".join(code) for code in _LATIN)


def often(text: str) -> int:
    """How many times `once`, `3x` or `bd` says."""
    bare = text.replace(".", "")
    if bare in _LATIN:
        return _LATIN[bare]
    return _OFTEN[bare] if bare in _OFTEN else whole_number(re.sub("times?|[x -]", "", bare))


def _count(match: re.Match[str]) -> Said:
    times = often(match["count"])
    return ((Part.COUNT, CODES.get(times, f"{times} times a day")),)


def _count_or_more(match: re.Match[str]) -> Said:
    """`bd or tds`: the third as needed."""
    least, most = often(match["least"]), often(match["most"])
    if not least < most or least not in CODES:
        return ((Part.UNKNOWN, match[0]),)
    return (
        (Part.COUNT, CODES[least]),
        (Part.AND, "and"),
        (Part.NEEDED, "prn"),
        (Part.MOST, f"max {most - least}/day"),
    )


def _hours(match: re.Match[str]) -> Said:
    least = whole_number(match["least"])
    if match["most"]:
        return ((Part.HOURS, f"every {least}-{whole_number(match['most'])} h"),)
    return ((Part.HOURS, f"every {least} h"),)


_SPAN = rf"(?P<least>{WHOLE_NUMBER})(?: ?(?:-|to|or) ?(?P<most>{WHOLE_NUMBER}))?"


def _bounded(part: Part) -> Callable[[re.Match[str]], Said]:
    return lambda match: ((part, f"max {often(match['n'])}/day"),)


# Times of the day

_MOMENTS: tuple[tuple[str, str], ...] = (
    ("rising", r"(?:(?:on|upon|at|after) )?(?:rising|waking(?: up)?|awakening|getting up)"),
    ("rising", r"when (?:you )?(?:get|wake|getting|waking) up|first thing(?: in the morning)?"),
    ("rising", r"(?:in the |every |each |on )?mornings?|mane|o\.?m"),
    ("mid-morning", r"(?:at |in )?(?:the )?mid ?morning"),
    ("mid-afternoon", r"(?:at |in )?(?:the )?(?:mid ?)?afternoons?"),
    ("supper", r"(?:in the |every |each )?evenings?"),
    ("bedtime", r"(?:at |before |every |each |on )?bed ?time|before (?:going to )?(?:bed|sleep)"),
    ("bedtime", r"(?:last thing )?at night|every night|each night|nights?|nightly|nocte"),
    ("bedtime", r"on (?:retiring|going to bed)|when (?:you )?go(?:ing)? to bed"),
)
_MEALS: tuple[tuple[str, str], ...] = (
    ("breakfast", r"breakfast(?: ?time)?"),
    ("lunch", r"lunch(?: ?time)?"),
    ("supper", r"supper(?: ?time)?|(?:the )?evening meal"),
)
_FOODS = {"before": "ac", "after": "pc", "with": "with food"}
_HALF_AN_HOUR = r"(?:(?:30|thirty) ?min(?:ute)?s? |(?:half an|1/2 an?|½|1/2) ?(?:h|hr|hour) )?"
_BESIDE = rf"{_HALF_AN_HOUR}(?P<side>before|after|with)"
_MEAL_WORDS = r"(?:food|meals?|eating|a meal)"


def _food_at(moment: str) -> Callable[[re.Match[str]], Said]:
    return lambda match: ((Part.FOOD, _FOODS[match["side"]]), (Part.TIME, moment))


def _clock(match: re.Match[str]) -> Said:
    hour, minute = int(match["hour"]), match["minute"] or "00"
    in_the_day = hour % 12 + (12 if match["half"] == "p" else 0)
    return ((Part.TIME, f"{in_the_day:02}:{minute}"),)


_CLOCK = (
    r"(?:at )?(?:(?P<hour>0?[1-9]|1[0-2])(?:[:.](?P<minute>[0-9]{2}))? ?(?P<half>[ap])\.?m"
    r"|(?P<hour_24>[0-9]{2}):(?P<minute_24>[0-9]{2}))"
)


def _time_of_day(match: re.Match[str]) -> Said:
    if match["hour_24"]:
        return ((Part.TIME, f"{match['hour_24']}:{match['minute_24']}"),)
    return _clock(match)


# Days

_WEEKDAY_FORMS = (
    r"mon(?:day)?s?",
    r"tue(?:s|sdays?|days?)?",
    r"wed(?:s|nesdays?)?",
    r"thu(?:rs?|rsdays?)?",
    r"fri(?:day)?s?",
    r"sat(?:urday)?s?",
    r"sun(?:day)?s?",
)
WEEKDAY = "|".join(_WEEKDAY_FORMS)


def _weekdays(match: re.Match[str]) -> Said:
    first = WEEKDAYS.index(match["first"][:3])
    last = WEEKDAYS.index(match["last"][:3]) if match["last"] else first
    run = [(first + n) % 7 for n in range((last - first) % 7 + 1)]
    return ((Part.WEEKDAYS, " ".join(WEEKDAYS[day] for day in run)),)


def _all_but(match: re.Match[str]) -> Said:
    left_out = {match[key][:3] for key in ("day", "other") if match[key]}
    return ((Part.DAYS, f"on {' '.join(day for day in WEEKDAYS if day not in left_out)}"),)


def _every_days(match: re.Match[str]) -> Said:
    days = whole_number(match["n"]) * (7 if match["weeks"] else 1)
    return ((Part.DAYS, "alternate days" if days == 2 else f"every {days} days"),)


_ORDINALS = {"second": 2, "2nd": 2, "third": 3, "3rd": 3, "fourth": 4, "4th": 4, "fifth": 5}
_SPANS = {"d": "d", "w": "w", "m": "mo"}
_LENGTH = r"(?:d|days?|w|wks?|weeks?|mo|mths?|months?)"


def _cycle(match: re.Match[str]) -> Said:
    on, off = (whole_number(match[key]) for key in ("on", "off"))
    unit = _SPANS[match["unit"][0]]
    unit_off = _SPANS[match["unit_off"][0]] if match["unit_off"] else unit
    return ((Part.CYCLE, f"{on} {unit} on {off} {unit_off} off"),)


_MOST = r"(?:(?:with )?(?:a )?max(?:imum)?\.?(?: of)?|at most|(?:no|not) more than|do not exceed)"
_DOSES = (
    rf"(?P<n>once|twice|thrice|{WHOLE_NUMBER})(?: ?(?:x|times|doses?|more(?: times| doses)?))?"
)

SPELLINGS: tuple[Spelling, ...] = (
    *AMOUNTS,
    _means(Part.APPLY, "1 application", r"apply|rub (?:in|on)|massage in"),
    Spelling(rf"(?P<least>{_LATIN_CODE}) ?(?:-|/|or|to) ?(?P<most>{_LATIN_CODE})", _count_or_more),
    Spelling(
        rf"(?P<least>once|twice|thrice|{WHOLE_NUMBER})(?: times|x)? ?(?:-|or|to) ?"
        rf"(?P<most>twice|thrice|{WHOLE_NUMBER} ?(?:times|x)){_A_DAY}",
        _count_or_more,
    ),
    Spelling(rf"(?P<count>{_LATIN_CODE})", _count),
    Spelling(rf"(?P<count>{_TIMES}){_A_DAY}", _count),
    _means(Part.WEEKDAYS, "mon tue wed thu fri", r"every week ?day"),
    _means(Part.WEEKDAYS, "sat sun", r"every week ?end"),
    Spelling(
        r"once (?:a|per|each|every) week|once weekly|weekly|every week",
        lambda _match: ((Part.COUNT, "od"), (Part.DAYS, "every 7 days")),
    ),
    _means(Part.DAYS, "every 14 days", r"(?:once )?(?:every|a) fortnight|fortnightly"),
    _means(
        Part.DAYS,
        "alternate days",
        r"(?:on )?(?:every other day|(?:every )?alternate days?|alt\.? d(?:ie|ays?))",
    ),
    Spelling(
        rf"(?:on )?every (?P<n>{'|'.join(_ORDINALS)}) day",
        lambda match: (
            (
                Part.DAYS,
                "alternate days"
                if _ORDINALS[match["n"]] == 2
                else f"every {_ORDINALS[match['n']]} days",
            ),
        ),
    ),
    Spelling(rf"every (?P<n>{WHOLE_NUMBER}) ?(?:days|(?P<weeks>weeks|wks|w))", _every_days),
    Spelling(rf"(?:every|each) {_SPAN} ?{_HOURS}", _hours),
    Spelling(rf"q\.? ?{_SPAN} ?(?:h|hrs?|hours?|hourly)", _hours),
    Spelling(rf"{_SPAN} ?(?:hourly|hrly)", _hours),
    _means(Part.HOURS, "every 1 h", r"every hour|each hour|hourly"),
    _means(Part.HOURS, "every 2 h", r"every (?:other|second) hour"),
    _means(
        Part.NEEDED,
        "prn",
        r"p\.?r\.?n|on demand"
        r"|(?:as and )?(?:as|when|if|whenever) (?:needed|required|necessary|wanted)",
    ),
    Spelling(rf"{_MOST} ?{_DOSES}{_IN_A_DAY}", _bounded(Part.MOST)),
    Spelling(rf"up to {_DOSES}{_IN_A_DAY}", _bounded(Part.UP_TO)),
    Spelling(
        rf"(?:min(?:imum)? )?gap(?: of)? (?P<n>{WHOLE_NUMBER}) ?{_HOURS}|"
        rf"at least (?P<n_least>{WHOLE_NUMBER}) ?{_HOURS} (?:apart|between(?: doses)?)|"
        rf"(?:leave )?(?P<n_apart>{WHOLE_NUMBER}) ?{_HOURS} (?:apart|between doses)|"
        rf"(?:not|no) more often than every (?P<n_often>{WHOLE_NUMBER}) ?{_HOURS}",
        lambda match: ((Part.GAP, f"gap {whole_number(next(filter(None, match.groups())))} h"),),
    ),
    Spelling(
        rf"(?P<on>{WHOLE_NUMBER}) ?(?P<unit>{_LENGTH}) on ?[,/]? ?(?:(?:and|then|followed by) )?"
        rf"(?P<off>{WHOLE_NUMBER}) ?(?P<unit_off>{_LENGTH})? ?off",
        _cycle,
    ),
    Spelling(
        rf"{_BESIDE} (?:each|every) meal",
        lambda match: ((Part.COUNT, "tds"), (Part.FOOD, _FOODS[match["side"]])),
    ),
    Spelling(rf"{_BESIDE} {_MEAL_WORDS}", lambda match: ((Part.FOOD, _FOODS[match["side"]]),)),
    _means(Part.FOOD, "ac", r"a\.?c|ante cibum"),
    _means(Part.FOOD, "pc", r"p\.?c|post cibum"),
    _means(Part.FOOD, "with food", r"cum cibo"),
    *(Spelling(rf"{_BESIDE} (?:{form})", _food_at(meal)) for meal, form in _MEALS),
    *(_means(Part.TIME, meal, rf"(?:at )?(?:{form})") for meal, form in _MEALS),
    Spelling(
        r"(?:in the |every )?mornings? ?(?:and|&|\+) ?(?:in the )?evenings?"
        r"|a\.?m\.? ?(?:and|&|\+) ?p\.?m",
        lambda _match: ((Part.TIME, "breakfast"), (Part.AND, "and"), (Part.TIME, "supper")),
    ),
    *(_means(Part.TIME, moment, form) for moment, form in _MOMENTS),
    _means(Part.TIME, "12:00", r"(?:at )?(?:noon|mid ?day)"),
    Spelling(_CLOCK, _time_of_day),
    Spelling(
        rf"(?:daily |every day )?(?:except|but not|not)(?: on)? (?P<day>{WEEKDAY})"
        rf"(?: ?(?:,|and|&|or) ?(?P<other>{WEEKDAY}))?",
        _all_but,
    ),
    Spelling(
        rf"(?:(?:on|every|each) )?(?P<first>{WEEKDAY})"
        rf"(?: ?(?:-|to|through) ?(?P<last>{WEEKDAY}))?",
        _weekdays,
    ),
    _means(Part.WEEKDAYS, "mon tue wed thu fri", r"(?:on )?(?:week ?days|working days)"),
    _means(Part.WEEKDAYS, "sat sun", r"(?:on |at )?(?:the )?week ?ends?"),
    _means(Part.DAILY, "od", r"daily|(?:every|each|a|per|/) ?day"),
    _means(Part.AND, "and", r"and|&|\+|plus"),
    _means(Part.COMMA, ",", r"[,;/]"),
)
