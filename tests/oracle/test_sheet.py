"""Whole course files, printed for the client, and read back day against day.

What the sheet says of every day of its window, in the tables of the day and at each remedy, is
held against the second reading of the course.
"""

from __future__ import annotations

import re
from datetime import date, timedelta
from random import Random

import pytest

from oracle import read_sheet, reading, sheet_words
from oracle.any_course import Maker
from sennight.domain.take_home.choices import Reach, SheetChoices
from sennight.practice.course_outputs import (
    NO_CARD,
)
from sennight.practice.course_reading import read_course
from sennight.practice.given_papers import handout_text
from sennight.practice.materia_medica import herb_names
from sennight.publish.course_file.reader import parse_course
from support.draws import draws

COURSES = draws(20, check=50, long=1000)
AT_ONCE = 10


def sheet_of(text: str, today: date, reach: Reach) -> read_sheet.Sheet:
    course = parse_course(text, herb_names()).course
    read = read_course(course, today=today)
    return read_sheet.read(handout_text(read, NO_CARD, SheetChoices(reach=reach)))


def names(laid: reading.Laid) -> dict[str, str]:
    return {table["id"]: table.get("name", table["id"]) for table in laid.file["remedy"]}


def window(sheet: read_sheet.Sheet) -> list[date]:
    first, last = sheet.window
    return [first + timedelta(n) for n in range((last - first).days + 1)]


def check_days(sheet: read_sheet.Sheet, laid: reading.Laid) -> None:
    """The tables of the client's day: amounts, times, ceilings, every day."""
    tables, nothing = read_sheet.day_tables(sheet)
    called = names(laid)
    expected: dict[date, dict[str, read_sheet.Told]] = {}
    for use in reading.uses(laid):
        told = use.told
        expected.setdefault(use.day, {})[called[use.remedy]] = (
            told.amount, told.most, told.unit, told.times, told.ceiling,
        )  # fmt: skip
    for day in window(sheet):
        found = read_sheet.taken_on(tables, day, sheet.year)
        assert found == expected.get(day, {}), day
        if day in sheet_words.each_day(nothing):
            assert day not in expected, day


def in_flare(laid: reading.Laid, day: date) -> bool:
    return any(first <= day <= last for first, last, _ in laid.flares)


def is_break(laid: reading.Laid, day: date) -> bool:
    return laid.real(laid.counted(day)) != day or day in laid.skipped


def check_remedies(sheet: read_sheet.Sheet, laid: reading.Laid) -> None:
    """What is said at each remedy, on days that are neither breaks nor flare-ups."""
    told = read_sheet.entries(sheet)
    uses = {(use.day, use.remedy): use.told for use in reading.uses(laid)}
    days = window(sheet)
    gaps = {day for day in days if in_flare(laid, day) or is_break(laid, day)}
    for remedy, name in names(laid).items():
        for day in days:
            if day in gaps:
                continue
            use = uses.get((day, remedy))
            found = read_sheet.told_on(told[name], day, sheet, gaps) if name in told else None
            expected = (use.amount, use.most, use.unit, len(use.times)) if use else None
            assert found == expected, (name, day)


def check_dates(sheet: read_sheet.Sheet, laid: reading.Laid) -> None:
    """Breaks, flare-ups and stops with their dates."""
    inside = set(window(sheet))
    next_words = " ".join(sheet.section("WHAT COMES NEXT").split())
    told = re.search(r"Take nothing from your usual plan: ([^.]*)\.", next_words)
    found = sheet_words.each_day(sheet_words.spans_of(told[1], sheet.year)) if told else set()
    assert found == {day for day in inside if is_break(laid, day)}
    flares = " ".join(sheet.section("IF YOU HAVE A FLARE-UP").split())
    runs = re.findall(rf"This plan runs from ({sheet_words.SPAN})\.", flares)
    dated = sheet_words.each_day([sheet_words.days_of(words, sheet.year) for words in runs])
    last = laid.last_taken
    assert dated & inside == {day for day in inside if in_flare(laid, day) and day <= last}


def check(seed: int) -> bool:
    """One random course; False where it is impossible."""
    text = Maker(seed).course()
    try:
        laid = reading.read(text)
    except reading.ImpossibleError:
        return False
    pick = Random(seed)  # noqa: S311 - repeatable choices, no secrets
    length = (laid.last_taken - laid.start).days
    today = laid.start + timedelta(pick.randint(-10, max(0, length)))
    if laid.last_taken < laid.start or not any(True for _ in reading.uses(laid)):
        return False
    sheet = sheet_of(text, today, pick.choice(list(Reach)))
    check_days(sheet, laid)
    check_remedies(sheet, laid)
    check_dates(sheet, laid)
    return True


@pytest.mark.parametrize("seed", range(0, COURSES, AT_ONCE))
def test_the_sheet_says_what_is_taken_on_every_day(seed: int) -> None:
    """A failure is found again with `check(seed)`."""
    possible = [check(1000 + n) for n in range(seed, seed + AT_ONCE)]
    assert any(possible)
