"""Hours between a dose and a medicine that a herb is kept apart from.

Two clock times are so many minutes apart by the shorter way round the clock. Where the times of
the medicine are not known, the finding says how many hours to keep and when the doses fall.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from sennight.domain.client_facts.records import ORAL_MEDICINE
from sennight.domain.courses.clients import Fact
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span
from sennight.domain.day import DAY_MINUTES, ClientDay, Moment, as_minutes
from sennight.domain.herbs.herbs import Herb, Level
from sennight.domain.herbs.sources import Origin
from sennight.domain.safety.cautions import group_rules
from sennight.domain.safety.facts import ClientFacts
from sennight.domain.safety.finding_rules import HoursBetween
from sennight.domain.safety.findings import SEVERITY_OF, Finding
from sennight.domain.safety.rules import Apart
from sennight.domain.safety.statements import (
    DoseTimes,
    KeepHours,
    KeepNeededDoseApart,
    MoveDose,
    NoMomentIsFree,
    Quote,
    Step,
    TooNear,
)
from sennight.domain.safety.uses import Use

USUAL_HOURS = 2
"""Hours kept where a record says `separate` and no rule says how long: common practice."""


_GRAVE = frozenset(
    (Level.CONTRAINDICATED, Level.AVOID, Level.REFER, Level.CAUTION, Level.SEPARATE)
)


@dataclass(frozen=True, slots=True)
class _Kept:
    """What a herb is kept apart from, for how long, and who says so."""

    tag: str
    hours: int
    quote: Quote | None
    constituent: str
    hours_origin: Origin | None


def hours_apart(layout: Layout, use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """Every medicine of the client that a herb by mouth is not kept apart from."""
    for kept in _keepings(use.herb, facts):
        for fact in facts.facts.get(kept.tag, ()):
            if kept.tag == ORAL_MEDICINE and _is_said_of(use.herb, fact, facts):
                continue
            span = facts.span(fact, kept.tag, use.herb)
            near = [
                stretch
                for stretch in layout.stretches
                if stretch.remedy in use.oral and stretch.span.touches(span)
                if _is_near(stretch, fact, layout.course.client.day, kept)
            ]
            if near:
                yield _finding(layout, use, kept, _Near(fact, span, tuple(near)))


def _is_said_of(herb: Herb, fact: Fact, facts: ClientFacts) -> bool:
    """Whether more is said of the herb and this very medicine than of any medicine by mouth.

    Hours between them do not help where the two act on the same thing in the body.
    """
    tags = [caution.tag for caution in herb.all_cautions if caution.level in _GRAVE]
    tags += [rule.tag for rule in group_rules(herb, facts) if rule.level in _GRAVE]
    return any(tag != ORAL_MEDICINE and fact in facts.facts.get(tag, ()) for tag in tags)


def _keepings(herb: Herb, facts: ClientFacts) -> Iterator[_Kept]:
    """What the record says, with the hours of the rules; else the rules for the herb's groups."""
    hours = {rule.tag: rule for rule in reversed(facts.rules.apart)}
    spoken = {caution.tag for caution in herb.all_cautions if caution.level is not Level.INFO}
    for caution in herb.all_cautions:
        if caution.level is Level.SEPARATE and caution.tag in facts.facts:
            rule = _rule(herb, caution.tag, facts) or hours.get(caution.tag)
            apart_for = rule.hours if rule else USUAL_HOURS
            quote = Quote(herb.id, caution.tag, caution.level, caution.text, caution.origin)
            yield _Kept(caution.tag, apart_for, quote, "", rule.origin if rule else None)
    for rule in facts.rules.apart:
        if rule.tag in facts.facts and rule.tag not in spoken and rule.group.holds(herb):
            yield _Kept(rule.tag, rule.hours, None, rule.group.constituent, rule.origin)


def _rule(herb: Herb, tag: str, facts: ClientFacts) -> Apart | None:
    """The rule of a herb's groups for a medicine, the longest of several."""
    fits = [rule for rule in facts.rules.apart if rule.tag == tag and rule.group.holds(herb)]
    return max(fits, key=lambda rule: rule.hours, default=None)


