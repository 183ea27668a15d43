"""How findings are told: each pair of a herb and a fact once, one line a theme.

A pair that is told more strongly for one reason is not told again more weakly for another, and
what is said of any herb is left out where more is said of this one. Cautions and notes of one
theme are one line over all herbs and medicines; what is to be avoided is a line for each herb,
since each is decided on, but where one decision holds for all. Nothing to avoid is ever left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import reduce

from sennight.domain.courses.clients import Fact
from sennight.domain.dates import Span, joined
from sennight.domain.safety.finding_rules import EthanolWithFact, HerbWithFact, HoursBetween
from sennight.domain.safety.findings import GRAVEST, Finding, Severity, joined_findings
from sennight.domain.safety.rules import SafetyRules
from sennight.domain.safety.statements import TooNear
from sennight.domain.safety.themes import Theme


@dataclass(frozen=True, slots=True)
class Line:
    """What is told as one: its findings, the gravest first, and the theme that they share."""

    findings: tuple[Finding, ...]
    theme: Theme | None

    @property
    def severity(self) -> Severity:
        """That of its gravest finding."""
        return self.findings[0].severity

    @property
    def whole(self) -> Finding:
        """All of it as one finding, which is about what the first is about."""
        together = reduce(joined_findings, self.findings)
        return replace(together, days=joined(together.days))


def told(findings: Sequence[Finding], rules: SafetyRules) -> tuple[Line, ...]:
    """The lines, in the order of their first findings; those come the worst first."""
    groups: dict[object, list[Finding]] = {}
    for finding in each_pair_once(findings):
        theme = rules.theme(finding.theme)
        groups.setdefault(_told_with(finding, theme), []).append(finding)
    lines = (Line(tuple(group), rules.theme(group[0].theme)) for group in groups.values())
    return tuple(lines)


# Each pair once


def each_pair_once(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Without what is told more strongly, on the same days, of the same herb and fact."""
    by_pair: dict[tuple[str, Fact], list[Finding]] = {}
    for finding in findings:
        for pair in _pairs(finding):
            by_pair.setdefault(pair, []).append(finding)
    reduced = (_without_stronger(finding, by_pair) for finding in findings)
    return tuple(finding for finding in reduced if finding is not None)


def _pairs(finding: Finding) -> Iterable[tuple[str, Fact]]:
    """Herbs and facts; for hours apart the remedies, which are what is moved."""
    match finding.rule:
        case HerbWithFact(herb):
            return ((herb, fact) for fact in finding.met)
        case HoursBetween():
            return ((remedy, fact) for remedy in finding.remedies for fact in finding.met)
        case _:
            return ()


def _without_stronger(
    finding: Finding, by_pair: dict[tuple[str, Fact], list[Finding]]
) -> Finding | None:
    """The finding for the facts of which no more is told; None where that is none."""
    pairs = tuple(_pairs(finding))
    left = tuple(
        fact
        for taken, fact in pairs
        if not any(_is_stronger(other, finding) for other in by_pair[taken, fact])
    )
    if len(left) == len(pairs):
        return finding
    return replace(finding, met=tuple(dict.fromkeys(left))) if left else None


def _is_stronger(one: Finding, two: Finding) -> bool:
    """Whether one says more than two on all of its days."""
    if isinstance(two.rule, HoursBetween):
        return _hours(one) > _hours(two) and _cover(one.days, two.days)
    grave = GRAVEST.index(one.severity), GRAVEST.index(two.severity)
    same = grave[0] == grave[1] and two.of_any_herb and not one.of_any_herb
    return (grave[0] < grave[1] or same) and _cover(one.days, two.days)


def _hours(finding: Finding) -> int:
    """The hours that are kept; 0 where it is not about hours."""
    near = (s.hours for s in finding.statements if isinstance(s, TooNear))
    return max(near, default=0)


def _cover(one: Iterable[Span], two: Iterable[Span]) -> bool:
    spans = tuple(one)
    return all(
        any(outer.first <= inner.first and inner.end <= outer.end for outer in spans)
        for inner in two
    )


# One line a theme


def _told_with(finding: Finding, theme: Theme | None) -> object:
    """What findings of one line have in common."""
    grave = finding.severity is Severity.AVOID
    match finding.rule:
        case HerbWithFact(herb, tag):
            about = theme.id if theme else tag
            alone = herb if grave and not (theme and theme.decided_once) else ""
            return HerbWithFact, grave, about, alone, finding.if_flare
        case HoursBetween():
            near = [s for s in finding.statements if isinstance(s, TooNear)]
            kept = tuple((statement.medicine, statement.hours) for statement in near)
            return HoursBetween, finding.severity, kept, finding.if_flare
        case EthanolWithFact():
            return EthanolWithFact, finding.severity, finding.if_flare
        case _:
            return finding.rule
