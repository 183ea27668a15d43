"""Revisions: random lists against the naive reading, the awkward meetings, and refusals."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings

from sennight.domain.courses.courses import (
    Advance,
    Course,
    End,
    Extend,
    Flare,
    Pause,
    PauseMode,
    Redirect,
    Revision,
    Stop,
    as_it_stood,
)
from sennight.domain.courses.protocols import Phase
from sennight.domain.courses.revising import RevisionError
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from support.draws import draws
from support.naive import Reading
from support.samples import REMEDIES, START, course, courses, day, line, phase, take
from support.single_days import days_of, rows

ON = START
FREEZE, SKIP = PauseMode.FREEZE, PauseMode.SKIP


def possible(plan: Course) -> Course:
    """The same course with the impossible revisions left out, as an editor would refuse them."""
    kept = replace(plan, revisions=())
    frozen: set[date] = set()
    for revision in plan.revisions:
        longer = replace(kept, revisions=(*kept.revisions, revision))
        if isinstance(revision, Pause) and revision.mode is FREEZE:
            days = set(Reading.days(revision.first, revision.last))
            if days & frozen:  # overlapping freezes have a test of their own
                continue
            frozen |= days
        try:
            lay_out(longer)
        except RevisionError:
            continue
        kept = longer
    return kept


@settings(max_examples=draws(60))
@given(courses(revised=True))
def test_random_revisions_equal_their_day_by_day_reading(plan: Course) -> None:
    plan = possible(plan)
    assert days_of(lay_out(plan)) == Reading(plan).taken()


# The awkward meetings, worked by hand: (first, last, phase, directions), days counted from 1


def revised(*revisions: Revision, phases: tuple[Phase, ...] | None = None) -> Course:
    base = phases or (
        phase("loading", "6 w", line("t1", "1 cup tds", (4, "1 cup bd")), line("t2", "5 mL od")),
        phase("maintenance", "4 w", line("t1", "1 cup od")),
        RESCUE,
    )
    return course(*base, revisions=revisions)


RESCUE = Phase(
    "flare", "rescue", phase("x", "1 w").length, (line("t1", "2 cups qds"), line("t3", "1 cup bd"))
)


def pause(first: int, last: int, mode: PauseMode) -> Pause:
    return Pause(on=ON, first=day(first), last=day(last), mode=mode)


def test_extend_moves_later_phases() -> None:
    plan = revised(Extend(on=ON, phase="loading", by=2, in_weeks=True))
    assert rows(plan)[-2:] == [
        (29, 56, "loading", "1 cup bd"),
        (57, 84, "maintenance", "1 cup od"),
    ]
    shorter = revised(Extend(on=ON, phase="loading", by=-7))
    assert rows(shorter)[-1] == (36, 63, "maintenance", "1 cup od")


def test_extend_before_an_advance() -> None:
    plan = revised(
        Extend(on=ON, phase="loading", by=14), Advance(on=ON, to="maintenance", first=day(50))
    )
    assert rows(plan)[-2:] == [
        (29, 49, "loading", "1 cup bd"),
        (50, 77, "maintenance", "1 cup od"),
    ]


def test_advance_drops_the_phases_between() -> None:
    phases = (
        phase("a", "2 w", line("t1", "1 cup od")),
        phase("b", "2 w", line("t1", "2 cups od")),
        phase("c", "2 w", line("t1", "3 cups od")),
    )
    plan = revised(Advance(on=ON, to="c", first=day(8)), phases=phases)
    assert rows(plan) == [(1, 7, "a", "1 cup od"), (8, 21, "c", "3 cup od")]


def test_pause_and_cycle() -> None:
    phases = (phase("a", "10 w", line("t1", "1 cup od 3 w on 1 w off")),)
    skip = revised(pause(15, 28, SKIP), phases=phases)
    assert [(a, b) for a, b, _, _ in rows(skip)] == [(1, 14), (29, 49), (57, 70)]
    freeze = revised(pause(15, 28, FREEZE), phases=phases)
    assert [(a, b) for a, b, _, _ in rows(freeze)] == [(1, 14), (29, 35), (43, 63), (71, 84)]


def test_freeze_and_months_count_as_if_there_were_no_pause() -> None:
    phases = (
        phase("a", "1 mo", line("t1", "1 cup od")),  # 4 January to 3 February: 31 days
        phase("b", "1 mo", line("t1", "2 cups od")),  # 4 February to 3 March: 28 days
    )
    plan = revised(pause(11, 20, FREEZE), phases=phases)
    assert [(a, b) for a, b, _, _ in rows(plan)] == [(1, 10), (21, 41), (42, 69)]


def test_a_freeze_keeps_weekdays_and_moves_counted_days() -> None:
    phases = (
        phase("a", "3 w", line("t1", "1 cup od on mon"), line("t2", "1 cup od every 3 days")),
    )
    layout = lay_out(revised(pause(6, 7, FREEZE), phases=phases))
    taken = {
        r: sorted((d - START).days + 1 for d, x in days_of(layout) if x == r) for r in REMEDIES
    }
    assert taken["t1"] == [1, 8, 15, 22]  # START is a Monday
    assert taken["t2"] == [1, 4, 9, 12, 15, 18, 21]


def test_flare_over_a_week_off_and_what_stands_beside_it() -> None:
    phases = (
        phase("a", "6 w", line("t1", "1 cup od 2 w on 2 w off"), line("t2", "5 mL od")),
        RESCUE,
    )
    plan = revised(Flare(on=ON, first=day(11), last=day(20), rescue="flare"), phases=phases)
    assert rows(plan) == [
        (1, 10, "a", "1 cup od 2 w on 2 w off"),
        (11, 20, "flare", "2 cup qds"),
        (29, 42, "a", "1 cup od 2 w on 2 w off"),
    ]
    assert rows(plan, "t2") == [(1, 42, "a", "5 mL od")]
    assert rows(plan, "t3") == [(11, 20, "flare", "1 cup bd")]


def test_a_flare_that_stands_in_displaces_every_line() -> None:
    phases = (
        phase("a", "6 w", line("t1", "1 cup od"), line("t2", "5 mL od")),
        replace(RESCUE, stand_in=True),
    )
    plan = revised(Flare(on=ON, first=day(11), rescue="flare"), phases=phases)
    assert rows(plan, "t2") == [(1, 10, "a", "5 mL od"), (18, 42, "a", "5 mL od")]


def test_a_flare_displaces_its_remedies_on_all_its_days() -> None:
    """Also on those on which the rescue line itself is not taken."""
    rare = Phase("flare", "rescue", RESCUE.length, (line("t1", "2 cups od every 5 days"),))
    phases = (phase("a", "4 w", line("t1", "1 cup od")), rare)
    plan = revised(Flare(on=ON, first=day(8), rescue="flare"), phases=phases)
    taken = {(d - START).days + 1 for d, _ in days_of(lay_out(plan))}
    assert taken == {*range(1, 8), 8, 13, *range(15, 29)}


@pytest.mark.parametrize("mode", [SKIP, FREEZE])
def test_flare_in_a_pause_runs_and_keeps_its_dates(mode: PauseMode) -> None:
    plan = revised(pause(8, 21, mode), Flare(on=ON, first=day(10), last=day(12), rescue="flare"))
    assert (10, 12, "flare", "2 cup qds") in rows(plan)
    assert rows(plan, "t2")[0] == (1, 7, "loading", "5 mL od")
    earlier = revised(
        Flare(on=ON, first=day(30), last=day(32), rescue="flare"), pause(8, 21, mode)
    )
    assert (30, 32, "flare", "2 cup qds") in rows(earlier)


def test_redirect_inside_a_step_holds_to_the_end_of_the_phase() -> None:
    plan = revised(Redirect(on=ON, remedy="t1", first=day(22), directions=take("½ cup od")))
    assert rows(plan) == [
        (1, 21, "loading", "1 cup tds"),
        (22, 42, "loading", "0.5 cup od"),
        (43, 70, "maintenance", "1 cup od"),
    ]
    until = revised(
        Redirect(on=ON, remedy="t1", first=day(22), last=day(31), directions=take("½ cup od"))
    )
    assert rows(until)[1:3] == [(22, 31, "loading", "0.5 cup od"), (32, 42, "loading", "1 cup bd")]


def test_a_redirect_is_the_anchor_of_its_cycle_and_moves_with_its_phase() -> None:
    plan = revised(
        Redirect(on=ON, remedy="t1", first=day(50), directions=take("1 cup od 1 w on 1 w off")),
        Extend(on=ON, phase="loading", by=7),
    )
    assert rows(plan)[-3:] == [
        (50, 56, "maintenance", "1 cup od"),
        (57, 63, "maintenance", "1 cup od 1 w on 1 w off"),
        (71, 77, "maintenance", "1 cup od 1 w on 1 w off"),
    ]


def test_stop_during_a_flare_stops_everywhere() -> None:
    plan = revised(
        Flare(on=ON, first=day(8), last=day(14), rescue="flare"),
        Stop(on=ON, remedy="t1", first=day(11), reason="rash"),
    )
    assert rows(plan) == [(1, 7, "loading", "1 cup tds"), (8, 10, "flare", "2 cup qds")]
    assert rows(plan, "t3") == [(8, 14, "flare", "1 cup bd")]


def test_a_later_freeze_does_not_bring_back_what_was_stopped() -> None:
    plan = revised(Stop(on=ON, remedy="t1", first=day(15), reason="rash"), pause(8, 14, FREEZE))
    assert rows(plan) == [(1, 7, "loading", "1 cup tds")]


def test_end_inside_a_freeze() -> None:
    plan = revised(pause(8, 21, FREEZE), End(on=ON, first=day(15)))
    assert rows(plan) == [(1, 7, "loading", "1 cup tds")]
    assert lay_out(plan).days.last == day(14)


def test_end_cuts_flares_too() -> None:
    plan = revised(
        Flare(on=ON, first=day(8), last=day(14), rescue="flare"), End(on=ON, first=day(10))
    )
    assert rows(plan)[-1] == (8, 9, "flare", "2 cup qds")
    assert lay_out(plan).flares[0].span.last == day(9)


def test_advance_within_a_freeze_starts_the_phase_on_the_day_said() -> None:
    plan = revised(pause(8, 21, FREEZE), Advance(on=ON, to="maintenance", first=day(15)))
    assert [(r.phase.id, r.span.first, r.span.last) for r in lay_out(plan).phases] == [
        ("loading", day(1), day(7)),
        ("maintenance", day(15), day(42)),
    ]
    assert rows(plan)[-1] == (22, 42, "maintenance", "1 cup od")


def test_overlapping_freezes_each_move_what_comes_after() -> None:
    plan = revised(pause(8, 14, FREEZE), pause(12, 17, FREEZE))
    assert rows(plan)[:2] == [(1, 7, "loading", "1 cup tds"), (21, 41, "loading", "1 cup tds")]


def test_an_open_phase_can_be_extended_past_its_day() -> None:
    phases = (phase("a", None, line("t1", "1 cup od")),)
    plan = course(*phases, until=day(20), revisions=(Extend(on=ON, phase="a", by=5),))
    assert rows(plan) == [(1, 25, "a", "1 cup od")]


# Refusals: the revision, the field at fault, a phrase

REFUSED = [
    (Extend(on=ON, phase="nowhere", by=7), "phase", "expected one of loading, maintenance"),
    (Extend(on=ON, phase="flare", by=7), "phase", "expected one of loading, maintenance"),
    (Extend(on=day(43), phase="loading", by=7), "phase", "ended on 2027-02-14"),
    (Extend(on=ON, phase="loading", by=-42), "", "no day left"),
    (Advance(on=ON, to="nowhere", first=day(8)), "to", "expected one of"),
    (Advance(on=ON, to="loading", first=day(50)), "to", "does not lie ahead"),
    (Advance(on=ON, to="maintenance", first=day(50)), "to", "does not lie ahead"),
    (Advance(on=ON, to="maintenance", first=day(71)), "from", "from 2027-01-04 to 2027-03-14"),
    (Advance(on=day(45), to="maintenance", first=day(20)), "from", "ended on 2027-02-14"),
    (pause(9, 8, SKIP), "to", "before it begins"),
    (pause(0, 8, SKIP), "from", "outside the course"),
    (pause(60, 71, FREEZE), "to", "outside the course"),
    (Flare(on=ON, first=day(8), rescue="loading"), "rescue", "expected one of flare"),
    (Flare(on=ON, first=day(8), last=day(7), rescue="flare"), "to", "before it begins"),
    (Flare(on=ON, first=day(99), rescue="flare"), "from", "outside the course"),
    (
        Redirect(on=ON, remedy="t3", first=day(8), directions=take("1 cup od")),
        "remedy",
        "not taken in",
    ),
    (
        Redirect(on=ON, remedy="t1", first=day(8), last=day(7), directions=take("1 cup od")),
        "to",
        "before it begins",
    ),
    (
        Redirect(on=day(50), remedy="t1", first=day(8), directions=take("1 cup od")),
        "from",
        "ended on 2027-02-14",
    ),
    (Stop(on=ON, remedy="t1", first=day(71), reason="x"), "from", "outside the course"),
    (End(on=ON, first=day(71)), "from", "outside the course"),
]


@pytest.mark.parametrize(("revision", "field", "phrase"), REFUSED)
def test_impossible_revisions_are_refused_by_name(
    revision: Revision, field: str, phrase: str
) -> None:
    good = Extend(on=ON, phase="maintenance", by=1)
    with pytest.raises(RevisionError) as caught:
        lay_out(revised(revision))
    assert (caught.value.index, caught.value.field) == (0, field)
    assert phrase in str(caught.value)
    assert type(revision).__name__.lower() in str(caught.value)
    with pytest.raises(RevisionError) as second:
        lay_out(revised(Extend(on=ON, phase="maintenance", by=-1), good, revision))
    assert second.value.index == 2


def test_overlapping_flares_are_refused() -> None:
    first = Flare(on=ON, first=day(8), rescue="flare")
    with pytest.raises(RevisionError, match="overlaps the flare from 2027-01-11 to 2027-01-17"):
        lay_out(revised(first, Flare(on=ON, first=day(14), rescue="flare")))
    lay_out(revised(first, Flare(on=ON, first=day(15), rescue="flare")))


def test_a_protocol_without_a_rescue_phase_has_no_flares() -> None:
    phases = (phase("a", "6 w"),)
    with pytest.raises(RevisionError, match="expected a protocol that has one"):
        lay_out(revised(Flare(on=ON, first=day(8), rescue="a"), phases=phases))


def test_a_dropped_phase_cannot_be_changed() -> None:
    phases = (phase("a", "2 w"), phase("b", "2 w"), phase("c", "2 w"))
    moved = Advance(on=ON, to="c", first=day(8))
    with pytest.raises(RevisionError, match="expected one of a, c"):
        lay_out(revised(moved, Extend(on=ON, phase="b", by=1), phases=phases))


def test_an_extension_that_leaves_an_open_phase_no_day_is_refused() -> None:
    plan = course(
        phase("a", "2 w"),
        phase("b", None),
        until=day(20),
        revisions=(Extend(on=ON, phase="a", by=6),),
    )
    with pytest.raises(RevisionError, match="open phase “b” would begin"):
        lay_out(plan)


def test_a_redirection_of_a_phase_that_is_dropped_goes_with_it() -> None:
    line_of_b = line("t1", "1 cup bd")
    phases = (phase("a", "2 w"), phase("b", "2 w", line_of_b), phase("c", "2 w", line_of_b))
    twice = Redirect(on=ON, remedy="t1", first=day(16), directions=take("2 cups od"))
    moved = Advance(on=ON, to="c", first=day(8))
    (found,) = lay_out(revised(twice, moved, phases=phases)).stretches
    assert (found.phase, str(found.amount)) == ("c", "1")


def test_a_rescue_phase_without_a_length_needs_the_flares_last_day() -> None:
    phases = (phase("a", "6 w"), replace(phase("r", None), purpose="rescue"))
    with pytest.raises(RevisionError, match="no length of its own"):
        lay_out(revised(Flare(on=ON, first=day(8), rescue="r"), phases=phases))
    lay_out(revised(Flare(on=ON, first=day(8), last=day(9), rescue="r"), phases=phases))


def test_a_course_stood_with_the_decisions_made_until_then() -> None:
    stop = Stop(on=day(8), remedy=REMEDIES[0], first=day(9))
    end = End(on=day(10), first=day(20))
    plan = course(phase("a", "4 w", line(REMEDIES[0], "1 cup od")), revisions=(stop, end))
    assert as_it_stood(plan, day(7)).revisions == ()
    assert as_it_stood(plan, day(8)).revisions == (stop,)
    assert as_it_stood(plan, day(10)) == plan


def test_freezes_that_overlap_make_one_break_of_both_lengths() -> None:
    """Each moves what comes after it by its own length, so days 7 and 8 have no doses either."""
    first = Pause(on=day(1), first=day(3), last=day(5), mode=FREEZE)
    second = Pause(on=day(1), first=day(4), last=day(6), mode=FREEZE)
    layout = lay_out(course(phase("a", "2 w", line("t1", "1 cup od")), revisions=(first, second)))
    assert layout.pauses == (Span.of_days(day(3), day(8)),)
    assert [s.span for s in layout.stretches] == [
        Span.of_days(day(1), day(2)),
        Span.of_days(day(9), day(20)),
    ]
