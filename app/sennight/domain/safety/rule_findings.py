"""What the rules for many herbs say of a client: each fact by the first tag that a rule has.

A rule gives way to what a herb's own record says as gravely of the same fact, and what is said of
any herb to what is said of this one. Rules on hours, where the fact is a medicine, are told by
`hours_apart`, those on ethanol by `ethanol`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

from sennight.domain.client_facts.records import ORAL_MEDICINE
from sennight.domain.courses.clients import Fact
from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.herbs.doses import Route
from sennight.domain.herbs.herbs import Herb
from sennight.domain.kept import kept
from sennight.domain.safety.facts import EVER, UNDER, ClientFacts, Met
from sennight.domain.safety.finding_rules import HerbWithFact
from sennight.domain.safety.findings import GRAVEST, SEVERITY_OF, Finding, Severity
from sennight.domain.safety.herb_rules import HerbRule
from sennight.domain.safety.rules import SafetyRules
from sennight.domain.safety.statements import Quote
from sennight.domain.safety.uses import RemedyDays, Use, chosen, meeting


def met_by(rule: HerbRule, facts: ClientFacts) -> tuple[Met, ...]:
    """What a rule meets of a client, each fact once, by the first tag that fits."""
    found: list[Met] = []
    seen: set[Fact] = set()
    for tag in rule.facts.tags:
        if tag.startswith(UNDER):
            young = facts.under(Fraction(int(tag.removeprefix(UNDER))))
            found += [Met(tag, spans=young)] if young else []
        else:
            found += _new(tag, facts.facts.get(tag, ()), rule, seen, facts)
    for tag in rule.facts.properties:
        found += _new(tag, facts.properties.get(tag, ()), rule, seen, facts)
    return tuple(found)


def _new(
    tag: str, candidates: Iterable[Fact], rule: HerbRule, seen: set[Fact], facts: ClientFacts
) -> Iterator[Met]:
    """The facts under a tag that were not met yet and are not exempt."""
    new = tuple(
        fact for fact in candidates if fact not in seen and _is_meant(fact, tag, rule, facts)
    )
    seen.update(new)
    if new:
        yield Met(tag, new)


def _is_meant(fact: Fact, tag: str, rule: HerbRule, facts: ClientFacts) -> bool:
    if rule.facts.class_alone and fact.tag != tag:
        return False
    if rule.facts.by_mouth_only and fact not in facts.facts.get(ORAL_MEDICINE, ()):
        return False
    return not _is_exempt(fact, rule, facts)


def _is_exempt(fact: Fact, rule: HerbRule, facts: ClientFacts) -> bool:
    """Whether a rule exempts a fact by name, or a class that it has."""
    if fact.tag in rule.facts.not_medicines:
        return True
    return any(fact in facts.facts.get(tag, ()) for tag in rule.facts.not_classes)


def exempt(herb: Herb, tag: str, facts: ClientFacts) -> frozenset[Fact]:
    """The facts under a tag that a rule for this herb exempts by name.

    What its record says of the whole class does not hold of them either.
    """
    return frozenset(
        fact
        for rule in facts.rules.herb_rules.exempting(herb)
        if tag in rule.facts.tags or tag in rule.facts.properties
        for fact in facts.facts.get(tag, ())
        if _is_exempt(fact, rule, facts)
    )


@kept(16)
def with_rules_met(facts: ClientFacts) -> ClientFacts:
    """The facts, with what each rule meets of them."""
    by_tag = facts.rules.herb_rules.by_tag
    held = {*facts.facts, *facts.properties, *(tag for tag in by_tag if tag.startswith(UNDER))}
    perhaps = {rule.id: rule for tag in held for rule in by_tag.get(tag, ())}
    found = ((rule.id, met_by(rule, facts)) for rule in perhaps.values())
    return replace(facts, met={rule: met for rule, met in found if met})


Active = Sequence[tuple[HerbRule, tuple[Met, ...]]]
"""Rules about a herb with what they meet of a client."""


def active_rules(herb: Herb, facts: ClientFacts) -> Iterator[tuple[HerbRule, tuple[Met, ...]]]:
    """The rules about a herb that meet something of this client, with what they meet."""
    for rule in facts.rules.herb_rules.of(herb):
        if rule.id in facts.met:
            yield rule, facts.met[rule.id]


@kept(1024)
def own_severities(herb: Herb) -> Mapping[str, Severity]:
    """The facts of which a herb's own record speaks, and how gravely."""
    severities: dict[str, Severity] = {}
    for caution in herb.all_cautions:
        if caution.level in SEVERITY_OF:
            severity = SEVERITY_OF[caution.level]
            severities[caution.tag] = min(
                severities.get(caution.tag, severity), severity, key=GRAVEST.index
            )
    return severities


