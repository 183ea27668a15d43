"""What follows from how remedies are made and used: sugar, essential oils, places, steam."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from sennight.domain.courses.protocols import Line
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span, joined
from sennight.domain.remedies.contents import Unknown, essential_oil_percent, sugar_grams
from sennight.domain.remedies.forms import Form, is_for_skin
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.remedies.sites import is_deep, is_delicate, sites_named
from sennight.domain.safety.facts import ClientFacts
from sennight.domain.safety.finding_rules import (
    DeepSite,
    EssentialOilOver,
    SteamForChild,
    SugarWithFact,
)
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.statements import EssentialOils, SiteLiesDeep, SteamScalds, SugarTaken
from sennight.domain.safety.uses import RemedyDays, meeting

SUGAR_MATTERS = ("diabetes",)
SUGAR_TOLD = Fraction(5)
"""Grams of sugar a day from which labels tell people with diabetes of it: EMA, annex on
excipients, sucrose (from memory)."""

MOST_OIL = Fraction(3)
"""Percent of essential oils in what an adult rubs in (common practice: 1 to 3).

Some texts give more of one oil; so over it is a caution, and never stops giving.
"""

MOST_OIL_DELICATE = Fraction(1)
"""The same for the face and for children (common practice)."""

CHILD = Fraction(12)
"""Years; in UK burns units children scalded at steam inhalations were 7 on average (British
Journal of General Practice 2016, as reported). The age itself is common practice."""


def preparation_findings(layout: Layout, facts: ClientFacts) -> Iterator[Finding]:
    """All that the preparations of a course's remedies bring up."""
    yield from _sugar(layout, facts)
    for formula in layout.course.remedies:
        if is_for_skin(formula.form):
            yield from _oils(layout, formula, facts)
    yield from _deep(layout)
    yield from _steam(layout, facts)


# Sugar


def _sugar(layout: Layout, facts: ClientFacts) -> Iterator[Finding]:
    doses = [
        (stretch, grams)
        for stretch in layout.stretches
        if (grams := _sugar_of(layout, stretch)) is not None
    ]
    taken = _days(stretch for stretch, _ in doses)
    for tag in SUGAR_MATTERS:
        remedies, days = meeting(taken, facts.plain_days(tag))
        known = [(stretch, grams) for stretch, grams in doses if not isinstance(grams, Unknown)]
        a_day = max((grams * _most(stretch) for stretch, grams in known), default=None)
        if remedies and a_day != 0:
            is_little = len(known) == len(doses) and a_day is not None and a_day < SUGAR_TOLD
            yield Finding(
                severity=Severity.NOTE if is_little else Severity.CAUTION,
                rule=SugarWithFact(tag),
                fact=tag,
                herbs=(),
                remedies=remedies,
                days=days,
                statements=(SugarTaken(max((grams for _, grams in known), default=None), a_day),),
            )


def _sugar_of(layout: Layout, stretch: Stretch) -> Fraction | Unknown | None:
    formula = layout.course.remedy(stretch.formula)
    return sugar_grams(formula, stretch.directions.largest, stretch.unit)


def _most(stretch: Stretch) -> int:
    return len(stretch.times) + (stretch.as_needed_max or 0)


def _days(stretches: Iterable[Stretch]) -> RemedyDays:
    spans: dict[str, tuple[Span, ...]] = {}
    for stretch in stretches:
        spans[stretch.remedy] = joined((*spans.get(stretch.remedy, ()), stretch.span))
    return spans


# Essential oils


def _oils(layout: Layout, formula: Remedy, facts: ClientFacts) -> Iterator[Finding]:
    used = [stretch for stretch in layout.stretches if stretch.formula == formula.id]
    percent = essential_oil_percent(formula)
    if not used or percent is None:
        return
    delicate = _is_delicate(layout, used, facts)
    most = MOST_OIL_DELICATE if delicate else MOST_OIL
    if percent > most:
        taken = _days(used)
        yield Finding(
            severity=Severity.CAUTION,
            rule=EssentialOilOver(formula.id),
            fact="",
            herbs=(),
            remedies=tuple(taken),
            days=tuple(span for spans in taken.values() for span in spans),
            statements=(EssentialOils(percent, most, delicate),),
        )


def _is_delicate(layout: Layout, used: list[Stretch], facts: ClientFacts) -> bool:
    """Whether it goes on delicate skin, or on that of a child, on any of its days."""
    places = {(stretch.phase, stretch.remedy) for stretch in used}
    young = [
        span.overlap(stretch.span)
        for span in facts.under(CHILD)
        for stretch in used
        if span.touches(stretch.span)
    ]
    lines = _lines(layout)
    return bool(young) or any(is_delicate(lines[place].site) for place in places & set(lines))


def _lines(layout: Layout) -> dict[tuple[str, str], Line]:
    return {
        (phase.id, line.remedy): line
        for phase in layout.course.protocol.phases
        for line in phase.lines
    }


# Places


def _deep(layout: Layout) -> Iterator[Finding]:
    lines = _lines(layout)
    for remedy in layout.course.remedies:
        deep = [
            (stretch, lines[stretch.phase, stretch.remedy].site)
            for stretch in layout.stretches
            if stretch.remedy == remedy.id
            and (stretch.phase, stretch.remedy) in lines
            and is_for_skin(layout.course.remedy(stretch.formula).form)
        ]
        deep = [(stretch, site) for stretch, site in deep if is_deep(site)]
        if deep:
            named = dict.fromkeys(site for _, words in deep for site in sites_named(words))
            yield Finding(
                severity=Severity.NOTE,
                rule=DeepSite(remedy.id),
                fact="",
                herbs=(),
                remedies=(remedy.id,),
                days=joined(tuple(stretch.span for stretch, _ in deep)),
                statements=(SiteLiesDeep(tuple(s.name for s in named if s.is_deep)),),
            )


# Steam


def _steam(layout: Layout, facts: ClientFacts) -> Iterator[Finding]:
    taken = _days(
        stretch
        for stretch in layout.stretches
        if layout.course.remedy(stretch.formula).form is Form.STEAM
    )
    for remedy, spans in taken.items():
        remedies, days = meeting({remedy: spans}, facts.under(CHILD))
        if remedies:
            yield Finding(
                severity=Severity.AVOID,
                rule=SteamForChild(remedy),
                fact="",
                herbs=(),
                remedies=remedies,
                days=days,
                statements=(SteamScalds(),),
            )
