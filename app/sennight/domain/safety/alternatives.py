"""What one could do instead: another herb with the same wanted action and no finding."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.herbs.doses import Route
from sennight.domain.herbs.herbs import Herb, MateriaMedica
from sennight.domain.safety.cautions import SURGERY, group_rules, own_tags
from sennight.domain.safety.facts import UNDER, ClientFacts
from sennight.domain.safety.finding_rules import (
    FindingRule,
    HerbAfterReaction,
    HerbAtAge,
    HerbWithFact,
)
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.statements import OtherHerbs

MOST = 3
"""So many herbs are named at most."""


def with_herbs_instead(
    found: Sequence[Finding], materia_medica: MateriaMedica, facts: ClientFacts, layout: Layout
) -> Iterator[Finding]:
    """The findings, those about one herb and a client's fact with other herbs to choose from."""
    course, days = layout.course, layout.days
    open_to_all: list[Herb] | None = None
    in_course = {herb for one in found for herb in one.herbs}
    for one in found:
        herb = materia_medica.herb(one.herbs[0]) if len(one.herbs) == 1 else None
        if herb and one.severity is not Severity.NOTE and _is_about_herb(one.rule):
            if open_to_all is None:
                then = facts.within(days)
                open_to_all = [o for o in materia_medica.herbs.values() if _is_open(o, then, days)]
            others = [other for other in open_to_all if other.id not in in_course]
            yield replace(one, steps=(*one.steps, *_instead(herb, others, course.protocol.aims)))
        else:
            yield one


def _is_open(herb: Herb, facts: ClientFacts, days: Span) -> bool:
    """Whether a herb by mouth has nothing recorded against it for this client on these days."""
    tags = own_tags(herb) - facts.rules.told_tags
    allergies = {fact.tag for fact in facts.client.allergies}
    return (
        Route.ORAL in herb.routes
        and SURGERY not in facts.facts
        and not tags.intersection(facts.facts)
        and not any(span.touches(days) for span in facts.under(_least_age(herb)))
        and not any(herb.id in one.herbs for one in facts.client.reactions)
        and allergies.isdisjoint((herb.id, *(one.tag for one in herb.constituents)))
        and next(group_rules(herb, facts), None) is None
    )


def _least_age(herb: Herb) -> Fraction:
    named = [one.tag.removeprefix(UNDER) for one in herb.all_cautions if one.tag.startswith(UNDER)]
    return max(herb.min_age.value, *(Fraction(years) for years in named), Fraction(0))


def _is_about_herb(rule: FindingRule) -> bool:
    return isinstance(rule, HerbWithFact | HerbAtAge | HerbAfterReaction)


def _instead(herb: Herb, others: Sequence[Herb], aims: Sequence[str]) -> Iterator[OtherHerbs]:
    """Herbs that share a wanted action with this one, those with most of them first."""
    wanted = [tag for tag in herb.actions.tags if tag in aims] or list(herb.actions.tags)
    shared = {other.id: _shared(other, wanted) for other in others}
    best = sorted(
        (other for other in others if shared[other.id]),
        key=lambda other: (-len(shared[other.id]), other.name),
    )
    if best:
        action = shared[best[0].id][0]
        yield OtherHerbs(action, tuple(o.id for o in best if action in shared[o.id])[:MOST])


def _shared(other: Herb, wanted: Sequence[str]) -> list[str]:
    return [tag for tag in wanted if tag in other.actions.tags]
