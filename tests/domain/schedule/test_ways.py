"""How each remedy is taken: ways with their own ends, days off, and the client's day."""

from __future__ import annotations

from datetime import date

from sennight.domain.courses.courses import (
    Course,
    Flare,
    Join,
    Pause,
    PauseMode,
    Redirect,
    Stop,
)
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.schedule.day_kinds import DayKind, day_kinds, kind_on
from sennight.domain.schedule.ways import Way, breaks_of, ways_of
from support.samples import course, day, line, phase, take

WHOLE = Span(day(1), day(400))


def ways(made: Course, window: Span = WHOLE) -> list[Way]:
    layout = lay_out(made)
    return list(ways_of(layout, window.overlap(layout.days)))


def kinds(made: Course, window: Span = WHOLE) -> list[DayKind]:
    layout = lay_out(made)
    return list(day_kinds(layout, window.overlap(layout.days)))


def numbers(span: Span) -> tuple[int, int]:
    """First and last day, by their numbers in the course."""
    return (span.first - day(1)).days + 1, (span.last - day(1)).days + 1


def said(found: list[Way]) -> list[tuple[str, str, tuple[int, int]]]:
    return [(way.remedy, str(way.directions), numbers(way.span)) for way in found]


def test_steps_and_days_off_are_put_together() -> None:
    found = ways(
        course(
            phase(
                "loading",
                "6 w",
                line("t1", "1 cup tds", (4, "1 cup bd")),
                line("t2", "5 mL bd 2 w on 1 w off"),
            )
        )
    )
    assert said(found) == [
        ("t1", "1 cup tds", (1, 28)),
        ("t1", "1 cup bd", (29, 42)),
        ("t2", "5 mL bd 2 w on 1 w off", (1, 35)),
    ]
    assert [numbers(span) for span in found[2].days_off] == [(15, 21)]


def test_a_way_ends_on_its_own_last_day_whatever_comes_next() -> None:
    """Until the first dose of the next directions nothing is taken."""
    redirect = Redirect(
        on=day(2), remedy="t1", first=day(9), last=day(10), directions=take("3 cups tds")
    )
    found = ways(
        course(phase("a", "4 w", line("t1", "1 cup od every 3 days")), revisions=(redirect,))
    )
    assert said(found) == [
        ("t1", "1 cup od every 3 days", (1, 8)),
        ("t1", "3 cup tds", (9, 10)),
        ("t1", "1 cup od every 3 days", (13, 28)),
    ]
    assert [numbers(Span(d, d))[0] for d in found[2].first_days] == [13]


def test_a_break_is_no_day_off_and_counting_begins_again_behind_it() -> None:
    pause = Pause(on=day(2), first=day(4), last=day(6), mode=PauseMode.SKIP)
    found = ways(
        course(phase("a", "2 w", line("t1", "1 cup od alternate days")), revisions=(pause,))
    )
    assert said(found) == [("t1", "1 cup od alternate days", (1, 14))]
    assert found[0].days_off == ()
    assert found[0].first_days == (day(1), day(7))
    layout = lay_out(course(phase("a", "2 w"), revisions=(pause,)))
    assert breaks_of(layout, Span(day(5), day(9))) == (Span(day(5), day(7)),)


def test_a_window_cuts_ways_from_a_day_taken_on() -> None:
    made = course(phase("a", "4 w", line("t1", "1 cup od every 3 days")))
    found = ways(made, Span(day(5), day(12)))
    assert said(found) == [("t1", "1 cup od every 3 days", (7, 11))]


def test_flare_up_plans_are_not_among_the_ways() -> None:
    made = course(
        phase("a", "2 w", line("t1", "1 cup od"), line("t2", "5 mL od")),
        phase("rescue", "3 d", line("t1", "1 cup qds")),
        revisions=(Flare(on=day(4), first=day(4), rescue="rescue"),),
    )
    found = ways(made)
    assert said(found) == [("t1", "1 cup od", (1, 14)), ("t2", "5 mL od", (1, 14))]
    assert [way.days_off for way in found] == [(), ()]


# The client's day


def shown(found: list[DayKind]) -> list[tuple[list[tuple[int, int]], set[str], str]]:
    return [
        (
            [numbers(span) for span in kind.spans],
            {line.stretch.remedy for line in kind.lines},
            "break" if kind.is_break else kind.flare,
        )
        for kind in found
    ]


