"""Ethanol in tinctures: for whom it is left out, and how much one dose gives."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from itertools import pairwise

from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span, joined
from sennight.domain.exposure.ethanol import EthanolRow, ethanol_rows, grams_per_dose
from sennight.domain.safety.facts import EVER, UNDER, ClientFacts, Met, plain_span
from sennight.domain.safety.finding_rules import EthanolInDose, EthanolWithFact
from sennight.domain.safety.findings import GRAVEST, SEVERITY_OF, Finding
from sennight.domain.safety.herb_rules import HerbRule
from sennight.domain.safety.rules import DoseLimit
from sennight.domain.safety.statements import (
    EthanolDose,
    EthanolSpokenAgainst,
)
from sennight.domain.safety.steps import (
    FormWithoutEthanol,
    LessInOneDose,
)
from sennight.domain.safety.uses import chosen, meeting, remedy_days

USUAL_WEIGHT = Fraction(60)
"""kg taken where the weight is not known: common practice, a light adult."""
GROWN_UP = 18
AT_ONCE = 15
"""Minutes within which doses count as taken at once: common practice."""


def ethanol_findings(layout: Layout, facts: ClientFacts) -> Iterator[Finding]:
    """What speaks against the ethanol of the course's tinctures."""
    rows = [row for row in ethanol_rows(layout) if row.strength is None or row.strength > 0]
    if rows:
        yield from _told_once(
            [
                _met(layout, rule, met, rows)
                for rule in facts.rules.herb_rules.on_alcohol
                for met in facts.met.get(rule.id, ())
            ]
        )
        at_once = tuple(_at_once(layout))
        for limit in facts.rules.dose_limits:
            yield from _dose(limit, at_once, layout.course.start, facts)


def _told_once(found: Sequence[Finding]) -> Iterator[Finding]:
    """Without what is told of the same days for a lower age, or more gravely of the same facts."""
    for finding in found:
        others = [other for other in found if _says_it_all(other, finding)]
        told = joined(tuple(span for other in others for span in other.days))
        if not all(any(span.overlap(day) == day for span in told) for day in finding.days):
            yield finding


def _says_it_all(other: Finding, finding: Finding) -> bool:
    """Whether another finding makes one superfluous, on days that they share."""
    graver = GRAVEST.index(finding.severity) - GRAVEST.index(other.severity)
    if 0 < _years(other) < _years(finding):
        return graver >= 0
    return graver > 0 and bool(finding.met) and set(finding.met) <= set(other.met)


def _years(finding: Finding) -> int:
    """The age that a finding is for people under; 0 for one of no age."""
    tag = finding.rule.tag if isinstance(finding.rule, EthanolWithFact) else ""
    return int(tag.removeprefix(UNDER)) if tag.startswith(UNDER) else 0


def _met(layout: Layout, rule: HerbRule, met: Met, rows: list[EthanolRow]) -> Finding:
    spans = [*met.spans, *map(plain_span, met.facts)]
    tinctures = {row.remedy for row in rows}
    remedies, days = meeting(chosen(remedy_days(layout), tinctures.__contains__), spans)
    return Finding(
        severity=SEVERITY_OF[rule.level],
        rule=EthanolWithFact(met.tag),
        fact="age" if met.tag.startswith(UNDER) else met.tag,
        herbs=(),
        remedies=remedies,
        days=days,
        statements=(EthanolSpokenAgainst(met.tag, rule.text, rule.origins),),
        steps=(FormWithoutEthanol(),),
        met=met.facts,
    )


# What is taken at once


@dataclass(frozen=True, slots=True)
class _AtOnce:
    """The most grams of ethanol at one time on a run of days, and the remedies that give them."""

    span: Span
    grams: Fraction
    remedies: tuple[str, ...]


