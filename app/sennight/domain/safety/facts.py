"""What is known of a client, as tags with the days on which each holds.

Open sides reach to the ends of the calendar. A fact brings further ones with it: a medicine its
classes and those above them, and the condition that it is usually for; a condition what it
implies. An age is the days before a birthday.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction
from types import MappingProxyType

from sennight.domain.client_facts.records import ORAL_MEDICINE, Meaning
from sennight.domain.courses.clients import Client, Fact
from sennight.domain.dates import ONE_DAY, Span, add_months
from sennight.domain.herbs.herbs import DurationKind, DurationUnit, Herb
from sennight.domain.kept import kept
from sennight.domain.safety.rules import SafetyRules

EVER = Span(date.min, date.max)
ALLERGY_TO_IT = "hypersensitivity"
"""The tag by which a herb's record tells of an allergy to that herb; no client has it alone."""
NOTHING: Mapping[str, tuple[Fact, ...]] = MappingProxyType({})
NONE_MET: Mapping[str, tuple[Met, ...]] = MappingProxyType({})
UNDER = "under-"
"""The tags of ages: under-12 holds until the twelfth birthday."""


@dataclass(frozen=True, slots=True)
class Met:
    """A tag under which a rule meets facts of the client; an age has no fact but its days."""

    tag: str
    facts: tuple[Fact, ...] = ()
    spans: tuple[Span, ...] = ()


@dataclass(frozen=True, slots=True)
class ClientFacts:
    """All that is known of a client: each tag's facts, those it was brought by included.

    `properties` has the medicines with an effect, or handled in a way, by its tag; `met` what
    rules meet, by their ids, where that was looked for.
    """

    client: Client
    facts: Mapping[str, tuple[Fact, ...]]
    rules: SafetyRules
    properties: Mapping[str, tuple[Fact, ...]] = field(default_factory=lambda: NOTHING)
    met: Mapping[str, tuple[Met, ...]] = field(default_factory=lambda: NONE_MET)

    def plain_days(self, tag: str) -> tuple[Span, ...]:
        """The days on which a tag holds as it was recorded."""
        return tuple(plain_span(fact) for fact in self.facts.get(tag, ()))

    def days(self, tag: str, herb: Herb) -> tuple[Span, ...]:
        """The days on which a tag holds, as far as a herb is concerned.

        An operation's days begin before it, by what the herb's record asks for.
        """
        return tuple(self.span(fact, tag, herb) for fact in self.facts.get(tag, ()))

    def span(self, fact: Fact, tag: str, herb: Herb) -> Span:
        """The days of one fact under a tag, for a herb."""
        first, end = plain_span(fact).first, plain_span(fact).end
        if tag in self.rules.counts_back and fact.since:
            after = timedelta(self.rules.surgery.after if self.rules.surgery else 0)
            healed = fact.since + ONE_DAY + after
            end = healed if fact.until is None else max(end, healed)
            before = stop_before(herb, self.rules)
            first = max(fact.since, EVER.first + timedelta(before)) - timedelta(before)
        lasts = self.rules.lasts.get(tag)
        if lasts and fact.since and fact.until is None:
            end = fact.since + timedelta(lasts)
        return Span(first, end)

    def behind(self, facts: Iterable[Fact], days: Iterable[Span]) -> tuple[Fact, ...]:
        """Those of some facts that hold on any of these days; all where none does."""
        spans, every = tuple(days), tuple(facts)
        then = (fact for fact in every if any(plain_span(fact).touches(span) for span in spans))
        return tuple(then) or every

    def names(self, behind: Iterable[Fact], tag: str) -> tuple[str, ...]:
        """What brought a tag, by name.

        Nothing where the tag itself was recorded: then it says what is meant.
        """
        facts = tuple(behind)
        if any(fact.tag == tag for fact in facts):
            return ()
        return tuple(dict.fromkeys(self.name(fact) for fact in facts))

    def name(self, fact: Fact) -> str:
        """What a fact is called, without a medicine's dose."""
        record = self.rules.records.label(fact.tag)
        return fact.name or record or self.rules.words.label(fact.tag)

    def under(self, years: Fraction) -> tuple[Span, ...]:
        """The days on which the client is, or may be, younger than so many years.

        From the birthday, and from facts of ages that lie at or below it.
        """
        return tuple(self._under(years))

    def _under(self, years: Fraction) -> Iterator[Span]:
        if self.client.born and years > 0:
            yield Span(EVER.first, add_months(self.client.born, int(years * 12)))
        for tag in self.facts:
            if tag.startswith(UNDER) and int(tag.removeprefix(UNDER)) <= years:
                yield from self.plain_days(tag)


def plain_span(fact: Fact) -> Span:
    """The days of a fact as it was recorded."""
    ends = fact.until is not None and fact.until < EVER.end
    return Span(
        fact.since or EVER.first, fact.until + ONE_DAY if ends and fact.until else EVER.end
    )


@kept(16)
def client_facts(client: Client, rules: SafetyRules) -> ClientFacts:
    """What is known of a client."""
    by_tag: dict[str, dict[Fact, None]] = {}
    by_property: dict[str, dict[Fact, None]] = {}
    for fact in (*client.conditions, *client.allergies):
        if fact.tag == ALLERGY_TO_IT:
            continue  # of an earlier time, when it could not be said to which herb
        for tag in (fact.tag, *rules.records.condition_meaning(fact.tag).tags):
            _add(by_tag, tag, fact, rules)
    for fact in client.medicines:
        meaning = rules.records.medicine_meaning(fact.tag, fact.classes)
        for tag in _tags_of_medicine(fact, meaning, rules):
            _add(by_tag, tag, fact, rules)
        for tag in (*meaning.effects, *meaning.handling):
            by_property.setdefault(tag, {})[fact] = None
    return ClientFacts(client, _listed(by_tag), rules, _listed(by_property))


def _listed(by_tag: Mapping[str, Mapping[Fact, None]]) -> Mapping[str, tuple[Fact, ...]]:
    return MappingProxyType({tag: tuple(facts) for tag, facts in by_tag.items()})


def _tags_of_medicine(fact: Fact, meaning: Meaning, rules: SafetyRules) -> Iterator[str]:
    """A medicine, its parts and classes, and what it is usually for until somebody says no.

    Of a medicine without a record no more is assumed than that it is swallowed.
    """
    records = rules.records
    yield fact.tag
    if fact.classes is None and fact.tag in records.medicines:
        yield from records.medicines[fact.tag].contains
    yield from meaning.tags
    if not records.is_medicine(fact.tag) and fact.tag not in rules.not_oral:
        yield ORAL_MEDICINE
    for use in meaning.used_for:
        if use.usual and use.condition not in fact.not_for:
            yield from (use.condition, *records.condition_meaning(use.condition).tags)


def _add(by_tag: dict[str, dict[Fact, None]], tag: str, fact: Fact, rules: SafetyRules) -> None:
    if tag and fact not in by_tag.setdefault(tag, {}):
        by_tag[tag][fact] = None
        for further in rules.implies.get(tag, ()):
            _add(by_tag, further, fact, rules)


_DAYS = {DurationUnit.DAYS: 1, DurationUnit.WEEKS: 7, DurationUnit.MONTHS: 31}


def stop_before(herb: Herb, rules: SafetyRules) -> int:
    """How many days before an operation a herb is left out: the longer of its own and all's."""
    own = [
        duration.count * _DAYS[duration.unit]
        for duration in herb.durations
        if duration.kind is DurationKind.STOP_BEFORE_SURGERY and duration.unit in _DAYS
    ]
    general = rules.surgery.days if rules.surgery else 0
    return max((*own, general))
