"""What a practice sets for its dispensary, and what clients bring back, in a practice file."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.preparing import Rounding
from sennight.domain.follow_up.diaries import Taken
from sennight.domain.supply.needs import Allowance
from sennight.domain.supply.quantities import Quantity
from sennight.domain.supply.settings import SupplySettings
from sennight.practice.course_reading import read_course
from sennight.practice.courses import course_entry
from sennight.practice.diaries import enter_diary
from sennight.practice.dispensary import DispensarySettings, keep_settings, settings_of
from sennight.practice.dispensing import Handing, hand_over, handed_to, open_courses
from sennight.practice.given_papers import GiveChoices
from sennight.practice.giving import record_printed
from sennight.practice.opening import OpenPractice
from sennight.practice.papers import PaperKind
from sennight.practice.pricing import price_list
from sennight.practice.reminding import usual_choices
from sennight.practice.returned import (
    NOT_TAKEN,
    Returned,
    ReturnedError,
    enter_returned,
    had_at_home,
    returned_of,
    told_by_what_is_left,
    usually_within,
)
from sennight.practice.supplying import lasting_for
from sennight.practice.wanted import order_list, planned, wanted
from support.dispensary_cases import TEA, TODAY, batch_of, course_of, stock_up
from support.filled import NOW
from support.pdf_pages import page_texts

F = Fraction
DAY = timedelta(days=1)
SET = DispensarySettings(
    SupplySettings(Allowance(F(1, 2), F(1, 10)), grams=F(75), order_days=3),
    Rounding({Unit.G: F(1), Unit.ML: F(1)}),
)
"""A tenth is spilt, bags hold 75 g, more is ordered three days before, scales tell whole grams."""


@pytest.fixture
def given(practice: OpenPractice) -> str:
    """A course that takes 6 g of tea on each of 28 days; 120 g were handed over at its start."""
    stock_up(practice)
    _, course = course_of(practice, "Ada Finch")
    hand(practice, course, 120, TODAY)
    return course


def hand(
    practice: OpenPractice, course: str, grams: int, day: date, left: Fraction | None = None
) -> None:
    batch = batch_of(practice, grams)
    handing = Handing(batch, course, TEA.id, 1, Quantity(F(grams), Unit.G), "MR", left)
    hand_over(practice, handing, today=day, now=NOW)


def layout_of(practice: OpenPractice, course: str) -> Layout:
    return lay_out(course_entry(practice, course).course)


def counted(course: str, grams: int, after: int) -> Returned:
    return Returned(course, TEA.id, TODAY + after * DAY, Quantity(F(grams), Unit.G), F(5))


def lasts(practice: OpenPractice, course: str) -> tuple[date | None, date | None]:
    (row,) = lasting_for(practice, layout_of(practice, course))
    return row.last_day, row.order_by


def test_what_is_set_is_reckoned_with_everywhere(practice: OpenPractice) -> None:
    """168 g are taken in 28 days; with a tenth for what is spilt 184.8 g, three bags of 75 g."""
    stock_up(practice)
    _, course = course_of(practice, "Ada Finch")
    assert settings_of(practice) == DispensarySettings()
    (usual,) = wanted(practice, TODAY)
    assert (usual.what.amount.amount, usual.what.containers) == (F(168), 2)
    keep_settings(practice, SET, now=NOW)
    keep_settings(practice, SET, now=NOW)
    assert settings_of(practice) == SET
    (row,) = wanted(practice, TODAY)
    assert (row.what.amount.amount, row.what.containers) == (F(924, 5), 3)
    ((_, made),) = planned(practice, [row], TODAY)
    assert (made.amount.amount, [part.amount for part in made.to_measure]) == (
        F(225),
        [F(193), F(32)],
    )
    reading = read_course(course_entry(practice, course).course, today=TODAY)
    (supply,) = replace(reading, settings=SET.supply).supplies
    assert (supply.amount, supply.containers) == (F(924, 5), 3)
    assert [priced.container.amount for priced in price_list(practice)] == [75]
    hand(practice, course, 120, TODAY)
    last = TODAY + 17 * DAY
    assert lasts(practice, course) == (last, last - 3 * DAY)
    (row,) = wanted(practice, TODAY + 10 * DAY)
    assert row.what.by == last - 3 * DAY


def test_orders_are_for_whole_containers_of_the_size_that_is_set(practice: OpenPractice) -> None:
    stock_up(practice)
    course_of(practice, "Ada Finch")
    big = replace(SET, supply=replace(SET.supply, grams=F(700)))
    assert order_list(practice, TODAY, wanted(practice, TODAY)) == ()
    keep_settings(practice, big, now=NOW)
    (order,) = order_list(practice, TODAY, wanted(practice, TODAY))
    assert order.amount == 100  # six sevenths of 700 g are 600 g, and 500 g are there


def test_what_is_left_says_until_when_it_lasts(practice: OpenPractice, given: str) -> None:
    assert lasts(practice, given) == (TODAY + 19 * DAY, TODAY + 12 * DAY)
    enter_returned(practice, [counted(given, 66, 14)], today=TODAY + 14 * DAY, now=NOW)
    assert lasts(practice, given) == (TODAY + 24 * DAY, TODAY + 17 * DAY)
    rows = wanted(practice, TODAY + 14 * DAY)
    assert [(row.what.by, row.what.amount.amount) for row in rows] == [(TODAY + 17 * DAY, F(18))]
    taken_back = returned_of(practice, given)
    enter_returned(practice, (), taken_back, today=TODAY + 14 * DAY, now=NOW)
    assert returned_of(practice, given) == ()
    assert lasts(practice, given) == (TODAY + 19 * DAY, TODAY + 12 * DAY)


def test_what_is_left_stands_beside_the_diary(practice: OpenPractice, given: str) -> None:
    """54 of 84 g are gone in 14 days; 49 to 59 g, of 78 to 90 g."""
    today = TODAY + 14 * DAY
    reading = read_course(course_entry(practice, given).course, today=today)
    assert told_by_what_is_left(practice, given, reading) == ()
    enter_returned(practice, [counted(given, 66, 14)], today=today, now=NOW)
    (told,) = told_by_what_is_left(practice, given, reading)
    days = "4 to 18 January 2027"
    said = (
        f"{TEA.name}, {days}: 54 g gone, 84 g due: 64 %, between 54 and 76 % allowing for error."
    )
    assert told == said
    enter_diary(practice, given, [Taken(TODAY + n * DAY, TEA.id, 2) for n in range(14)])
    (told,) = told_by_what_is_left(practice, given, reading)
    assert told == f"{said} The diary says 100 %, which does not agree."
    review = GiveChoices(usual_choices(reading.course), parts=frozenset({PaperKind.REVIEW}))
    (paper,) = record_printed(practice, given, now=NOW, today=today, choices=review)
    words = " ".join(" ".join(page_texts(paper.content)).split())
    assert told in words, "the review summary says what the page says"
    assert f"{told} {NOT_TAKEN}" in words


def test_what_is_still_there_is_told_when_more_is_handed_over(
    practice: OpenPractice, given: str
) -> None:
    day = TODAY + 14 * DAY
    hand(practice, given, 60, day, F(30))
    (count,) = returned_of(practice, given)
    assert (count.day, count.left.amount, count.within) == (day, F(30), usually_within(Unit.G))
    assert lasts(practice, given) == (TODAY + 27 * DAY, None)
    (had,) = had_at_home(practice, given)
    assert (had.letter, had.name, had.handed.amount) == ("A", TEA.name, F(180))
    client = course_entry(practice, given).client_id
    (_, batch), _ = handed_to(practice, client)
    (wanting,) = open_courses(practice, client, batch, day)
    assert wanting.had == 180


def test_what_cannot_be_left_is_refused_whole(practice: OpenPractice, given: str) -> None:
    day = TODAY + 14 * DAY
    right = counted(given, 60, 14)
    for wrong, words in (
        (counted(given, 121, 14), "120 g were handed over by 18 January 2027"),
        (counted(given, 20, 15), "in the future"),
        (counted(given, -1, 14), "expected 0 or more"),
        (replace(right, remedy="x"), "no such remedy"),
    ):
        with pytest.raises(ReturnedError, match=words):
            enter_returned(practice, [right, wrong], today=day, now=NOW)
    assert returned_of(practice, given) == ()
    with pytest.raises(ReturnedError, match="expected no more"):
        hand(practice, given, 60, day, F(121))
    assert len(handed_to(practice, course_entry(practice, given).client_id)) == 1
