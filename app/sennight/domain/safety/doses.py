"""Amounts over the most that is published, and forms that a herb's record is not about.

What is over is told by `exposure`: a single published figure is a dose and no limit. Amounts of
all remedies count together, doses as needed in full.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import assert_never

from sennight.domain.courses.clients import Client
from sennight.domain.dates import Span
from sennight.domain.exposure.bands import Band
from sennight.domain.exposure.exposure import Exposure
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import Herb, NotAs
from sennight.domain.herbs.ranges import OVER_A_DOSE, form_recorded, widest_range
from sennight.domain.safety.child_amounts import childs_months, judged_for_child
from sennight.domain.safety.finding_rules import FormsUnrecorded, HerbForm, OverMost
from sennight.domain.safety.findings import SEVERITY_OF, Finding, Severity
from sennight.domain.safety.statements import (
    AmountOver,
    ChildAmount,
    FormSpokenAgainst,
    NoChildDose,
    NoFormRecord,
)
from sennight.domain.safety.steps import (
    GiveLess,
)
from sennight.domain.safety.uses import RemedyDays, Use, chosen, meeting

GRAVE = Fraction(3, 2)
"""Times the most that is allowed: over it is a caution, over this to be avoided."""


@dataclass(frozen=True, slots=True)
class _Over:
    """A row that is over, how many times its figure it comes to, and how gravely that is."""

    span: Span
    statement: AmountOver | ChildAmount | NoChildDose
    grave: bool

    @property
    def weight(self) -> tuple[bool, Fraction]:
        """How it stands to others of the same herb: grave ones first, then by how far over."""
        match self.statement:
            case AmountOver(times=times):
                return self.grave, times or Fraction(0)
            case ChildAmount(grams=grams, most=most):
                return self.grave, grams / most
            case NoChildDose():
                return self.grave, Fraction(0)
            case _:
                assert_never(self.statement)


def over_findings(
    rows: Iterable[Exposure], uses: Iterable[Use], client: Client
) -> Iterator[Finding]:
    """Herbs of which more is taken in a day than is published, one finding a herb."""
    by_herb: dict[str, list[Exposure]] = {}
    for row in rows:
        by_herb.setdefault(row.herb, []).append(row)
    for use in uses:
        judged = (_judged_at_age(row, use.herb, client) for row in by_herb.get(use.herb.id, ()))
        over = [excess for excess in judged if excess]
        if over:
            yield _over(use, over)


def _judged_at_age(row: Exposure, herb: Herb, client: Client) -> _Over | None:
    """What a row comes to; a child's is judged by what is published for its age, or by rules."""
    months = childs_months(client, row.span.first)
    if months is None:
        return _judged(row, herb)
    if row.band is Band.OVER:
        times = row.fraction_of_max
        statement = _statement(row, herb, times, (row.high, row.source), single=False)
        grave = (times or Fraction(0)) > GRAVE and not row.from_memory
        return _Over(row.span, statement, grave)
    if row.high is not None:
        return None
    verdict = judged_for_child(row, herb, months, client.weight_kg)
    if verdict is None:
        return None
    return _Over(row.span, verdict.statement, (verdict.times or Fraction(0)) > GRAVE)


def _judged(row: Exposure, herb: Herb) -> _Over | None:
    """What a row comes to: over its own range, or where it has none, over what any text gives.

    Over its range is grave only where no text for another purpose or ratio gives as much, and
    where the figure was read: nothing is stopped by a figure that is only remembered.
    """
    widest = widest_range(herb, row.form) if row.form else None
    grams, part = row.daily_high, row.fraction_of_max
    if row.band is Band.OVER:
        single = row.form is not None and row.low == row.high
        allowed = (part or Fraction(0)) / (OVER_A_DOSE if single else 1)
        some_text_allows = widest and grams is not None and grams <= widest.over_from
        statement = _statement(row, herb, part, (row.high, row.source), single=single)
        grave = allowed > GRAVE and not some_text_allows and not row.from_memory
        return _Over(row.span, statement, grave)
    if row.high is None and widest and grams is not None and grams > widest.over_from:
        single, limit = widest.low == widest.high, (widest.high, widest.source)
        statement = _statement(row, herb, grams / widest.high, limit, single=single)
        grave = grams > GRAVE * widest.over_from and not widest.from_memory
        return _Over(row.span, statement, grave)
    return None


def _statement(
    row: Exposure,
    herb: Herb,
    times: Fraction | None,
    limit: tuple[Fraction | None, str],
    *,
    single: bool,
) -> AmountOver:
    most, source = limit
    return AmountOver(
        herb=herb.id,
        form=row.form,
        grams=row.daily_high if row.form else None,
        most=most if row.form else None,
        times=times,
        is_single_figure=single,
        narrow=herb.narrow,
        source=source,
    )


def _over(use: Use, over: list[_Over]) -> Finding:
    worst = max(over, key=lambda excess: excess.weight)
    days = tuple(excess.span for excess in over)
    return Finding(
        severity=Severity.AVOID if worst.grave or use.herb.narrow else Severity.CAUTION,
        rule=OverMost(use.herb.id),
        fact="",
        herbs=(use.herb.id,),
        remedies=meeting(use.oral, days)[0],
        days=days,
        statements=(worst.statement,),
        steps=(GiveLess(),),
    )


def form_findings(uses: Iterable[Use]) -> Iterator[Finding]:
    """Forms that a record speaks against; those of which none speaks are told once in all."""
    silent: list[tuple[Use, TakenAs]] = []
    for use in uses:
        for form in TakenAs:
            taken = _taken_as(use, form)
            against = [not_as for not_as in use.herb.not_as if form in not_as.forms]
            if taken and against:
                yield from (_against(use, taken, form, not_as) for not_as in against)
            elif taken and not form_recorded(use.herb, form):
                silent.append((use, form))
    if silent:
        yield _silent(silent)


def _taken_as(use: Use, form: TakenAs) -> RemedyDays:
    return chosen(use.oral, lambda remedy: form in use.forms[remedy])


def _against(use: Use, taken: RemedyDays, form: TakenAs, not_as: NotAs) -> Finding:
    return Finding(
        severity=SEVERITY_OF.get(not_as.level, Severity.NOTE),
        rule=HerbForm(use.herb.id),
        fact="",
        herbs=(use.herb.id,),
        remedies=tuple(taken),
        days=_days(taken),
        statements=(FormSpokenAgainst(use.herb.id, form, not_as.text, not_as.origin),),
    )


def _days(taken: RemedyDays) -> tuple[Span, ...]:
    return tuple(span for runs in taken.values() for span in runs)


def _silent(silent: list[tuple[Use, TakenAs]]) -> Finding:
    taken: dict[str, tuple[Span, ...]] = {}
    for use, form in silent:
        taken |= _taken_as(use, form)
    pairs = tuple((use.herb.id, form) for use, form in silent)
    return Finding(
        severity=Severity.NOTE,
        rule=FormsUnrecorded(),
        fact="",
        herbs=tuple(dict.fromkeys(herb for herb, _ in pairs)),
        remedies=tuple(taken),
        days=_days(taken),
        statements=(NoFormRecord(pairs),),
    )
