"""Decisions about findings: what each was made for, and how long it holds.

Going ahead with a finding, or having discussed it, is decided for an amount, a formula, the facts
that are known and a time. Where any of these grew since, the decision lapses and the finding
stands as on its first day.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from sennight.domain.courses.accepts import Accept, TakenThen
from sennight.domain.courses.clients import Client
from sennight.domain.courses.possible_flares import possible_flares
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.fingerprints import formula_mark
from sennight.domain.safety.finding_rules import earlier_id
from sennight.domain.safety.findings import Finding, Severity

HOLDS_FOR = timedelta(weeks=12)
"""How long a decision holds, its own day included: the usual time to a review."""


# Why a decision lapsed


@dataclass(frozen=True, slots=True)
class AmountRose:
    """More of a remedy in a day than was decided on; `before` is None in another unit."""

    remedy: str
    before: Fraction | None
    now: Fraction
    unit: Unit


@dataclass(frozen=True, slots=True)
class NewFormula:
    """A remedy in another version than was decided on."""

    remedy: str


@dataclass(frozen=True, slots=True)
class NewRemedy:
    """A remedy of which nothing was decided."""

    remedy: str


@dataclass(frozen=True, slots=True)
class NewPhase:
    """A remedy in a phase in which it was not taken."""

    remedy: str
    phase: str


@dataclass(frozen=True, slots=True)
class FactAdded:
    """Something that was not known of the client, as it is kept with the decision."""

    fact: str


@dataclass(frozen=True, slots=True)
class TimePassed:
    """A decision of a day too long ago."""

    on: date


Lapse = AmountRose | NewFormula | NewRemedy | NewPhase | FactAdded | TimePassed


@dataclass(frozen=True, slots=True)
class Decision:
    """A decision about a finding, and why it does not hold any more; it holds without a lapse."""

    accept: Accept
    lapses: tuple[Lapse, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether nothing changed since that it was made for."""
        return not self.lapses


def accept_of(
    finding: Finding, layout: Layout, *, reason: str, on: date, facts: tuple[str, ...]
) -> Accept:
    """A decision about a finding with all that it is made for."""
    return Accept(finding.id, reason, on, taken_for(finding, layout), facts)


def known_facts(client: Client) -> tuple[str, ...]:
    """What is known of a client, each thing by a tag or a name of its own."""
    facts = (*client.conditions, *client.medicines, *client.allergies)
    held = [fact.tag or fact.name for fact in facts]
    held += [
        f"reaction {herb}" for reaction in client.standing_reactions for herb in reaction.herbs
    ]
    return tuple(sorted(set(held)))


def taken_for(finding: Finding, layout: Layout) -> tuple[TakenThen, ...]:
    """How a finding's remedies are taken on its days, those of plans that may come included."""
    most: dict[tuple[str, str, str, Unit], Fraction] = {}
    marks = {remedy.id: formula_mark(remedy) for remedy in layout.course.remedies}
    for stretch in _stretches(layout):
        if stretch.remedy in finding.remedies and any(map(stretch.span.touches, finding.days)):
            key = stretch.remedy, stretch.phase, marks[stretch.formula], stretch.unit
            most[key] = max(most.get(key, Fraction(0)), _most_a_day(stretch))
    return tuple(
        TakenThen(remedy, phase, amount, unit, formula)
        for (remedy, phase, formula, unit), amount in sorted(most.items())
    )


def _stretches(layout: Layout) -> Iterator[Stretch]:
    yield from layout.stretches
    for flare in possible_flares(layout):
        yield from (
            stretch for stretch in flare.any_day.stretches if stretch.phase == flare.phase.id
        )


def _most_a_day(stretch: Stretch) -> Fraction:
    return stretch.directions.largest * (len(stretch.times) + (stretch.as_needed_max or 0))


def decisions(
    findings: Iterable[Finding], accepts: Iterable[Accept], layout: Layout, today: date
) -> Mapping[str, Decision]:
    """For each finding's id the decision about it: one that holds before any that lapsed.

    Decisions without a reason, and those that were struck out, decide nothing.
    """
    made = [accept for accept in accepts if accept.reason.strip() and not accept.is_void]
    decided: dict[str, Decision] = {}
    for finding in findings:
        ids = finding.id, earlier_id(finding.rule)
        about = [accept for accept in made if accept.finding in ids]
        each = [Decision(accept, lapses(accept, finding, layout, today)) for accept in about]
        if each:
            decided[finding.id] = max(each, key=lambda decision: decision.holds)
    return decided


def lapses(accept: Accept, finding: Finding, layout: Layout, today: date) -> tuple[Lapse, ...]:
    """Why a decision about a finding does not hold on a day; nothing where it does.

    Of what an earlier program did not keep nothing is compared; a decision without a day counts
    as made on the first day of the course.
    """
    found: list[Lapse] = []
    if accept.taken is not None:
        found += _changes(accept.taken, taken_for(finding, layout))
    if accept.facts is not None:
        added = set(known_facts(layout.course.client)) - set(accept.facts)
        found += map(FactAdded, sorted(added))
    on = accept.on or layout.course.start
    if today >= on + HOLDS_FOR:
        found.append(TimePassed(on))
    return tuple(dict.fromkeys(found))


def _changes(then: tuple[TakenThen, ...], now: tuple[TakenThen, ...]) -> Iterator[Lapse]:
    """What is taken in a way that was not decided on."""
    for taken in now:
        same = [was for was in then if was.remedy == taken.remedy]
        of_formula = [was for was in same if was.formula == taken.formula]
        in_phase = [was for was in of_formula if was.phase == taken.phase]
        if not same:
            yield NewRemedy(taken.remedy)
        elif not of_formula:
            yield NewFormula(taken.remedy)
        elif not in_phase:
            yield NewPhase(taken.remedy, taken.phase)
        else:
            before = [was.most for was in in_phase if was.unit is taken.unit]
            if taken.most > max(before, default=Fraction(0)):
                most = max(before, default=None)
                yield AmountRose(taken.remedy, most, taken.most, taken.unit)


def stopping(
    findings: Iterable[Finding], decided: Mapping[str, Decision], today: date
) -> tuple[Finding, ...]:
    """The `avoid` findings that stop publishing: nobody decided on them, or not for this.

    One whose days are all past stops nothing: nothing of it can be given any more.
    """
    return tuple(
        finding
        for finding in findings
        if finding.severity is Severity.AVOID
        and finding.days[-1].end > today
        and not _is_gone_ahead_with(finding, decided.get(finding.id))
    )


def _is_gone_ahead_with(finding: Finding, decision: Decision | None) -> bool:
    return finding.may_be_accepted and decision is not None and decision.holds