def rules_met(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """What the rules say of a herb for this client, where its own record says less."""
    spoken = own_severities(use.herb)
    by_tag: dict[str, list[tuple[HerbRule, Met]]] = {}
    for rule, found in active_rules(use.herb, facts):
        for met in found:
            if not is_about_hours(rule, met, facts):
                by_tag.setdefault(met.tag, []).append((rule, met))
    for tag, rules in by_tag.items():
        own = None if tag in facts.rules.counts_back else spoken.get(tag)  # days may be longer
        for rule, met in _gravest(rules, own):
            yield _finding(use, rule, met, facts)


def theme_id(herb: Herb, tag: str, rules: SafetyRules) -> str:
    """The theme of what a herb's record says of a fact; empty where there is none.

    Where none was chosen for it, that of a rule for this herb, else of one for any herb; a rule
    about hours is about something else.
    """
    chosen_theme = rules.record_themes.get((herb.id, tag))
    if chosen_theme is not None:
        return chosen_theme or rules.theme_id_of(tag)
    meeting_tag = [
        rule
        for rule in rules.herb_rules.of(herb)
        if rule.hours is None and (tag in rule.facts.tags or tag in rule.facts.properties)
    ]
    first = min(meeting_tag, key=lambda rule: rule.herbs.every, default=None)
    return (first.theme if first else "") or rules.theme_id_of(tag)


def is_about_hours(rule: HerbRule, met: Met, facts: ClientFacts) -> bool:
    """Whether it is the hours to a medicine that a rule is about."""
    return rule.hours is not None and any(fact in facts.client.medicines for fact in met.facts)


def _gravest(
    rules: Sequence[tuple[HerbRule, Met]], own: Severity | None
) -> Iterator[tuple[HerbRule, Met]]:
    """The gravest of the rules for a tag, of this herb before those of any, if graver than own."""
    severity = min((SEVERITY_OF[rule.level] for rule, _ in rules), key=GRAVEST.index)
    if own is not None and GRAVEST.index(own) <= GRAVEST.index(severity):
        return
    gravest_of = [pair for pair in rules if SEVERITY_OF[pair[0].level] is severity]
    said = {fact for _, met in gravest_of for fact in met.facts}
    milder = [pair for pair in rules if not said.issuperset(pair[1].facts)]
    of_this_herb = [pair for pair in gravest_of if not pair[0].herbs.every]
    yield from (*(of_this_herb or gravest_of), *milder)


def _finding(use: Use, rule: HerbRule, met: Met, facts: ClientFacts) -> Finding:
    spans = [*met.spans, *(rule_span(rule, fact, met.tag, use, facts) for fact in met.facts)]
    where = meeting(taken_for(use, rule, met.tag, facts), spans)
    made = _made(use, rule, met.tag, met.facts, where)
    return replace(made, theme=rule.theme or facts.rules.theme_id_of(met.tag))


def _made(
    use: Use,
    rule: HerbRule,
    tag: str,
    met: tuple[Fact, ...],
    where: tuple[tuple[str, ...], tuple[Span, ...]],
) -> Finding:
    first, *also = rule.origins
    remedies, days = where
    return Finding(
        severity=SEVERITY_OF[rule.level],
        rule=HerbWithFact(use.herb.id, tag),
        fact=tag,
        herbs=(use.herb.id,),
        remedies=remedies,
        days=days,
        statements=(Quote(use.herb.id, tag, rule.level, rule.text, first, tuple(also)),),
        met=met,
        theme=rule.theme,
        of_any_herb=rule.herbs.every,
    )


def rule_span(rule: HerbRule, fact: Fact, tag: str, use: Use, facts: ClientFacts) -> Span:
    """The days of a fact for a rule: those around an operation reach as far as the rule says."""
    span = facts.span(fact, tag, use.herb)
    if fact.since is None or tag not in facts.rules.counts_back:
        return span
    before, after = timedelta(rule.days_before or 0), timedelta(rule.days_after or 0)
    first = min(span.first, max(fact.since, EVER.first + before) - before)
    return Span(first, max(span.end, fact.since + ONE_DAY + after))


def taken_for(use: Use, rule: HerbRule, tag: str, facts: ClientFacts) -> RemedyDays:
    """The remedies that a rule is about: by mouth, on the skin, in some forms."""
    taken = _by_route(use, rule, tag, facts)
    if not rule.forms:
        return taken
    return chosen(taken, lambda remedy: bool(use.forms.get(remedy, frozenset()) & {*rule.forms}))


def _by_route(use: Use, rule: HerbRule, tag: str, facts: ClientFacts) -> RemedyDays:
    if rule.route is Route.ORAL:
        return use.oral
    if rule.route is Route.TOPICAL:
        return use.topical
    return use.relevant(tag, facts.rules.rub_tags)


def other_herbs_met(herb_uses: Sequence[Use], facts: ClientFacts) -> Iterator[Finding]:
    """Herbs of the course that a rule says not to take with each other."""
    by_id = {use.herb.id: use for use in herb_uses}
    for use in herb_uses:
        for rule in facts.rules.herb_rules.of(use.herb):
            for other in (by_id[name] for name in rule.facts.herbs if name in by_id):
                spans = [span for runs in other.all.values() for span in runs]
                where = meeting(taken_for(use, rule, other.herb.id, facts), spans)
                yield _made(use, rule, other.herb.id, (), where)
