"""Hours between a dose and a medicine that a herb is kept apart from.

Two clock times are so many minutes apart by the shorter way round the clock. Where the times of
the medicine are not known, the finding says how many hours to keep and when the doses fall.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from sennight.domain.courses.clients import Fact
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span
from sennight.domain.day import DAY_MINUTES, ClientDay, Moment, as_minutes, clock
from sennight.domain.directions.plain_words import counted, listed
from sennight.domain.herbs.herbs import Herb, Level
from sennight.domain.safety.cautions import words_of
from sennight.domain.safety.facts import ClientFacts
from sennight.domain.safety.findings import SEVERITY_OF, Finding
from sennight.domain.safety.rules import Apart
from sennight.domain.safety.uses import Use
from sennight.domain.tag_words import lower_first

USUAL_HOURS = 2
"""Hours kept where a record says `separate` and no rule says how long: common practice."""


@dataclass(frozen=True, slots=True)
class _Kept:
    """What a herb is kept apart from, for how long, and who says so."""

    tag: str
    hours: int
    text: str
    source: str


def hours_apart(layout: Layout, use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """Every medicine of the client that a herb by mouth is not kept apart from."""
    for kept in _keepings(use.herb, facts):
        for fact in facts.facts.get(kept.tag, ()):
            span = facts.span(fact, kept.tag, use.herb)
            near = [
                one
                for one in layout.stretches
                if one.remedy in use.oral and one.span.touches(span)
                if _is_near(one, fact, layout.course.client.day, kept)
            ]
            if near:
                name = facts.rules.words.phrase(fact.tag).removeprefix("with ")
                yield _finding(layout, use, kept, _Near(fact, name, span, tuple(near)))


def _keepings(herb: Herb, facts: ClientFacts) -> Iterator[_Kept]:
    """What the record says, with the hours of the rules; else the rules for the herb's groups."""
    hours = {rule.tag: rule for rule in reversed(facts.rules.apart)}
    spoken = {one.tag for one in herb.all_cautions if one.level is not Level.INFO}
    for one in herb.all_cautions:
        if one.level is Level.SEPARATE and one.tag in facts.facts:
            rule = _rule(herb, one.tag, facts) or hours.get(one.tag)
            apart_for = rule.hours if rule else USUAL_HOURS
            yield _Kept(one.tag, apart_for, words_of(one), _sources(str(one.origin), rule))
    for rule in facts.rules.apart:
        if rule.tag in facts.facts and rule.tag not in spoken and rule.group.holds(herb):
            reason = f"it contains {facts.rules.words.label(rule.group.constituent)}"
            yield _Kept(rule.tag, rule.hours, reason, str(rule.origin))


def _rule(herb: Herb, tag: str, facts: ClientFacts) -> Apart | None:
    """The rule of a herb's groups for a medicine, the longest of several."""
    fits = [one for one in facts.rules.apart if one.tag == tag and one.group.holds(herb)]
    return max(fits, key=lambda one: one.hours, default=None)


def _sources(own: str, rule: Apart | None) -> str:
    said = str(rule.origin) if rule else "common practice"
    return own if said == own else f"{own}; hours: {said}"


@dataclass(frozen=True, slots=True)
class _Near:
    """A medicine, its name, its days, and the stretches that come too near to it."""

    fact: Fact
    name: str
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
    return tuple(day.minute(t) if isinstance(t, Moment) else as_minutes(t) for t in fact.at)


def apart(one: int, two: int) -> int:
    """Minutes between two clock times, by the shorter way round."""
    gap = abs(one - two) % DAY_MINUTES
    return min(gap, DAY_MINUTES - gap)


def _finding(layout: Layout, use: Use, kept: _Kept, near: _Near) -> Finding:
    day = layout.course.client.day
    remedies = tuple(dict.fromkeys(one.remedy for one in near.stretches))
    return Finding(
        severity=SEVERITY_OF[Level.SEPARATE],
        id=f"hours.{kept.tag}.{use.herb.id}",
        fact=kept.tag,
        herbs=(use.herb.id,),
        remedies=remedies,
        days=tuple(one.span.overlap(near.span) for one in near.stretches),
        text=(
            f"Keep {lower_first(use.herb.name)} and {near.name} "
            f"{counted(kept.hours, 'hour')} apart ({lower_first(kept.text)}). "
            f"{_when(layout, near)}, {_medicine_at(near, day)}."
        ),
        source=kept.source,
        instead=_better(layout, kept, near),
    )


def _when(layout: Layout, near: _Near) -> str:
    said = []
    for remedy in dict.fromkeys(one.remedy for one in near.stretches):
        mine = [one for one in near.stretches if one.remedy == remedy]
        times = sorted({minute for one in mine for minute in one.times})
        when = [f"at {listed([clock(t) for t in times])}"] if times else []
        when += ["as needed"] if any(one.as_needed_max for one in mine) else []
        said.append(f"{layout.course.remedy(remedy).name} is taken {' and '.join(when)}")
    return "; ".join(said)


def _medicine_at(near: _Near, day: ClientDay) -> str:
    if not near.fact.at:
        return f"and the times of the {near.name} are not recorded"
    return f"the {near.name} at {listed([clock(t) for t in minutes(near.fact, day)])}"


def _better(layout: Layout, kept: _Kept, near: _Near) -> tuple[str, ...]:
    """For each dose too near, the nearest moment of the client's day that is far enough."""
    day = layout.course.client.day
    if not near.fact.at:
        return (f"Keep {counted(kept.hours, 'hour')} between them.",)
    taken = minutes(near.fact, day)
    moments = dict(zip(Moment, day.minutes, strict=True))
    free = {m: at for m, at in moments.items() if _is_free(at, taken, kept)}
    said: dict[str, None] = {}
    for one in _ways(near.stretches):
        name = layout.course.remedy(one.remedy).name
        for minute in one.times:
            if not _is_free(minute, taken, kept):
                said[_move(name, minute, free)] = None
        if one.as_needed_max:
            gap = counted(kept.hours, "hour")
            said[f"When {name} is taken as needed, keep it {gap} from the medicine."] = None
    return tuple(said)


def _is_free(minute: int, taken: Iterable[int], kept: _Kept) -> bool:
    return all(apart(minute, other) >= kept.hours * 60 for other in taken)


def _ways(stretches: Iterable[Stretch]) -> Iterable[Stretch]:
    """One stretch for each way in which a remedy is taken."""
    return {(s.remedy, s.times, s.as_needed_max): s for s in stretches}.values()


def _move(name: str, minute: int, free: Mapping[Moment, int]) -> str:
    if not free:
        return f"No moment of the client's day is far enough from the medicine for {name}."
    best = min(free, key=lambda moment: (apart(free[moment], minute), free[moment]))
    return f"Take {name} at {best} ({clock(free[best])}) instead of {clock(minute)}."