def test_the_day_is_one_kind_around_breaks_and_flare_ups() -> None:
    made = course(
        phase("a", "4 w", line("t1", "1 cup od"), line("t2", "5 mL od")),
        phase("rescue", "3 d", line("t1", "1 cup qds")),
        revisions=(
            Flare(on=day(4), first=day(4), rescue="rescue"),
            Pause(on=day(2), first=day(10), last=day(12), mode=PauseMode.SKIP),
        ),
    )
    assert shown(kinds(made)) == [
        ([(1, 3), (7, 9), (13, 28)], {"t1", "t2"}, ""),
        ([(4, 6)], {"t1", "t2"}, "rescue"),
        ([(10, 12)], set(), "break"),
    ]


def test_days_off_are_told_at_the_remedy() -> None:
    made = course(phase("a", "6 w", line("t1", "1 cup od"), line("t2", "5 mL od 2 w on 1 w off")))
    (kind,) = kinds(made)
    tea, tincture = kind.lines
    assert tea.days_off == ()
    assert [numbers(span) for span in tincture.days_off] == [(15, 21), (36, 42)]


def test_days_off_before_the_first_day_on_of_a_window_belong_to_the_remedy() -> None:
    made = course(phase("a", "6 w", line("t1", "1 cup od"), line("t2", "5 mL od 2 w on 1 w off")))
    (kind,) = kinds(made, Span(day(16), day(30)))
    assert [numbers(span) for span in kind.lines[1].days_off] == [(16, 21)]


def test_days_off_of_a_remedy_that_is_never_taken_tell_nothing() -> None:
    """Its days on lie in a break."""
    pause = Pause(on=day(1), first=day(1), last=day(14), mode=PauseMode.SKIP)
    made = course(phase("a", "3 w", line("t1", "1 cup od 2 w on 1 w off")), revisions=(pause,))
    assert shown(kinds(made)) == [([(1, 14)], set(), "break"), ([(15, 21)], set(), "")]


def test_a_remedy_that_joins_or_stops_makes_another_kind() -> None:
    made = course(
        phase("a", "4 w", line("t1", "1 cup od")),
        revisions=(
            Join(on=day(2), remedy="t2", first=day(10), last=day(15), directions=take("5 mL od")),
            Stop(on=day(3), remedy="t1", first=day(20)),
        ),
    )
    assert shown(kinds(made)) == [
        ([(1, 9), (16, 19)], {"t1"}, ""),
        ([(10, 15)], {"t1", "t2"}, ""),
        ([(20, 28)], set(), ""),
    ]


def test_days_before_a_counted_dose_belong_to_it() -> None:
    """Every third day after a break: on the days before the first dose nothing changes."""
    pause = Pause(on=day(2), first=day(5), last=day(5), mode=PauseMode.SKIP)
    made = course(
        phase("a", "2 w", line("t1", "1 cup od"), line("t2", "5 mL od every 3 days")),
        revisions=(pause,),
    )
    first, second = kinds(made)
    assert [numbers(span) for span in first.spans] == [(1, 4), (6, 14)]
    assert first.lines[1].first_days == (day(1), day(7))
    assert second.is_break


def test_a_counted_remedy_without_a_dose_on_these_days_is_left_out() -> None:
    made = course(
        phase(
            "a",
            "2 w",
            line("t1", "1 cup od", (1, "2 cups od")),
            line("t2", "5 mL od every 6 days"),
        )
    )
    _, second = kinds(made, Span(day(6), day(9)))
    assert [line.stretch.remedy for line in second.lines] == ["t1"]


def test_days_that_only_lead_to_a_counted_dose_of_another_kind_are_days_off() -> None:
    """By the count from day 1 the 9th would be one, but the break moved it to the 11th."""
    more = Redirect(on=day(2), remedy="t1", first=day(11), directions=take("2 cups od"))
    made = course(
        phase("a", "2 w", line("t1", "1 cup od"), line("t2", "5 mL od every 4 days")),
        revisions=(Pause(on=day(2), first=day(7), last=day(8), mode=PauseMode.FREEZE), more),
    )
    first = kinds(made)[0]
    assert [numbers(span) for span in first.spans] == [(1, 6), (9, 10)]
    assert first.lines[1].first_days == (day(1),)
    assert [numbers(span) for span in first.lines[1].days_off] == [(9, 10)]


def test_counting_goes_on_where_another_remedy_changes() -> None:
    made = course(
        phase(
            "a",
            "4 w",
            line("t1", "1 cup od", (1, "2 cups od"), (2, "1 cup od")),
            line("t2", "5 mL od alternate days"),
        )
    )
    first, second = kinds(made)
    assert first.lines[1].first_days == (day(1), day(15))
    assert second.lines[1].first_days == (day(9),)


def test_the_kind_of_a_day_is_found() -> None:
    found = kinds(course(phase("a", "1 w", line("t1", "1 cup od"))))
    assert kind_on(found, day(3)) is found[0]
    assert kind_on(found, date(2030, 1, 1)) is None
