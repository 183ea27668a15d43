"""What a careful colleague would say about a course: client facts met with herbs, over time.

Reads a layout's stretches as runs of days; the cost follows their number and that of the herbs,
never the number of days. No finding is not clearance: only what is recorded can be met.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from sennight.domain.courses.clients import Fact
from sennight.domain.courses.possible_flares import possible_flares
from sennight.domain.courses.stretches import Layout
from sennight.domain.exposure.exposure import exposures
from sennight.domain.herbs.general_rules import Urgency
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.kept import kept
from sennight.domain.safety.applications import application_findings
from sennight.domain.safety.burdens import amount_findings, count_findings
from sennight.domain.safety.cautions import (
    age_met,
    allergies_met,
    cautions_met,
    kin_met,
    reaction_findings,
    reactions_met,
    surgery_met,
)
from sennight.domain.safety.day_ceilings import ceiling_findings
from sennight.domain.safety.doses import form_findings, over_findings
from sennight.domain.safety.durations import duration_findings
from sennight.domain.safety.ethanol import ethanol_findings
from sennight.domain.safety.facts import EVER, ClientFacts, client_facts
from sennight.domain.safety.finding_rules import FlagStands, HerbUnrecorded, HoursBetween
from sennight.domain.safety.findings import Finding, Severity, merged, told_once
from sennight.domain.safety.hours_apart import hours_apart, settled
from sennight.domain.safety.preparations import preparation_findings
from sennight.domain.safety.red_flags import RedFlagCheck
from sennight.domain.safety.rule_findings import other_herbs_met, rules_met, with_rules_met
from sennight.domain.safety.rules import SafetyRules
from sennight.domain.safety.statements import NothingRecorded, SignOfDanger
from sennight.domain.safety.unchecked import unchecked
from sennight.domain.safety.uses import RemedyDays, Use, chosen, meeting, remedy_days, uses
from sennight.domain.safety.wash_outs import wash_outs_met

__all__ = ["Finding", "Severity", "findings"]


def findings(
    layout: Layout,
    materia_medica: MateriaMedica,
    rules: SafetyRules,
    standing: RedFlagCheck | None = None,
) -> tuple[Finding, ...]:
    """All that the sources say against a course for its client, the worst first.

    A flare-up plan that no flare has called yet is looked at as if it began on any day.
    `standing` is the last check for red flags.
    """
    facts = with_rules_met(client_facts(layout.course.client, rules))
    all_findings = [*_on(layout, materia_medica, facts), *unchecked(layout, facts)]
    all_findings += _flags(layout, facts, standing)
    all_findings += _lengths(layout, materia_medica, facts)
    for flare in possible_flares(layout):
        if_flare = [
            *_on(flare.any_day, materia_medica, facts, only=flare.remedies),
            *_lengths(flare.once, materia_medica, facts, only=flare.remedies),
        ]
        all_findings += (replace(finding, if_flare=(flare.phase.id,)) for finding in if_flare)
    every = settled(told_once(merged(all_findings)))
    return tuple(_with_names(finding, facts) for finding in every)


def _with_names(finding: Finding, facts: ClientFacts) -> Finding:
    """With the client's facts behind it, by name; hours apart name their medicine already."""
    met = facts.behind(finding.met or facts.facts.get(finding.fact, ()), finding.days)
    named = isinstance(finding.rule, HoursBetween)
    because = () if named else facts.names(met, finding.fact)
    theme = finding.theme or facts.rules.theme_id_of(finding.fact)
    return replace(finding, met=met, because=because, theme=_theme_for(theme, met, facts))


def _theme_for(theme_id: str, met: Iterable[Fact], facts: ClientFacts) -> str:
    """The theme, or the other one where it is only for facts that are not behind the finding."""
    theme = facts.rules.theme(theme_id)
    if theme is None or not theme.only_for:
        return theme_id
    held = {fact for tag in theme.only_for for fact in facts.facts.get(tag, ())}
    return theme_id if held.intersection(met) else theme.otherwise


