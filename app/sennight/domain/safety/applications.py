"""How often a herb goes onto the skin in a day, against the most that its record gives.

Applications of all remedies of a kind count together, those as needed in full: two rubs with one
herb are twice as much of it, but no more than a ceiling over both of them leaves.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from sennight.domain.courses.sharing import Offer, greatest_day, shared_ceilings
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span
from sennight.domain.herbs.doses import DoseRow, Preparation, Route
from sennight.domain.herbs.herbs import Herb
from sennight.domain.herbs.sources import Basis
from sennight.domain.safety.finding_rules import OverMost
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.statements import (
    AppliedTooOften,
)
from sennight.domain.safety.steps import (
    GiveLess,
)
from sennight.domain.safety.uses import Use

GRAVE = Fraction(3, 2)
"""Times the most that is allowed: over it is a caution, over this to be avoided."""
Kind = tuple[Preparation, ...]
"""The published forms that forms of one kind are compared with, the usual one first."""


def application_findings(layout: Layout, use: Use) -> Iterator[Finding]:
    """A herb that is put on the skin more often in a day than any text of its record gives.

    A form is compared with the published forms that are like it: a bath is no cream.
    """
    kinds: dict[Preparation, dict[Preparation, None]] = {}
    for stretch in layout.stretches:
        published = _published(stretch, use, layout)
        if published:
            kinds.setdefault(published[0], {}).update(dict.fromkeys(published))
    for kind in map(tuple, kinds.values()):
        most = most_often(use.herb, kind)
        if most is not None:
            yield from _over(use, most, list(_days(layout, use, kind)))


def _over(use: Use, most: DoseRow, days: list[_Day]) -> Iterator[Finding]:
    limit = _times(most)
    over = [day for day in days if day.times > limit]
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


def most_often(herb: Herb, kind: Kind) -> DoseRow | None:
    """The row for forms like these that allows most applications in a day, if any says."""
    rows = [
        row
        for row in herb.doses
        if row.route is Route.TOPICAL and row.form in kind and row.times and not row.doubted
    ]
    return max(rows, key=_times, default=None)


def _times(row: DoseRow) -> int:
    return row.times[1] if row.times else 0


def _was_read(row: DoseRow) -> bool:
    return row.times_from is not None and row.times_from.basis is Basis.READ


@dataclass(frozen=True, slots=True)
class _Day:
    """How often the herb is applied on a day of a run, and by which remedies."""

    span: Span
    times: int
    remedies: tuple[str, ...]


def _days(layout: Layout, use: Use, kind: Kind) -> Iterator[_Day]:
    """Run by run; lines that fall on different days of a run count as if they met."""
    held = [
        stretch for stretch in layout.stretches if _published(stretch, use, layout)[:1] == kind[:1]
    ]
    edges = sorted({edge for stretch in held for edge in (stretch.span.first, stretch.span.end)})
    for first, end in pairwise(edges):
        due = [stretch for stretch in held if first in stretch.span]
        if due:
            times = int(greatest_day([_offer(stretch, layout) for stretch in due]))
            remedies = tuple(dict.fromkeys(stretch.remedy for stretch in due))
            yield _Day(Span(first, end), times, remedies)


def _offer(stretch: Stretch, layout: Layout) -> Offer:
    timed, ceilings = len(stretch.times), layout.course.protocol.ceilings
    most = timed + (stretch.as_needed_max or 0)
    shared = shared_ceilings(ceilings, stretch.remedy)
    return Offer(stretch.remedy, timed, most, Fraction(1), shared)


def _published(stretch: Stretch, use: Use, layout: Layout) -> Kind:
    """The published forms like a stretch's own; nothing where the herb is not applied in it."""
    if stretch.remedy not in use.topical or stretch.remedy in use.oral:
        return ()
    return layout.course.remedy(stretch.formula).form.facts.published
