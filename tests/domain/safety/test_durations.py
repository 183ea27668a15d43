"""Days of use over a limit, against the sources' own figures and against counting day by day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, Pause, PauseMode
from sennight.domain.courses.protocols import Protocol
from sennight.domain.dates import Span, add_months, joined
from sennight.domain.remedies.forms import Form
from sennight.domain.safety.durations import over_in_a_year, over_limit
from sennight.domain.safety.findings import Severity
from support.draws import draws
from support.safety_samples import START, course, day, found, remedy
from support.samples import line, phase

usual = settings(max_examples=draws(50))


def cycled(herb: str, take: str, weeks: int, *, form: Form = Form.TEA) -> Course:
    return course(remedy(herb, form=form), take=take, weeks=weeks)


def test_liquorice_is_found_from_the_day_that_its_four_weeks_are_passed() -> None:
    """No longer than 4 to 6 weeks (Commission E, read): the lower end is the careful side."""
    assert "length.liquorice.max-course" not in found(course(remedy("liquorice"), weeks=4))
    finding = found(course(remedy("liquorice"), weeks=10))["length.liquorice.max-course"]
    assert finding.severity is Severity.CAUTION
    assert finding.days == (Span.of_days(day(29), day(70)),)
    assert "Commission E" in finding.source
    assert (
        "Take liquorice for the last time on 31 January 2027, or stop for 2 weeks from then."
        in finding.instead
    )


def test_at_a_stretch_breaks_begin_the_count_anew() -> None:
    """Sage, no longer than 4 weeks at a stretch (secondary text, read): no break is given.

    Half of it, 2 weeks, is enough (common practice); nothing that one could plan once was.
    """
    good = cycled("sage", "1 cup bd 4 w on 2 w off", 24)
    assert "length.sage.max-course" not in found(good)
    short = cycled("sage", "1 cup bd 4 w on 13 d off", 24)
    assert found(short)["length.sage.max-course"].first == day(42)
    ten_days = cycled("echinacea", "1 cup bd 10 d on 20 d off", 24)
    assert not [name for name in found(ten_days) if name.startswith("length.echinacea.max")]


def test_days_off_that_are_no_break_add_up() -> None:
    """Birch leaf, 2 to 4 weeks (EMA summary): days of use add up over short gaps."""
    made = cycled("birch-leaf", "1 cup bd 2 w on 6 d off", 12)
    finding = found(made)["length.birch-leaf.max-course"]
    assert finding.first == day(41), "2 + 2 weeks are days 1 to 14 and 21 to 34"


def test_capsicum_may_be_taken_again_after_its_two_weeks_off() -> None:
    """Day 21 is the last day of use, day 36 the earliest restart (EMA/HMPC/331421/2015)."""
    good = cycled("cayenne", "1 application bd 3 w on 2 w off", 30, form=Form.RUB)
    assert "length.cayenne.max-course" not in found(good)
    short = cycled("cayenne", "1 application bd 3 w on 13 d off", 8, form=Form.RUB)
    assert found(short)["length.cayenne.max-course"].first == day(35)
    whole = cycled("cayenne", "1 application bd", 5, form=Form.RUB)
    finding = found(whole)["length.cayenne.max-course"]
    assert finding.days == (Span.of_days(day(22), day(35)),)
    assert finding.instead == (
        "Take cayenne for the last time on 24 January 2027, or stop for 2 weeks from then.",
    )


def test_a_pause_is_no_day_of_use() -> None:
    pause = Pause(on=START, first=day(15), last=day(21), mode=PauseMode.SKIP)
    made = course(remedy("liquorice"), weeks=6, revisions=(pause,))
    assert found(made)["length.liquorice.max-course"].first == day(36)


def test_a_limit_in_a_year_is_not_begun_anew_by_a_break() -> None:
    """Comfrey, 4 to 6 weeks a year (Commission E, read): 28 days are used up in four courses."""
    made = cycled("comfrey", "1 application bd 9 d on 9 d off", 20, form=Form.RUB)
    finding = found(made)["length.comfrey.max-course"]
    assert finding.first == day(3 * 18 + 2)
    (instead,) = finding.instead
    assert instead.endswith("for the last time on 27 February 2027.")


def test_comfrey_counts_its_weeks_within_any_year() -> None:
    """4 to 6 weeks a year (Commission E, read), 10 days (EMA, from memory)."""
    rub = remedy("comfrey", form=Form.RUB)
    twice = Protocol(
        "T",
        (
            phase("a", "10 d", line("r1", "1 application bd")),
            phase("rest", "40 w"),
            phase("b", "3 w", line("r1", "1 application bd")),
        ),
    )
    finding = found(replace(course(rub), protocol=twice))["length.comfrey.max-course"]
    assert finding.first == day(10 + 280 + 11), "the ten days begin anew after so long a break"
    long = found(course(rub, weeks=7))["length.comfrey.max-course"]
    assert long.first == day(11)
    assert "4 weeks in a year" in long.text
    assert "6 weeks in a year" in long.text


def test_two_remedies_with_one_herb_are_one_use() -> None:
    made = course(remedy("liquorice"), remedy("liquorice", form=Form.TINCTURE, name="r2"))
    lines = phase("a", "3 w", line("r1", "1 cup od")), phase("b", "3 w", line("r2", "1 mL od"))
    finding = found(replace(made, protocol=Protocol("T", lines)))["length.liquorice.max-course"]
    assert (finding.first, finding.remedies) == (day(29), ("r2",))


def test_the_length_of_a_trial_is_no_limit() -> None:
    """Rosehip was tried for 4 months, willow bark for 8 weeks: nobody says that more harms."""
    ids = found(course(remedy("rosehip", "willow-bark"), weeks=30))
    assert not [key for key in ids if key.endswith(".max-course")]


def test_a_month_is_a_calendar_month() -> None:
    """Valerian, a month by one guide: from 4 January to 3 February."""
    finding = found(course(remedy("valerian"), weeks=6))["length.valerian.max-course"]
    assert finding.first == date(2027, 2, 4)


def test_fennel_is_shorter_for_children() -> None:
    """Less than a week from 4 to 12 (Decision 2008/911/EC), 2 weeks for adults (from memory)."""
    child = Client("Una Example", add_months(START, -12 * 8))
    made = course(remedy("fennel"), client=child)
    assert found(made)["length.fennel.max-course"].first == day(8)
    grown = found(course(remedy("fennel")))["length.fennel.max-course"]
    assert grown.first == day(15)
    assert "1 week:" not in grown.text


def test_when_to_seek_advice_is_no_finding_but_told_to_the_client() -> None:
    """Without a fact of the client or an amount behind it, it is nothing for the practitioner."""
    ids = found(course(remedy("ginger", "rosehip"), weeks=14))
    assert not [key for key in ids if key.startswith("length.")]


# Against counting day by day

DAYS = st.lists(st.tuples(st.integers(0, 900), st.integers(1, 80)), min_size=1, max_size=8)


def spans_of(pairs: list[tuple[int, int]]) -> tuple[Span, ...]:
    return joined(
        tuple(
            Span(START + timedelta(first), START + timedelta(first + days))
            for first, days in pairs
        )
    )


@usual
@given(DAYS, st.integers(1, 90))
def test_any_365_days(pairs: list[tuple[int, int]], limit: int) -> None:
    spans = spans_of(pairs)
    used = {one for span in spans for one in span}
    wanted = {
        one
        for one in used
        if sum(1 for back in range(365) if one - timedelta(back) in used) > limit
    }
    assert {one for span in over_in_a_year(spans, limit) for one in span} == wanted


@usual
@given(DAYS, st.integers(1, 90), st.none() | st.integers(1, 30), st.booleans())
def test_days_of_use(
    pairs: list[tuple[int, int]],
    limit: int,
    pause: int | None,
    as_used: bool,
) -> None:
    spans = spans_of(pairs)
    used = {one for span in spans for one in span}
    wanted, count, off = set(), 0, 0
    for number in range(1000):
        one = START + timedelta(number)
        if one in used:
            short = as_used and off >= max(7, count)
            count = 0 if pause is not None and (off >= pause or short) else count
            count, off = count + 1, 0
            wanted |= {one} if count > limit else set()
        else:
            off += 1
    over = over_limit(spans, limit, pause, or_as_used=as_used)
    assert {one for span in over for one in span} == wanted
