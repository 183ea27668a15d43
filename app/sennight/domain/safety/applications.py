"""How often a herb goes onto the skin in a day, against the most that its record gives.

Applications of all remedies count together, those as needed in full: two rubs with one herb are
twice as much of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span
from sennight.domain.herbs.doses import DoseRow, Route
from sennight.domain.herbs.herbs import Herb
from sennight.domain.herbs.sources import Basis
from sennight.domain.safety.finding_rules import OverMost
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.statements import AppliedTooOften, GiveLess
from sennight.domain.safety.uses import Use

GRAVE = Fraction(3, 2)
"""Times the most that is allowed: over it is a caution, over this to be avoided."""


def application_findings(layout: Layout, use: Use) -> Iterator[Finding]:
    """A herb that is put on the skin more often in a day than any text of its record gives."""
    most = most_often(use.herb) if use.topical else None
    if most is None or not most.times:
        return
    limit = most.times[1]
    over = [day for day in _days(layout, use) if day.times > limit]
    if over:
        worst = max(over, key=lambda day: day.times)
        grave = worst.times > GRAVE * limit and _was_read(most)
        origin = most.times_from or most.dose_from
        yield Finding(
            severity=Severity.AVOID if grave else Severity.CAUTION,
            rule=OverMost(use.herb.id),
            fact="",
            herbs=(use.herb.id,),
            remedies=tuple(dict.fromkeys(remedy for day in over for remedy in day.remedies)),
            days=tuple(day.span for day in over),
            statements=(AppliedTooOften(use.herb.id, worst.times, limit, origin),),
            steps=(GiveLess(),),
        )


def most_often(herb: Herb) -> DoseRow | None:
    """The row for the skin that allows most applications in a day; None where none says."""
    rows = [
        row for row in herb.doses if row.route is Route.TOPICAL and row.times and not row.doubted
    ]
    return max(rows, key=lambda row: (row.times or (0, 0))[1], default=None)


def _was_read(row: DoseRow) -> bool:
    return row.times_from is not None and row.times_from.basis is Basis.READ


@dataclass(frozen=True, slots=True)
class _Day:
    """How often the herb is applied on a day of a run, and by which remedies."""

    span: Span
    times: int
    remedies: tuple[str, ...]


def _days(layout: Layout, use: Use) -> Iterator[_Day]:
    """Run by run; lines that fall on different days of a run count as if they met."""
    held = [stretch for stretch in layout.stretches if _is_applied(stretch, use)]
    edges = sorted({edge for stretch in held for edge in (stretch.span.first, stretch.span.end)})
    for first, end in pairwise(edges):
        due = [stretch for stretch in held if first in stretch.span]
        if due:
            times = sum(len(stretch.times) + (stretch.as_needed_max or 0) for stretch in due)
            remedies = tuple(dict.fromkeys(stretch.remedy for stretch in due))
            yield _Day(Span(first, end), times, remedies)


def _is_applied(stretch: Stretch, use: Use) -> bool:
    return stretch.remedy in use.topical and stretch.remedy not in use.oral
