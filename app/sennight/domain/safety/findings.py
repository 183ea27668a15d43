"""Findings: what a safety check reports, and how they are put together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from fractions import Fraction

from sennight.domain.courses.clients import Fact
from sennight.domain.dates import Span, joined
from sennight.domain.herbs.herbs import Level
from sennight.domain.safety.finding_rules import (
    ConstituentCeiling,
    EthanolInDose,
    FindingRule,
    HerbNumber,
    finding_id,
)
from sennight.domain.safety.gravest import gravest
from sennight.domain.safety.statements import (
    Statement,
)
from sennight.domain.safety.steps import (
    Step,
)


class Severity(StrEnum):
    """How grave a finding is, the gravest first."""

    AVOID = "avoid"
    CAUTION = "caution"
    NOTE = "note"


GRAVEST = tuple(Severity)
"""The severities, the gravest first."""

SEVERITY_OF: Mapping[Level, Severity] = {
    Level.CONTRAINDICATED: Severity.AVOID,
    Level.AVOID: Severity.AVOID,
    Level.REFER: Severity.AVOID,
    Level.CAUTION: Severity.CAUTION,
    Level.SEPARATE: Severity.CAUTION,
    Level.MONITOR: Severity.NOTE,
}
"""The severity of each level; `info` is no finding but a line on the handout."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that a careful colleague would say about a course, as data.

    `rule` is what it is about. `fact` is the tag of the client's fact, empty where none is
    needed, `met` the facts themselves. `herbs` and `remedies` are ids, `days` the days on which it
    holds, `statements` what the sources say, `steps` what one could do. `because` are the client's
    medicines and conditions that brought the fact, by name, where they are not the fact itself.
    `if_flare` are the flare-up plans, not yet called, without which it would not be there; empty
    where it holds without them. `theme` is the id of that by which it is told with others;
    `of_any_herb`: it is said of every herb, whatever it is. What may not be accepted stops a
    course whatever reason is given.
    """

    severity: Severity
    rule: FindingRule
    fact: str
    herbs: tuple[str, ...]
    remedies: tuple[str, ...]
    days: tuple[Span, ...]
    statements: tuple[Statement, ...]
    steps: tuple[Step, ...] = ()
    because: tuple[str, ...] = ()
    met: tuple[Fact, ...] = ()
    theme: str = ""
    of_any_herb: bool = False
    if_flare: tuple[str, ...] = ()
    may_be_accepted: bool = True

    @property
    def id(self) -> str:
        """Its stable id."""
        return finding_id(self.rule)

    @property
    def first(self) -> date:
        """The first day on which it holds."""
        return self.days[0].first


def merged(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """One finding for each id, the gravest severity of each holding, the worst first.

    Those without a day are left out.
    """
    by_id: dict[str, Finding] = {}
    for finding in findings:
        if any(finding.days):
            name = finding.id
            known = by_id.get(name)
            by_id[name] = joined_findings(known, finding) if known else finding
    return tuple(sorted(map(_with_runs, by_id.values()), key=_order))


def _with_runs(finding: Finding) -> Finding:
    """With its days as fewest spans."""
    days = joined(finding.days)
    return finding if days == finding.days else replace(finding, days=days)


def told_once(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Of several thresholds for one thing the gravest alone, the highest among equals."""
    gravest_of: dict[object, Finding] = {}
    every = tuple(findings)
    for finding in every:
        key, height = _threshold(finding.rule)
        known = gravest_of.get(key)
        if known is None or _weight(finding, height) > _weight(known, _threshold(known.rule)[1]):
            gravest_of[key] = finding
    kept = {id(finding) for finding in gravest_of.values()}
    return tuple(finding for finding in every if id(finding) in kept)


def _weight(finding: Finding, height: Fraction) -> tuple[int, Fraction]:
    return -GRAVEST.index(finding.severity), height


def _threshold(rule: FindingRule) -> tuple[object, Fraction]:
    """What a threshold is about and how high it is; every other finding is alone of its kind."""
    match rule:
        case HerbNumber(group, count):
            return (HerbNumber, group), Fraction(count)
        case ConstituentCeiling(constituent, mg):
            return (ConstituentCeiling, constituent), mg
        case EthanolInDose(mg_per_kg):
            return EthanolInDose, Fraction(mg_per_kg)
        case _:
            return rule, Fraction(0)


def _order(finding: Finding) -> tuple[int, date, str]:
    return GRAVEST.index(finding.severity), finding.first, finding.id


def joined_findings(one: Finding, two: Finding) -> Finding:
    """Two findings as one: the graver severity, what the first is about, all the rest of both."""
    return Finding(
        severity=min(one.severity, two.severity, key=GRAVEST.index),
        rule=one.rule,
        fact=one.fact,
        herbs=tuple(dict.fromkeys(one.herbs + two.herbs)),
        remedies=tuple(dict.fromkeys(one.remedies + two.remedies)),
        days=one.days + two.days,
        statements=gravest(one.statements + two.statements),
        steps=tuple(dict.fromkeys(one.steps + two.steps)),
        because=tuple(dict.fromkeys(one.because + two.because)),
        met=tuple(dict.fromkeys(one.met + two.met)),
        theme=one.theme or two.theme,
        of_any_herb=one.of_any_herb and two.of_any_herb,
        if_flare=_each_if_flare(one, two),
        may_be_accepted=one.may_be_accepted and two.may_be_accepted,
    )


def _each_if_flare(one: Finding, two: Finding) -> tuple[str, ...]:
    """The plans of both; none where one of the two, as grave as the other, needs no plan."""
    without = [part for part in (one, two) if not part.if_flare]
    gravest_of_both = min(one.severity, two.severity, key=GRAVEST.index)
    if any(part.severity is gravest_of_both for part in without):
        return ()
    return tuple(dict.fromkeys(one.if_flare + two.if_flare))
