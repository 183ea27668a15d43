"""Herbs that could take the place of one that is to be avoided, each after the whole check.

A herb is proposed only where it serves an aim that the other served, but not by what did the harm;
where it fits the same part of the body and is recorded in the same form; where somebody read an
official text of it on the kinds of fact that this client has; and where the whole check of the
course with it in the other's place finds nothing about it. Otherwise nothing is proposed. Its
dose is another matter, so amounts and lengths are not judged here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from sennight.domain.courses.clients import Client
from sennight.domain.courses.stretches import Layout
from sennight.domain.herbs.doses import Route
from sennight.domain.herbs.herbs import Caution, Herb, MateriaMedica
from sennight.domain.herbs.ranges import form_recorded
from sennight.domain.herbs.sources import Basis, SourceKind
from sennight.domain.remedies.contents import taken_as
from sennight.domain.remedies.forms import is_taken_by_mouth
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.safety.acting import with_other_herb
from sennight.domain.safety.check import findings
from sennight.domain.safety.facts import client_facts
from sennight.domain.safety.finding_rules import (
    FindingRule,
    FormsUnrecorded,
    HerbAfterReaction,
    HerbAtAge,
    HerbWithFact,
    LengthOfUse,
    OverMost,
)
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.red_flags import RedFlagCheck
from sennight.domain.safety.rule_findings import active_rules, with_rules_met
from sennight.domain.safety.rules import SafetyRules

MOST_PROPOSED = 3
MOST_TRIED = 8
"""How many herbs go through the whole check for one finding, the fittest first."""


@dataclass(frozen=True, slots=True)
class Alternative:
    """A herb in the place of another, the aims for which it is proposed, and what was checked."""

    herb: str
    instead_of: str
    aims: tuple[str, ...]
    checked_for: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Check:
    """What a course is checked with."""

    layout: Layout
    materia_medica: MateriaMedica
    rules: SafetyRules
    standing: RedFlagCheck | None = None


def alternatives(finding: Finding, check: Check) -> tuple[Alternative, ...]:
    """The herbs that could take the place of the one that a finding is about, the fittest first.

    Nothing for findings that are not to be avoided or not about one herb.
    """
    herb = check.materia_medica.herb(finding.herbs[0]) if _is_about_one(finding) else None
    if herb is None:
        return ()
    aims = _aims(herb, finding, check)
    before = {other.id for other in _found(check)} if aims else set()
    passed: list[Alternative] = []
    for candidate in _fittest(herb, finding, aims, check)[:MOST_TRIED]:
        if len(passed) < MOST_PROPOSED and _passes(candidate, herb, finding, check, before):
            serves = tuple(aim for aim in aims if aim in candidate.actions.tags)
            known = _checked_for(check.layout.course.client)
            passed.append(Alternative(candidate.id, herb.id, serves, known))
    return tuple(passed)


def _is_about_one(finding: Finding) -> bool:
    about_herb = isinstance(finding.rule, HerbWithFact | HerbAtAge | HerbAfterReaction)
    return finding.severity is Severity.AVOID and about_herb and len(finding.herbs) == 1


def _aims(herb: Herb, finding: Finding, check: Check) -> tuple[str, ...]:
    """The course's aims that the herb serves, without the actions by which it does the harm."""
    facts = with_rules_met(client_facts(check.layout.course.client, check.rules))
    harmful = {
        action
        for rule, found in active_rules(herb, facts)
        if any(met.tag == finding.fact for met in found)
        for action in rule.herbs.actions
    }
    aims = check.layout.course.protocol.aims
    return tuple(aim for aim in aims if aim in herb.actions.tags and aim not in harmful)


def _fittest(herb: Herb, finding: Finding, aims: tuple[str, ...], check: Check) -> list[Herb]:
    """The herbs that may be tried, those that serve most aims and systems first."""
    course = check.layout.course
    held = {part.herb for remedy in course.remedies for part in remedy.ingredients}
    remedies = [course.remedy(remedy) for remedy in finding.remedies]
    fits = [
        candidate
        for name in (check.materia_medica.herbs if aims else ())
        if name not in held and (candidate := check.materia_medica.herb(name))
        if _is_like(candidate, herb, aims)
        and _has_data(candidate, course.client)
        and all(_is_recorded_in(candidate, herb, remedy) for remedy in remedies)
    ]

    def unfitness(candidate: Herb) -> tuple[int, int, str]:
        shared = set(candidate.systems) & set(herb.systems)
        return -len(set(aims) & set(candidate.actions.tags)), -len(shared), candidate.id

    return sorted(fits, key=unfitness)


def _is_like(candidate: Herb, herb: Herb, aims: tuple[str, ...]) -> bool:
    """Whether it serves one of the aims, in a part of the body that the other is for."""
    serves = not set(aims).isdisjoint(candidate.actions.tags)
    return serves and not set(candidate.systems).isdisjoint(herb.systems)


def _is_recorded_in(candidate: Herb, herb: Herb, remedy: Remedy) -> bool:
    """Whether a text gives it in the form in which the other is taken."""
    if not is_taken_by_mouth(remedy.form):
        return Route.TOPICAL in candidate.routes
    forms = (taken_as(remedy.form, part) for part in remedy.ingredients if part.herb == herb.id)
    return all(form_recorded(candidate, form) for held in forms for form in held)


def _has_data(herb: Herb, client: Client) -> bool:
    """Whether an official text was read on medicines where any is taken, and on all else."""
    asks_medicines = not client.medicines or _was_read(herb.interactions)
    return asks_medicines and _was_read(herb.cautions)


def _was_read(cautions: Iterable[Caution]) -> bool:
    return any(
        caution.origin.basis is Basis.READ and caution.origin.source.kind is SourceKind.OFFICIAL
        for caution in cautions
    )


def _passes(candidate: Herb, herb: Herb, finding: Finding, check: Check, before: set[str]) -> bool:
    """Whether the whole check of the course with it finds nothing about it, and nothing new."""
    course = check.layout.course
    swapped = tuple(
        with_other_herb(remedy, herb.id, candidate.id) if remedy.id in finding.remedies else remedy
        for remedy in course.remedies
    )
    layout = replace(check.layout, course=replace(course, remedies=swapped))
    return not any(
        candidate.id in found.herbs or found.id not in before
        for found in _found(replace(check, layout=layout))
        if _counts(found.rule, candidate)
    )


def _found(check: Check) -> tuple[Finding, ...]:
    return findings(check.layout, check.materia_medica, check.rules, check.standing)


def _counts(rule: FindingRule, candidate: Herb) -> bool:
    """Whether a finding speaks against the herb, and not of its dose or how long it is taken."""
    match rule:
        case OverMost(herb):
            return herb != candidate.id
        case LengthOfUse() | FormsUnrecorded():
            return False
        case _:
            return True


def _checked_for(client: Client) -> tuple[str, ...]:
    """What of the client it was checked for: their facts by name, age and reactions."""
    return tuple(_names(client))


def _names(client: Client) -> Iterator[str]:
    for fact in (*client.conditions, *client.medicines, *client.allergies):
        yield fact.name or fact.tag
    if client.born:
        yield "age"
    if client.standing_reactions:
        yield "reactions"