def _dose(
    limit: DoseLimit, at_once: Sequence[_AtOnce], start: date, facts: ClientFacts
) -> Iterator[Finding]:
    """Where so much is taken at once that a threshold for this client is passed."""
    weight = facts.client.weight_kg or _usual_weight(facts.client.born, start)
    spans = _days_of(limit, facts)
    most_grams = limit.mg_per_kg * weight / 1000
    over = [
        (amount, span.overlap(amount.span))
        for amount in at_once
        if amount.grams > most_grams
        for span in spans
        if span.touches(amount.span)
    ]
    if over:
        worst = max((amount for amount, _ in over), key=lambda amount: amount.grams)
        most = worst.grams * 1000 / weight
        assumed = None if facts.client.weight_kg else weight
        yield Finding(
            severity=SEVERITY_OF[limit.level],
            rule=EthanolInDose(limit.mg_per_kg),
            fact="",
            herbs=(),
            remedies=tuple(
                dict.fromkeys(remedy for amount, _ in over for remedy in amount.remedies)
            ),
            days=tuple(days for _, days in over),
            statements=(EthanolDose(worst.remedies, most, assumed, limit.text, limit.origin),),
            steps=(LessInOneDose(),),
        )


def _days_of(limit: DoseLimit, facts: ClientFacts) -> tuple[Span, ...]:
    """The days on which a threshold is about this client."""
    if not limit.tags:
        return (EVER,)
    return tuple(span for tag in limit.tags for span in _tag_days(tag, facts))


def _tag_days(tag: str, facts: ClientFacts) -> tuple[Span, ...]:
    if tag.startswith(UNDER):
        return facts.under(Fraction(int(tag.removeprefix(UNDER))))
    return facts.plain_days(tag)


def _usual_weight(born: date | None, day: date) -> Fraction:
    """kg where no weight is recorded: a light adult, a child by (years + 4) × 2.

    The rule for children is that of resuscitation courses (APLS), from memory.
    """
    years = (day - born).days // 365 if born else GROWN_UP
    return min(USUAL_WEIGHT, Fraction((years + 4) * 2)) if years < GROWN_UP else USUAL_WEIGHT


def _at_once(layout: Layout) -> Iterator[_AtOnce]:
    """The most that is taken within a quarter of an hour, run by run.

    Lines that fall on different days of a run count as if they met, and a dose as needed may
    come beside any other, so it may overstate, never understate.
    """
    doses = [
        (stretch, dose)
        for stretch in layout.stretches
        if (dose := grams_per_dose(layout.course.remedy(stretch.formula), stretch))
    ]
    edges = sorted(
        {edge for stretch, _ in doses for edge in (stretch.span.first, stretch.span.end)}
    )
    known: dict[tuple[object, ...], tuple[Fraction, tuple[str, ...]]] = {}
    for first, end in pairwise(edges):
        current = [
            (stretch, dose)
            for stretch, dose in doses
            if stretch.span.first <= first < stretch.span.end
        ]
        if current:
            key = tuple((id(s.directions), s.remedy, s.formula) for s, _ in current)
            if key not in known:  # cycles come round to the same doses again and again
                known[key] = _fullest(current)
            yield _AtOnce(Span(first, end), *known[key])


def _fullest(doses: list[tuple[Stretch, Fraction]]) -> tuple[Fraction, tuple[str, ...]]:
    """The quarter of an hour in which most is taken: the grams, and the remedies."""
    needed = [(stretch, dose) for stretch, dose in doses if stretch.as_needed_max]
    groups = [needed]
    for begin in {minute for stretch, _ in doses for minute in stretch.times}:
        timed = [
            (stretch, dose)
            for stretch, dose in doses
            if not stretch.as_needed_max
            and any(begin <= minute <= begin + AT_ONCE for minute in stretch.times)
        ]
        groups.append([*timed, *needed])
    most = max(groups, key=lambda group: sum(dose for _, dose in group))
    total = sum((dose for _, dose in most), Fraction(0))
    return total, tuple(dict.fromkeys(stretch.remedy for stretch, _ in most))
