"""Client's facts that meet herbs: their cautions, ages, allergies, reactions, operations."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from sennight.domain.courses.clients import Fact
from sennight.domain.dates import Span
from sennight.domain.herbs.herbs import Caution, Herb, Level, MateriaMedica, Presence
from sennight.domain.safety.facts import (
    ALLERGY_TO_IT,
    EVER,
    UNDER,
    ClientFacts,
    plain_span,
    stop_before,
)
from sennight.domain.safety.finding_rules import HerbAfterReaction, HerbAtAge, HerbWithFact
from sennight.domain.safety.findings import SEVERITY_OF, Finding, Severity
from sennight.domain.safety.rule_findings import exempt, theme_id
from sennight.domain.safety.rules import AllHerbs
from sennight.domain.safety.statements import (
    AllergicToIt,
    HoldsAllergen,
    LeastAge,
    LeftOutBefore,
    OfOneFamily,
    OnSkinWhileFeeding,
    Quote,
    Statement,
    SuspectedReaction,
)
from sennight.domain.safety.steps import (
    LastDoseBefore,
)
from sennight.domain.safety.uses import RemedyDays, Use, chosen, meeting

INTERNAL = "internal-use"
SURGERY = "planned-surgery"
FEEDING = "lactation"
_AVOID = Severity.AVOID


def cautions_met(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """What a herb's own record says of this client."""
    advice_tags = facts.rules.advice_tags
    for caution in use.herb.all_cautions:
        if caution.tag == INTERNAL:
            yield _met(use.herb, caution, use.oral, (EVER,))
        elif caution.tag in facts.facts and caution.tag not in advice_tags and _is_plain(caution):
            taken = use.relevant(caution.tag, facts.rules.rub_tags)
            met = _not_exempt(use.herb, caution.tag, facts)
            spans = [facts.span(fact, caution.tag, use.herb) for fact in met]
            theme = theme_id(use.herb, caution.tag, facts.rules)
            for finding in _by_route(use, caution, taken, spans):
                yield replace(finding, met=met, theme=theme)


def _by_route(
    use: Use, caution: Caution, taken: RemedyDays, spans: Sequence[Span]
) -> Iterator[Finding]:
    """The finding; on the skin of a woman who feeds a milder one, which the milk hardly meets.

    Only where the record is about use by mouth as well, and advises against it.
    """
    taken = _in_forms(use, caution, taken)
    if caution.tag != FEEDING or use.is_for_skin or SEVERITY_OF[caution.level] is not _AVOID:
        yield _met(use.herb, caution, taken, spans)
        return
    yield _met(use.herb, caution, chosen(taken, use.oral.__contains__), spans)
    on_skin = _met(use.herb, caution, chosen(taken, use.topical.__contains__), spans)
    statements = (*on_skin.statements, OnSkinWhileFeeding(use.herb.id))
    yield replace(on_skin, severity=Severity.CAUTION, statements=statements)


def _not_exempt(herb: Herb, tag: str, facts: ClientFacts) -> tuple[Fact, ...]:
    """The facts under a tag, without those that a rule for this herb exempts by name."""
    without = exempt(herb, tag, facts)
    return tuple(fact for fact in facts.facts.get(tag, ()) if fact not in without)


def _in_forms(use: Use, caution: Caution, taken: RemedyDays) -> RemedyDays:
    """The remedies that hold the herb in a form that something is said of."""
    if not caution.forms:
        return taken
    return chosen(
        taken, lambda remedy: bool(use.forms.get(remedy, frozenset()) & {*caution.forms})
    )


def _is_plain(caution: Caution) -> bool:
    """Whether it is a finding, and not about hours or age, which have shapes of their own."""
    has_shape = caution.level is Level.SEPARATE or caution.tag.startswith(UNDER)
    return caution.level in SEVERITY_OF and not has_shape


def _met(herb: Herb, caution: Caution, taken: RemedyDays, spans: Iterable[Span]) -> Finding:
    remedies, days = meeting(taken, spans)
    return Finding(
        severity=SEVERITY_OF[caution.level],
        rule=HerbWithFact(herb.id, caution.tag),
        fact="" if caution.tag == INTERNAL else caution.tag,
        herbs=(herb.id,),
        remedies=remedies,
        days=days,
        statements=(_quote(herb, caution),),
    )


def _quote(herb: Herb, caution: Caution) -> Quote:
    return Quote(herb.id, caution.tag, caution.level, caution.text, caution.origin)


