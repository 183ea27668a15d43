"""What is taken phase by phase, and the days that follow from it."""

from __future__ import annotations

from datetime import date

from sennight.domain.courses.courses import Flare, Pause, PauseMode, Redirect, Stop
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.schedule.stages import Taking, flare_stages, kinds_of_day, stages
from support.samples import course, day, line, phase, take


def ways(taking: Taking) -> list[tuple[str, date, date]]:
    return [(str(way.directions), way.span.first, way.span.last) for way in taking.ways]


def test_steps_and_days_off_are_put_together() -> None:
    layout = lay_out(
        course(
            phase(
                "loading",
                "6 w",
                line("t1", "1 cup tds", (4, "1 cup bd")),
                line("t2", "5 mL bd 2 w on 1 w off"),
            )
        )
    )
    (stage,) = stages(layout)
    tea, tincture = stage.takings
    assert ways(tea) == [("1 cup tds", day(1), day(28)), ("1 cup bd", day(29), day(42))]
    assert ways(tincture) == [("5 mL bd 2 w on 1 w off", day(1), day(35))]
    assert tincture.days_off == (Span(day(15), day(22)), Span(day(36), day(43)))


def test_a_pause_does_not_tear_a_way_apart() -> None:
    layout = lay_out(
        course(
            phase("a", "2 w", line("t1", "1 cup od")),
            revisions=(Pause(on=day(3), first=day(3), last=day(5), mode=PauseMode.SKIP),),
        )
    )
    (stage,) = stages(layout)
    assert ways(stage.takings[0]) == [("1 cup od", day(1), day(14))]


def test_a_remedy_stopped_or_redirected_says_from_when() -> None:
    layout = lay_out(
        course(
            phase("a", "4 w", line("t1", "1 cup od"), line("t2", "5 mL od")),
            phase("b", "4 w", line("t1", "1 cup od"), line("t2", "5 mL od")),
            revisions=(
                Redirect(
                    on=day(8),
                    remedy="t1",
                    first=day(8),
                    last=day(14),
                    directions=take("2 cups od"),
                ),
                Stop(on=day(15), remedy="t2", first=day(15)),
            ),
        )
    )
    first, second = stages(layout)
    assert [str(way.directions) for way in first.takings[0].ways] == [
        "1 cup od",
        "2 cup od",
        "1 cup od",
    ]
    assert first.takings[1].stopped == day(15)
    assert [taking.remedy for taking in second.takings] == ["t1"]


def test_days_change_with_steps_stops_and_phases() -> None:
    layout = lay_out(
        course(
            phase("a", "4 w", line("t1", "1 cup tds", (2, "1 cup bd")), line("t2", "5 mL od")),
            phase("b", "4 w", line("t2", "5 mL nocte on mon")),
            revisions=(Stop(on=day(22), remedy="t1", first=day(22)),),
            start=date(2027, 1, 6),
        )
    )
    kinds = kinds_of_day(layout)
    shown = [
        (
            kind.run.phase.id,
            kind.span.first,
            [[d.remedy for d in at.doses] for at in kind.plan.times],
        )
        for kind in kinds
    ]
    start = date(2027, 1, 6)
    assert shown == [
        ("a", start, [["t1", "t2"], ["t1"], ["t1"]]),
        ("a", date(2027, 1, 20), [["t1", "t2"], ["t1"]]),
        ("a", date(2027, 1, 25), [["t2"]]),
        ("b", date(2027, 2, 3), [["t2"]]),
    ]


def test_a_day_says_when_its_remedies_are_left_out() -> None:
    """Two weeks on, one off, from Monday 4 January: off in weeks 3 and 6, in a step or not."""
    layout = lay_out(
        course(
            phase(
                "a",
                "6 w",
                line("t1", "1 cup od", (4, "1 cup bd")),
                line("t2", "5 mL od 2 w on 1 w off"),
            ),
            phase("b", "1 w", line("t2", "5 mL od")),
        )
    )
    first, second, third = kinds_of_day(layout)
    assert [one.span.days for one in (first, second, third)] == [28, 14, 7]
    assert first.days_off == ((1, (Span(day(15), day(22)),)),)
    assert second.days_off == ((1, (Span(day(36), day(43)),)),)
    assert third.days_off == ()


def test_days_without_any_remedy_left_are_no_kind_of_day() -> None:
    stop = Stop(on=day(8), remedy="t1", first=day(8), reason="x")
    layout = lay_out(
        course(phase("a", "4 w", line("t1", "1 cup od")), phase("b", "1 w"), revisions=(stop,))
    )
    assert [(kind.run.phase.id, kind.span.first) for kind in kinds_of_day(layout)] == [
        ("a", day(1))
    ]


def test_flares_with_dates_are_stages_of_their_own() -> None:
    layout = lay_out(
        course(
            phase("a", "8 w", line("t1", "1 cup od"), line("t2", "5 mL od")),
            phase("rescue", "3 d", line("t1", "1 cup qds")),
            revisions=(
                Flare(on=day(30), first=day(30), rescue="rescue"),
                Flare(on=day(5), first=day(5), rescue="rescue", last=day(6)),
            ),
        )
    )
    found = [(stage.run.span, ways(stage.takings[0])) for stage in flare_stages(layout)]
    assert found == [
        (Span(day(5), day(7)), [("1 cup qds", day(5), day(6))]),
        (Span(day(30), day(33)), [("1 cup qds", day(30), day(32))]),
    ]
    (stage,) = stages(layout)
    assert ways(stage.takings[0]) == [("1 cup od", day(1), day(56))]
