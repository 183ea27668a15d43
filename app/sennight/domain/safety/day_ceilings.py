"""Ceilings of a day over several remedies, and the days on which timed doses pass them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from itertools import pairwise
from math import lcm

from sennight.domain.courses.protocols import Ceiling
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span
from sennight.domain.safety.finding_rules import OverDayCeiling
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.statements import DosesOverCeiling


def ceiling_findings(layout: Layout) -> Iterator[Finding]:
    """Ceilings that the timed doses alone pass; doses as needed never pass one (`ceilings`)."""
    for ceiling in layout.course.protocol.ceilings:
        over = [fullest for fullest in _fullest(layout, ceiling) if fullest.doses > ceiling.most]
        if over:
            worst = max(fullest.doses for fullest in over)
            taken = {remedy for fullest in over for remedy in fullest.remedies}
            yield Finding(
                severity=Severity.CAUTION,
                rule=OverDayCeiling(ceiling.remedies),
                fact="",
                herbs=(),
                remedies=tuple(remedy for remedy in ceiling.remedies if remedy in taken),
                days=tuple(fullest.span for fullest in over),
                statements=(DosesOverCeiling(worst, ceiling.most),),
            )


@dataclass(frozen=True, slots=True)
class _Fullest:
    """The most timed doses on any day of a run, and the remedies that they are of."""

    span: Span
    doses: int
    remedies: tuple[str, ...]


def _fullest(layout: Layout, ceiling: Ceiling) -> Iterator[_Fullest]:
    """Run by run; within one the days come round again after so many as every rule divides."""
    held = [s for s in layout.stretches if s.remedy in ceiling.remedies and s.times]
    edges = sorted({edge for stretch in held for edge in (stretch.span.first, stretch.span.end)})
    for first, end in pairwise(edges):
        due = [stretch for stretch in held if first in stretch.span]
        if due:
            period = lcm(*(7 if s.days.weekdays else s.days.every for s in due))
            days = (first + timedelta(n) for n in range(min(period, (end - first).days)))
            taken = max(([s for s in due if s.taken_on(day)] for day in days), key=_doses)
            yield _Fullest(Span(first, end), _doses(taken), tuple(s.remedy for s in taken))


def _doses(taken: list[Stretch]) -> int:
    return sum(len(stretch.times) for stretch in taken)
