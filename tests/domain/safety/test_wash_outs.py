"""Days between a medicine and a herb, both ways, and around an operation.

The days are those of the table of rules: St John's wort and antidepressants 14 days each way
(national health service and regulator's lists, read), fluoxetine 35 (its long half-life, from
memory), contraceptive pills 28 days after an inducer (FSRH 2022 as quoted, read).
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from sennight.domain.courses.clients import Client, Fact
from sennight.domain.dates import Span
from support.safety_samples import START, course, day, found, remedy

WORT = "st-johns-wort"


def client(medicine: str, since: date | None = None, until: date | None = None) -> Client:
    return Client("Una Example", medicines=(Fact(medicine, since, until),))


@pytest.mark.parametrize(
    ("medicine", "tag", "days"),
    [("sertraline", "ssri", 14), ("fluoxetine", "fluoxetine", 35), ("phenelzine", "maoi", 14)],
)
def test_a_herb_that_is_begun_too_soon_after_a_medicine_ended(
    medicine: str, tag: str, days: int
) -> None:
    """A medicine that ended the day before the herb began was once no finding at all."""
    ended = START - timedelta(1)
    made = course(remedy(WORT), client=client(medicine, until=ended), weeks=12)
    every = found(made)
    one = every[f"{WORT}.{tag}"]
    assert one.severity == "avoid"
    assert one.days == (Span(START, START + timedelta(days)),)
    assert f"ended on 3 January 2027; leave {days} days before" in one.text
    free = START + timedelta(days)
    assert any(f"on {free.day} {free:%B} {free.year} or later" in step for step in one.instead)


def test_long_enough_after_a_medicine_ended_nothing_is_found() -> None:
    ended = START - timedelta(15)
    made = course(remedy(WORT), client=client("sertraline", until=ended))
    assert f"{WORT}.ssri" not in found(made)
    ended += timedelta(1)
    made = course(remedy(WORT), client=client("sertraline", until=ended))
    assert found(made)[f"{WORT}.ssri"].days == (Span(START, day(2)),)


@pytest.mark.parametrize(("gap", "days"), [(0, 28), (4, 24), (27, 1), (28, 0)])
def test_a_herb_that_is_stopped_too_shortly_before_a_medicine_begins(gap: int, days: int) -> None:
    """The last dose on 31 January, the pill so many days after it: the enzymes are still up."""
    last = day(28)
    begins = last + timedelta(1 + gap)
    made = course(remedy(WORT), client=client("hormonal-contraceptive-combined", since=begins))
    one = found(made).get(f"{WORT}.hormonal-contraceptive")
    assert (sum(span.days for span in one.days) if one else 0) == days


def test_what_is_taken_all_along_is_no_wash_out() -> None:
    made = course(remedy(WORT), client=client("sertraline", since=date(2020, 1, 1)))
    assert "leave 14 days" not in found(made)[f"{WORT}.ssri"].text


@pytest.mark.parametrize("herb", [WORT, "willow-bark"])
def test_before_an_operation_the_longer_number_of_days_holds_and_some_after_it(herb: str) -> None:
    """14 days for all herbs (American Society of Anesthesiologists), though a text for St John's

    wort says 10; a week after it (common practice).
    """
    operation = day(40)
    made = course(
        remedy(herb),
        client=Client("Una Example", conditions=(Fact("planned-surgery", since=operation),)),
        weeks=12,
    )
    one = found(made)[f"{herb}.planned-surgery"]
    (span,) = one.days
    assert span.first == operation - timedelta(14)
    assert span.end >= operation + timedelta(8)
