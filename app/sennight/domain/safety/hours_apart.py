"""Hours between a dose and a medicine that a herb is kept apart from.

Two clock times are so many minutes apart by the shorter way round the clock. Where the times of
the medicine are not known, the finding says how many hours to keep and when the doses fall.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, permutations

from sennight.domain.client_facts.records import ORAL_MEDICINE
from sennight.domain.courses.clients import Client, Fact
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span
from sennight.domain.day import DAY_MINUTES, ClientDay, Moment, as_minutes
from sennight.domain.herbs.herbs import Herb, Level
from sennight.domain.herbs.sources import Origin
from sennight.domain.safety.facts import ClientFacts
from sennight.domain.safety.finding_rules import FindingRule, HoursBetween
from sennight.domain.safety.findings import SEVERITY_OF, Finding
from sennight.domain.safety.rule_findings import Active, active_rules, exempt
from sennight.domain.safety.statements import (
    DoseTimes,
    Quote,
    TooNear,
)
from sennight.domain.safety.steps import (
    KeepHours,
    KeepNeededDoseApart,
    MoveDose,
    NoMomentIsFree,
    Step,
)
from sennight.domain.safety.uses import Use

USUAL_HOURS = 2
"""Hours kept where a record says `separate` and no rule says how long: common practice."""
BINDS = "binds-with-tannins-or-minerals"
"""The medicines whose records have hours of their own."""


_GRAVE = frozenset((Level.CONTRAINDICATED, Level.AVOID, Level.REFER, Level.CAUTION))


@dataclass(frozen=True, slots=True)
class _Kept:
    """What a herb is kept apart from, for how long, how gravely, and who says so."""

    tag: str
    hours: int
    level: Level
    quote: Quote
    hours_origin: Origin | None


def hours_apart(layout: Layout, use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """Every medicine of the client that a herb by mouth is not kept apart from.

    Hours between them do not help where the two act on the same thing in the body, so none are
    told where more is said of the pair.
    """
    if not use.oral:
        return
    active = tuple(active_rules(use.herb, facts))
    for fact in facts.client.medicines:
        kept = _longest(use.herb, fact, active, facts)
        if kept is None or _is_said_of(use.herb, fact, active, facts):
            continue
        if kept.tag == ORAL_MEDICINE and _is_never_delayed(fact, facts):
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


def _is_never_delayed(fact: Fact, facts: ClientFacts) -> bool:
    """Whether a medicine is taken when it is needed, and nobody should wait with it."""
    return any(fact in facts.facts.get(tag, ()) for tag in facts.rules.never_delayed)


def _is_said_of(herb: Herb, fact: Fact, active: Active, facts: ClientFacts) -> bool:
    """Whether more is said of the herb and this very medicine, but for what is said of any.

    What is said of the condition that a medicine is for is not said of the medicine.
    """
    tags = [caution.tag for caution in herb.all_cautions if caution.level in _GRAVE]
    of_record = any(
        fact in facts.facts.get(tag, ()) and fact not in exempt(herb, tag, facts)
        for tag in tags
        if not facts.rules.records.is_condition(tag)
    )
    return of_record or any(
        fact in met.facts and not facts.rules.records.is_condition(met.tag)
        for rule, found in active
        if rule.level in _GRAVE and rule.hours is None and not rule.herbs.every
        for met in found
    )


def _longest(herb: Herb, fact: Fact, active: Active, facts: ClientFacts) -> _Kept | None:
    """The longest hours that record and rules give; of equals those said of the medicine itself.

    What a record says of a medicine goes before what a rule says of any by mouth.
    """
    kept = (*_of_record(herb, fact, active, facts), *_of_rules(herb, fact, active, facts))
    return max(
        kept, key=lambda keeping: (keeping.hours, keeping.tag != ORAL_MEDICINE), default=None
    )


def _of_record(herb: Herb, fact: Fact, active: Active, facts: ClientFacts) -> Iterator[_Kept]:
    """What the record says, with the hours of the rules for that medicine, else the usual."""
    hours = {
        met.tag: rule
        for rule, found in active
        for met in found
        if rule.hours is not None and fact in met.facts and not rule.herbs.every
    }
    for caution in herb.all_cautions:
        if caution.level is Level.SEPARATE and fact in facts.facts.get(caution.tag, ()):
            rule = hours.get(caution.tag)
            quote = Quote(herb.id, caution.tag, caution.level, caution.text, caution.origin)
            apart_for = rule.hours if rule and rule.hours else USUAL_HOURS
            origin = rule.origins[0] if rule else None
            yield _Kept(caution.tag, apart_for, caution.level, quote, origin)


def _of_rules(herb: Herb, fact: Fact, active: Active, facts: ClientFacts) -> Iterator[_Kept]:
    """What rules say where the record does not speak of hours to that medicine."""
    spoken = {caution.tag for caution in herb.all_cautions if caution.level is Level.SEPARATE}
    for rule, found in active:
        for met in found:
            if rule.hours is not None and fact in met.facts and met.tag not in spoken:
                first, *also = rule.origins
                quote = Quote(herb.id, met.tag, rule.level, rule.text, first, tuple(also))
                hours = max(rule.hours, _own_hours(fact, met.tag, facts))
                yield _Kept(met.tag, hours, rule.level, quote, first)


def _own_hours(fact: Fact, tag: str, facts: ClientFacts) -> int:
    """The hours to tannins, minerals and fibre that a medicine's own record gives."""
    record = facts.rules.records.medicines.get(fact.tag) if tag == BINDS else None
    return record.hours_apart or 0 if record else 0


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
        herbs=(use.herb.id,),
        medicine=near.fact.name or near.fact.tag,
        hours=kept.hours,
        quote=kept.quote,
        doses=tuple(_dose_times(remedy, near) for remedy in remedies),
        medicine_times=minutes(near.fact, layout.course.client.day),
        hours_origin=kept.hours_origin,
    )
    return Finding(
        severity=SEVERITY_OF[kept.level],
        rule=HoursBetween(kept.tag, use.herb.id),
        fact=kept.tag,
        herbs=(use.herb.id,),
        remedies=remedies,
        days=tuple(stretch.span.overlap(near.span) for stretch in near.stretches),
        statements=(too_near,),
        steps=_better(layout, kept, near),
        met=(near.fact,),
    )