@dataclass(frozen=True, slots=True)
class _Near:
    """A medicine, its days, and the stretches that come too near to it."""

    fact: Fact
    span: Span
    stretches: tuple[Stretch, ...]


def _is_near(stretch: Stretch, fact: Fact, day: ClientDay, kept: _Kept) -> bool:
    """Whether a dose comes too near, or may: as-needed doses and unknown times may."""
    if not fact.at or stretch.as_needed_max:
        return True
    taken = minutes(fact, day)
    return not all(_is_free(minute, taken, kept) for minute in stretch.times)


def minutes(fact: Fact, day: ClientDay) -> tuple[int, ...]:
    """When a medicine is taken, in minutes from the midnight that begins the client's day."""
    return tuple(
        day.minute(time) if isinstance(time, Moment) else as_minutes(time) for time in fact.at
    )


def apart(one: int, two: int) -> int:
    """Minutes between two clock times, by the shorter way round."""
    gap = abs(one - two) % DAY_MINUTES
    return min(gap, DAY_MINUTES - gap)


def _finding(layout: Layout, use: Use, kept: _Kept, near: _Near) -> Finding:
    remedies = tuple(dict.fromkeys(stretch.remedy for stretch in near.stretches))
    too_near = TooNear(
        herb=use.herb.id,
        medicine=near.fact.tag,
        hours=kept.hours,
        quote=kept.quote,
        constituent=kept.constituent,
        doses=tuple(_dose_times(remedy, near) for remedy in remedies),
        medicine_times=minutes(near.fact, layout.course.client.day),
        hours_origin=kept.hours_origin,
    )
    return Finding(
        severity=SEVERITY_OF[Level.SEPARATE],
        rule=HoursBetween(kept.tag, use.herb.id),
        fact=kept.tag,
        herbs=(use.herb.id,),
        remedies=remedies,
        days=tuple(stretch.span.overlap(near.span) for stretch in near.stretches),
        statements=(too_near,),
        steps=_better(layout, kept, near),
    )


def _dose_times(remedy: str, near: _Near) -> DoseTimes:
    mine = [stretch for stretch in near.stretches if stretch.remedy == remedy]
    times = sorted({minute for stretch in mine for minute in stretch.times})
    return DoseTimes(remedy, tuple(times), any(stretch.as_needed_max for stretch in mine))


def _better(layout: Layout, kept: _Kept, near: _Near) -> tuple[Step, ...]:
    """For each dose too near, the nearest moment of the client's day that is far enough."""
    day = layout.course.client.day
    if not near.fact.at:
        return (KeepHours(kept.hours),)
    taken = minutes(near.fact, day)
    moments = dict(zip(Moment, day.minutes, strict=True))
    free = {moment: minute for moment, minute in moments.items() if _is_free(minute, taken, kept)}
    steps: dict[Step, None] = {}
    for stretch in _ways(near.stretches):
        for minute in stretch.times:
            if not _is_free(minute, taken, kept):
                steps[_move(stretch.remedy, minute, free)] = None
        if stretch.as_needed_max:
            steps[KeepNeededDoseApart(stretch.remedy, kept.hours)] = None
    return tuple(steps)


def _is_free(minute: int, taken: Iterable[int], kept: _Kept) -> bool:
    return all(apart(minute, other) >= kept.hours * 60 for other in taken)


def _ways(stretches: Iterable[Stretch]) -> Iterable[Stretch]:
    """One stretch for each way in which a remedy is taken."""
    return {
        (stretch.remedy, stretch.times, stretch.as_needed_max): stretch for stretch in stretches
    }.values()


def _move(remedy: str, minute: int, free: Mapping[Moment, int]) -> Step:
    if not free:
        return NoMomentIsFree(remedy)
    best = min(free, key=lambda moment: (apart(free[moment], minute), free[moment]))
    return MoveDose(remedy, minute, best, free[best])