def _on(
    layout: Layout,
    materia_medica: MateriaMedica,
    facts: ClientFacts,
    only: frozenset[str] | None = None,
) -> Iterator[Finding]:
    """What speaks against what is taken; single herbs of these remedies only, where given."""
    herb_uses, unrecorded = uses(layout, materia_medica)
    yield from _of_herbs(layout, _in(herb_uses, only), facts)
    yield from other_herbs_met(herb_uses, facts)
    yield from count_findings(herb_uses, facts)
    yield from amount_findings(layout, herb_uses, materia_medica, facts)
    looked_at = _in(herb_uses, only)
    for use in looked_at:
        yield from kin_met(use, facts, materia_medica)
    rows = exposures(layout, materia_medica)
    yield from over_findings(rows, looked_at, layout.course.client)
    for use in looked_at:
        yield from application_findings(layout, use)
    yield from form_findings(looked_at)
    yield from ethanol_findings(layout, facts)
    yield from ceiling_findings(layout)
    yield from preparation_findings(layout, facts)
    yield from _unrecorded(unrecorded, facts)


def _in(herb_uses: tuple[Use, ...], only: frozenset[str] | None) -> tuple[Use, ...]:
    """The uses of the herbs in some remedies; all where none are named."""
    if only is None:
        return herb_uses
    return tuple(use for use in herb_uses if not only.isdisjoint(use.all))


def _lengths(
    layout: Layout,
    materia_medica: MateriaMedica,
    facts: ClientFacts,
    only: frozenset[str] | None = None,
) -> Iterator[Finding]:
    for use in _in(uses(layout, materia_medica)[0], only):
        yield from duration_findings(use, facts)


def _of_herbs(layout: Layout, herb_uses: tuple[Use, ...], facts: ClientFacts) -> Iterator[Finding]:
    known = _known_uses(facts)
    for use in herb_uses:
        if known.get(use.herb.id, _NEVER_USED)[0] != use:
            known[use.herb.id] = use, tuple(_of_use(use, facts))
        yield from known[use.herb.id][1]
        yield from hours_apart(layout, use, facts)


_KnownUses = dict[str, tuple[Use | None, tuple[Finding, ...]]]
_NEVER_USED: tuple[None, tuple[Finding, ...]] = None, ()


@kept(4)
def _known_uses(_facts: ClientFacts) -> _KnownUses:
    """What was found last of each herb with these facts: most edits change the days of few."""
    return {}


def _of_use(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """What speaks against a herb on the days on which it is taken, whatever else is."""
    rules = rules_met, wash_outs_met, cautions_met, surgery_met, allergies_met, age_met
    for rule in (*rules, reactions_met):
        yield from rule(use, facts)


def _flags(layout: Layout, facts: ClientFacts, standing: RedFlagCheck | None) -> Iterator[Finding]:
    """Red flags among the client's facts, and those that stand by the last check.

    They concern whatever is taken. One that needs a doctor at once is not gone ahead with: it
    stands until a later check no longer finds it.
    """
    ticked, taken = standing.ticked if standing else (), _all_days(layout)
    for flag in facts.rules.flags:
        spans = facts.plain_days(flag.tag) if flag.tag else ()
        remedies, days = meeting(taken, (EVER,) if flag.id in ticked else spans)
        if days:
            yield Finding(
                severity=Severity.AVOID,
                rule=FlagStands(flag.tag or flag.id),
                fact=flag.tag or flag.id,
                herbs=(),
                remedies=remedies,
                days=days,
                statements=(SignOfDanger(flag.sign, flag.action, flag.origin),),
                may_be_accepted=flag.urgency is not Urgency.EMERGENCY,
            )


def _all_days(layout: Layout) -> RemedyDays:
    """Every remedy's days, those of flare-up plans that may come included."""
    days = dict(remedy_days(layout))
    for flare in possible_flares(layout):
        days |= chosen(remedy_days(flare.any_day), flare.remedies.__contains__)
    return days


def _unrecorded(unrecorded: dict[str, RemedyDays], facts: ClientFacts) -> Iterator[Finding]:
    """Herbs of which nothing is held, so that nothing could be checked."""
    for herb, taken in unrecorded.items():
        yield Finding(
            severity=Severity.NOTE,
            rule=HerbUnrecorded(herb),
            fact="",
            herbs=(herb,),
            remedies=tuple(taken),
            days=tuple(span for runs in taken.values() for span in runs),
            statements=(NothingRecorded(herb),),
        )
        yield from reaction_findings(herb, taken, facts)
