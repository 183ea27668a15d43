"""Puts the pieces of directions in the order of the short form, or asks what they mean."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from sennight.domain.amounts import plain_number
from sennight.domain.day import MEALS, Moment
from sennight.domain.directions.directions import NAMED_RHYTHMS, Food
from sennight.domain.directions.parser import DirectionsError, parse_directions
from sennight.domain.directions.pieces import Part, Piece, Question
from sennight.domain.directions.spellings import CODES

_JOINS = (Part.AND, Part.COMMA)
_TIMED = (Part.COUNT, Part.TIME)
_BOUNDS = (Part.MOST, Part.UP_TO, Part.GAP)
_DAY_RULES = (Part.WEEKDAYS, Part.DAYS)
_MOMENTS = tuple(str(moment) for moment in Moment)


def arranged(text: str, found: Sequence[Piece]) -> tuple[Piece, ...] | Question:
    """The pieces in the order of the short form, without those that only join.

    Raises DirectionsError where two of them contradict each other.
    """
    pieces = _joined(found)
    for second in _of(pieces, Part.AMOUNT)[1:]:
        raise DirectionsError(
            text, second.start, second.end, "one amount, the same at each time",
            "this is the second",
        )  # fmt: skip
    amount = _of(pieces, Part.AMOUNT)[:1] or _of(pieces, Part.APPLY)[:1]
    rhythm = _rhythm(text, pieces)
    question = _total_of_a_day(text, pieces, amount) or _as_needed_in_doubt(text, pieces, rhythm)
    if question is not None and not _of(pieces, Part.UNKNOWN):
        return question
    needed = _needed(pieces, rhythm)
    done = {*amount, *rhythm, *_of(pieces, *_TIMED, *_JOINS, *_done_parts(pieces, rhythm))}
    rest = [piece for piece in pieces if piece not in done]
    first = [piece for piece in rest if _is_early(piece, amount, rhythm)]
    rest = [piece for piece in rest if piece not in first]
    early = [piece for piece in first if amount and piece.start < amount[0].start]
    late = [piece for piece in first if piece not in early]
    return (*early, *amount, *late, *rhythm, *needed, *_without_repeats(rest))


def _of(pieces: Sequence[Piece], *parts: Part) -> list[Piece]:
    return [piece for piece in pieces if piece.part in parts]


def _done_parts(pieces: Sequence[Piece], rhythm: Sequence[Piece]) -> tuple[Part, ...]:
    """What is not said again behind the rhythm; `daily every 3 days` is left to be refused."""
    is_now_and_then = any(not day.words.startswith("on") for day in _of(pieces, Part.DAYS))
    if rhythm and not is_now_and_then:
        return Part.NEEDED, Part.DAILY, Part.APPLY
    return Part.NEEDED, Part.APPLY


def _is_early(piece: Piece, amount: Sequence[Piece], rhythm: Sequence[Piece]) -> bool:
    """Whether a word that is not understood stands in the place of an amount or a rhythm."""
    if piece.part is not Part.UNKNOWN:
        return False
    return not rhythm or not amount or piece.start < amount[0].start


def _joined(found: Sequence[Piece]) -> list[Piece]:
    """The pieces; an “and” that joins nothing is not understood."""
    pieces: list[Piece] = []
    for place, piece in enumerate(found):
        before = found[place - 1].part if place else None
        is_last = place == len(found) - 1
        doubled = before in _JOINS and not (before is Part.COMMA and piece.part is Part.AND)
        is_idle = piece.part in _JOINS and (before is None or is_last or doubled)
        pieces.append(replace(piece, part=Part.UNKNOWN) if is_idle else piece)
    return pieces


# Rhythm


def _rhythm(text: str, pieces: Sequence[Piece]) -> list[Piece]:
    """How often in a day; once where days alone are named."""
    timed, hours = _of(pieces, *_TIMED), _of(pieces, Part.HOURS)
    if hours:
        return [*hours[:1], *timed]
    if timed:
        return _times(text, pieces, timed)
    if _of(pieces, Part.UNKNOWN, Part.NEEDED, Part.UP_TO):
        return []
    return [
        replace(piece, part=Part.COUNT, words="od")
        for piece in _of(pieces, Part.DAILY, *_DAY_RULES)[:1]
    ]


def _times(text: str, pieces: Sequence[Piece], timed: Sequence[Piece]) -> list[Piece]:
    """Times of the day together, with how many they are where that is said as well."""
    counts, times = _of(timed, Part.COUNT), _of(timed, Part.TIME)
    if not times or len(counts) > 1:
        return list(timed)
    _check_joins(text, pieces)
    _check_food(text, pieces, times)
    words = [piece.words for piece in times]
    if counts and _is_joined(pieces, counts[0], times[0]):
        words = [*_named(counts[0]), *words]
    elif counts and len(words) != _number(counts[0]):
        raise DirectionsError(
            text, times[0].start, times[-1].end, f"{_number(counts[0])} times, as said before",
            f"the times named are {len(words)}",
        )  # fmt: skip
    if all(word in _MOMENTS for word in words):
        words.sort(key=_MOMENTS.index)
    start, end = min(p.start for p in timed), max(p.end for p in timed)
    return [Piece(Part.TIME, f"at {','.join(words)}", start, end)]


def _named(count: Piece) -> list[str]:
    return [str(moment) for moment in NAMED_RHYTHMS[count.words]]


def _number(count: Piece) -> int:
    named = NAMED_RHYTHMS.get(count.words)
    return len(named) if named else int(count.words.split()[0])


def _is_joined(pieces: Sequence[Piece], count: Piece, time: Piece) -> bool:
    """Whether an “and” stands between a count and the times: `tds and at bedtime`."""
    if count.words not in NAMED_RHYTHMS:
        return False
    first, second = sorted((pieces.index(count), pieces.index(time)))
    return any(piece.part is Part.AND for piece in pieces[first:second])


def _check_joins(text: str, pieces: Sequence[Piece]) -> None:
    """Two times stand together only with an “and” or a comma: else one may explain the other."""
    last: Piece | None = None
    for piece in pieces:
        if piece.part in _JOINS:
            last = None
        elif piece.part is Part.TIME:
            if last is not None:
                raise DirectionsError(
                    text, piece.start, piece.end, "“and” before it, or one of the two times",
                    "two times stand side by side",
                )  # fmt: skip
            last = piece


def _check_food(text: str, pieces: Sequence[Piece], times: Sequence[Piece]) -> None:
    """Food is said of all times of a line; so no time may stand there without it.

    `before breakfast, lunch and supper` says it of all; a time that is no meal is not moved.
    """
    foods = {(food.start, food.end): food.words for food in _of(pieces, Part.FOOD)}
    own = [time for time in times if (time.start, time.end) in foods]
    for time in times if own else ():
        follows = time.start > own[0].start and text[time.start :].lower().startswith(MEALS)
        is_elsewhere = time.words not in MEALS and Food.WITH not in foods.values()
        if time not in own and not follows and not is_elsewhere:
            raise DirectionsError(
                text, time.start, time.end, "food said of all times, as in “tds ac”",
                "food holds for every time of the day",
            )  # fmt: skip


# As needed


def _needed(pieces: Sequence[Piece], rhythm: Sequence[Piece]) -> list[Piece]:
    """What says “as needed”, as the short form puts it behind the rhythm, or alone."""
    words = "and prn" if rhythm and not _is_span(rhythm) else "prn"
    return [replace(piece, words=words) for piece in _of(pieces, Part.NEEDED)]


def _is_span(rhythm: Sequence[Piece]) -> bool:
    return rhythm[0].part is Part.HOURS and "-" in rhythm[0].words


def _as_needed_in_doubt(
    text: str, pieces: Sequence[Piece], rhythm: Sequence[Piece]
) -> Question | None:
    """Whether doses as needed take the place of the timed ones, or come on top of them."""
    needed, up_to = _of(pieces, Part.NEEDED)[:1], _of(pieces, Part.UP_TO)[:1]
    if up_to and not needed and not rhythm:
        most = int(up_to[0].words.removeprefix("max ").removesuffix("/day"))
        return Question(
            text, up_to[0].start, up_to[0].end, "it could be how often, or the most as needed",
            tuple(filter(None, (CODES.get(most), f"prn {up_to[0].words}"))),
        )  # fmt: skip
    if rhythm and _is_span(rhythm) and not needed:
        return _by_the_clock(text, rhythm[0])
    if not needed or not rhythm or _is_span(rhythm) or _is_added(pieces, needed[0]):
        return None
    readings = _readings(pieces, rhythm)
    if not readings:
        return None
    start = min(rhythm[0].start, needed[0].start)
    end = max(rhythm[-1].end, needed[0].end)
    between = _between(pieces, start, end, besides=(*_TIMED, Part.HOURS, Part.NEEDED))
    why = "it could be instead of the timed doses, or on top of them"
    return Question(text, start, end, why, tuple(f"{reading}{between}" for reading in readings))


def _by_the_clock(text: str, span: Piece) -> Question:
    """`every 1 to 3 hours`: as needed, or at set times after all."""
    least, most = span.words.removeprefix("every ").removesuffix(" h").split("-")
    choices = (f"{span.words} prn", f"every {least} h", f"every {most} h")
    why = "it does not say whether as needed, or at set times"
    return Question(text, span.start, span.end, why, choices)


def _readings(pieces: Sequence[Piece], rhythm: Sequence[Piece]) -> tuple[str, ...]:
    """Both in the short form; none where the rhythm has no short form, so that it is refused."""
    said = " ".join(piece.words for piece in rhythm)
    try:
        parse_directions(f"1 cup {said}")
    except DirectionsError:
        return ()
    bound = "" if _of(pieces, *_BOUNDS) else " max 1/day"
    if rhythm[0].part is Part.HOURS and not _of(pieces, Part.GAP):
        return f"prn {said.replace('every', 'gap')}", f"{said} and prn{bound}"
    if not bound:
        return "prn", f"{said} and prn"
    named = NAMED_RHYTHMS.get(said)
    times = len(named) if named else len(said.split(","))
    return f"prn max {times}/day", f"{said} and prn max 1/day"


def _is_added(pieces: Sequence[Piece], needed: Piece) -> bool:
    """Whether an “and” leads from the timed doses to those as needed."""
    place = pieces.index(needed)
    while place and pieces[place - 1].part in (*_BOUNDS, Part.COMMA):
        place -= 1
    return place > 0 and pieces[place - 1].part is Part.AND


def _total_of_a_day(
    text: str, pieces: Sequence[Piece], amount: Sequence[Piece]
) -> Question | None:
    """Whether `3 cups a day` are taken at once, or one by one."""
    daily = _of(pieces, Part.DAILY)[:1]
    if not amount or not daily or _of(pieces, *_TIMED, Part.HOURS, Part.NEEDED, *_DAY_RULES):
        return None
    number, unit = amount[0].words.split()
    ends = [Fraction(end) for end in number.split("-")]
    is_rate = text[daily[0].start : daily[0].end].lower().startswith(("a", "per", "/"))
    if ends[-1] <= 1 or not is_rate or amount[0].start > daily[0].start:
        return None
    between = _between(
        pieces, amount[0].start, daily[0].end, besides=(Part.AMOUNT, Part.APPLY, Part.DAILY)
    )
    return Question(
        text, amount[0].start, daily[0].end, "it could be one dose, or all doses of the day",
        tuple(f"{_shared(ends, n)} {unit} {CODES[n]}{between}" for n in (1, 2, 3)),
    )  # fmt: skip


def _shared(ends: Sequence[Fraction], doses: int) -> str:
    """An amount, or both ends of a range, as one of so many equal doses."""
    return "-".join(plain_number(end / doses) for end in ends)


def _between(pieces: Sequence[Piece], start: int, end: int, *, besides: Sequence[Part]) -> str:
    """What else is said there, in the short form, behind a blank."""
    kept = [
        piece.words
        for piece in pieces
        if start <= piece.start < end and piece.part not in (*besides, *_JOINS)
    ]
    return "".join(f" {words}" for words in kept)


# The rest


def _without_repeats(rest: Sequence[Piece]) -> Iterator[Piece]:
    """The other pieces, the same food once and all weekdays in one list."""
    weekdays = _of(rest, Part.WEEKDAYS)
    foods: set[str] = set()
    for piece in rest:
        if piece.part is Part.WEEKDAYS:
            if piece is weekdays[0]:
                words = f"on {' '.join(day.words for day in weekdays)}"
                yield replace(piece, words=words, end=weekdays[-1].end)
        elif piece.part is not Part.FOOD or piece.words not in foods:
            foods.add(piece.words)
            yield piece