def settled(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Hours apart without two doses of one remedy sent to one time, nor one dose to two.

    The longest hours are seen to first. What then fits nowhere is only told to be kept apart.
    """
    longest = sorted(
        (finding for finding in findings if isinstance(finding.rule, HoursBetween)),
        key=lambda finding: -_hours(finding),
    )
    moves: dict[tuple[str, int], MoveDose] = {}
    steps: dict[FindingRule, tuple[Step, ...]] = {}
    for finding in longest:
        steps[finding.rule] = tuple(
            dict.fromkeys(_settled(step, _hours(finding), moves) for step in finding.steps)
        )
    return tuple(
        replace(finding, steps=steps[finding.rule]) if finding.rule in steps else finding
        for finding in findings
    )


def _settled(step: Step, hours: int, moves: dict[tuple[str, int], MoveDose]) -> Step:
    """A step beside those before it, which it joins where it goes with them."""
    if not isinstance(step, MoveDose):
        return step
    known = moves.get((step.remedy, step.minute))
    if known is not None:
        return known
    taken = {move.to_minute for (remedy, _), move in moves.items() if remedy == step.remedy}
    if step.to_minute in taken:
        return KeepHours(hours)
    moves[step.remedy, step.minute] = step
    return step


def _hours(finding: Finding) -> int:
    return max((s.hours for s in finding.statements if isinstance(s, TooNear)), default=0)


def _dose_times(remedy: str, near: _Near) -> DoseTimes:
    mine = [stretch for stretch in near.stretches if stretch.remedy == remedy]
    times = sorted({minute for stretch in mine for minute in stretch.times})
    return DoseTimes(remedy, tuple(times), any(stretch.as_needed_max for stretch in mine))


def _better(layout: Layout, kept: _Kept, near: _Near) -> tuple[Step, ...]:
    """For the doses too near, the nearest moments of the client's day that are far enough.

    Far enough from every medicine of which the times are known, and from the remedy's other
    doses: times are given only where they do for the whole day.
    """
    day = layout.course.client.day
    if not near.fact.at:
        return (KeepHours(kept.hours),)
    taken = minutes(near.fact, day)
    free = free_moments(layout.course.client, kept.hours)
    steps: dict[Step, None] = {}
    for stretch in _ways(near.stretches):
        too_near = [minute for minute in stretch.times if not _is_free(minute, taken, kept)]
        steps |= dict.fromkeys(_moves(stretch, too_near, free, kept.hours))
        if stretch.as_needed_max:
            steps[KeepNeededDoseApart(stretch.remedy, kept.hours)] = None
    return tuple(steps)


def free_moments(client: Client, hours: int) -> dict[Moment, int]:
    """The moments of a client's day that are so many hours from every medicine, in minutes."""
    taken = [minute for fact in client.medicines for minute in minutes(fact, client.day)]
    moments = zip(Moment, client.day.minutes, strict=True)
    return {moment: minute for moment, minute in moments if are_apart(minute, taken, hours * 60)}


def are_apart(minute: int, others: Iterable[int], gap: int) -> bool:
    """Whether a clock time is so many minutes from all others."""
    return all(apart(minute, other) >= gap for other in others)


def gap_of_doses(times: Sequence[int], hours: int) -> int:
    """Minutes kept between doses of one remedy: the hours, or what they are apart now if less."""
    now = (apart(first, second) for first, second in combinations(times, 2))
    return min(hours * 60, min(now, default=DAY_MINUTES))


def _is_free(minute: int, taken: Iterable[int], kept: _Kept) -> bool:
    return are_apart(minute, taken, kept.hours * 60)


def _ways(stretches: Iterable[Stretch]) -> Iterable[Stretch]:
    """One stretch for each way in which a remedy is taken."""
    return {
        (stretch.remedy, stretch.times, stretch.as_needed_max): stretch for stretch in stretches
    }.values()


def _moves(
    stretch: Stretch, too_near: Sequence[int], free: Mapping[Moment, int], hours: int
) -> tuple[Step, ...]:
    """Each dose that is too near moved, by the least in all; none where they do not all fit."""
    gap = gap_of_doses(stretch.times, hours)
    stay = [minute for minute in stretch.times if minute not in too_near]
    ways = [
        way
        for way in permutations(free, len(too_near))
        if _are_spaced([free[moment] for moment in way], stay, gap)
    ]
    if not ways:
        return (NoMomentIsFree(stretch.remedy),)

    def moved(way: Iterable[Moment]) -> tuple[int, list[int]]:
        to = [free[moment] for moment in way]
        return sum(map(apart, to, too_near)), to

    return tuple(
        MoveDose(stretch.remedy, minute, moment, free[moment])
        for minute, moment in zip(too_near, min(ways, key=moved), strict=True)
    )


def _are_spaced(to: Sequence[int], stay: Sequence[int], gap: int) -> bool:
    return all(are_apart(minute, (*to[:n], *stay), gap) for n, minute in enumerate(to))