def surgery_met(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """Any herb before an operation, with the day on which it is stopped."""
    general = facts.rules.surgery
    if not general or SURGERY not in facts.facts:
        return
    spans = facts.days(SURGERY, use.herb)
    remedies, days = meeting(use.all, spans)
    yield Finding(
        severity=Severity.CAUTION,
        rule=HerbWithFact(use.herb.id, SURGERY),
        fact=SURGERY,
        herbs=(use.herb.id,),
        remedies=remedies,
        days=days,
        statements=(_left_out(use.herb, general, facts),),
        steps=tuple(
            LastDoseBefore(span.first) for span in spans if span.first > EVER.first and days
        ),
        theme=theme_id(use.herb, SURGERY, facts.rules),
    )


def _left_out(herb: Herb, general: AllHerbs, facts: ClientFacts) -> LeftOutBefore:
    before = stop_before(herb, facts.rules)
    return LeftOutBefore(herb.id, before, general.after, general.text, general.origin)


def allergies_met(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """A herb that the client is allergic to, or a constituent of it."""
    yield from _allergy_to_it(use, facts)
    for constituent in use.herb.constituents if facts.client.allergies else ():
        allergies = [fact for fact in facts.client.allergies if fact.tag == constituent.tag]
        remedies, days = meeting(
            use.all, [facts.span(fact, constituent.tag, use.herb) for fact in allergies]
        )
        yield Finding(
            severity=Severity.CAUTION
            if constituent.presence is Presence.TRACE
            else Severity.AVOID,
            rule=HerbWithFact(use.herb.id, constituent.tag),
            fact=constituent.tag,
            herbs=(use.herb.id,),
            remedies=remedies,
            days=days,
            statements=(HoldsAllergen(use.herb.id, constituent.tag, constituent.origin),),
        )


def _allergy_to_it(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """An allergy to the herb itself, with what its record says of that."""
    allergies = [fact for fact in facts.client.allergies if fact.tag == use.herb.id]
    if not allergies:
        return
    days = tuple(map(plain_span, allergies))
    caution = next(
        (caution for caution in use.herb.all_cautions if caution.tag == ALLERGY_TO_IT), None
    )
    if caution is not None:
        found = _met(use.herb, caution, use.all, days)
        yield replace(found, severity=Severity.AVOID, met=tuple(allergies))
        return
    remedies, met = meeting(use.all, days)
    yield Finding(
        severity=Severity.AVOID,
        rule=HerbWithFact(use.herb.id, ALLERGY_TO_IT),
        fact=ALLERGY_TO_IT,
        herbs=(use.herb.id,),
        remedies=remedies,
        days=met,
        statements=(AllergicToIt(use.herb.id),),
        met=tuple(allergies),
    )


def kin_met(use: Use, facts: ClientFacts, materia_medica: MateriaMedica) -> Iterator[Finding]:
    """A herb of the family of another one that the client is allergic to.

    Only of the families for which a rule says that people react to all of it.
    """
    families = [rule for rule in facts.rules.herb_rules.of(use.herb) if rule.herbs.family]
    for allergy in facts.client.allergies if families else ():
        other = materia_medica.herb(allergy.tag)
        if other is None or other.id == use.herb.id:
            continue
        for rule in families:
            if other.family == rule.herbs.family:
                tag = rule.facts.tags[0]
                remedies, days = meeting(use.all, (plain_span(allergy),))
                yield Finding(
                    severity=Severity.CAUTION,
                    rule=HerbWithFact(use.herb.id, tag),
                    fact=tag,
                    herbs=(use.herb.id,),
                    remedies=remedies,
                    days=days,
                    statements=(OfOneFamily(use.herb.id, other.id, rule.origins[0]),),
                    met=(allergy,),
                    theme=rule.theme or facts.rules.theme_id_of(tag),
                )


def age_met(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """A client who is younger than a herb is meant for."""
    on_skin = use.herb.min_age_skin or use.herb.min_age
    for taken, least in ((use.oral, use.herb.min_age), (use.topical, on_skin)):
        age = LeastAge(use.herb.id, least.value, least.text, least.origin)
        yield from _age(use, taken, facts.under(least.value), age)
    for caution in use.herb.all_cautions:
        if caution.tag.startswith(UNDER) and caution.level in SEVERITY_OF:
            years = Fraction(int(caution.tag.removeprefix(UNDER)))
            yield from _age(use, use.all, facts.under(years), _quote(use.herb, caution))


def _age(
    use: Use, taken: RemedyDays, young: tuple[Span, ...], statement: Statement
) -> Iterator[Finding]:
    remedies, days = meeting(taken, young)
    if days:
        yield Finding(
            severity=Severity.AVOID,
            rule=HerbAtAge(use.herb.id),
            fact="age",
            herbs=(use.herb.id,),
            remedies=remedies,
            days=days,
            statements=(statement,),
        )


def reactions_met(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """A herb that is suspected of a reaction that this client had."""
    return reaction_findings(use.herb.id, use.all, facts)


def reaction_findings(herb: str, taken: RemedyDays, facts: ClientFacts) -> Iterator[Finding]:
    """The findings that recorded reactions make of a herb for good."""
    for reaction in facts.client.standing_reactions:
        if herb in reaction.herbs:
            remedies, days = meeting(taken, (Span(reaction.day, EVER.end),))
            yield Finding(
                severity=Severity.AVOID,
                rule=HerbAfterReaction(herb),
                fact="reaction",
                herbs=(herb,),
                remedies=remedies,
                days=days,
                statements=(SuspectedReaction(herb, reaction.what),),
            )
