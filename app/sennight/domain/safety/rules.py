"""The rules that findings come from, beside what the herbs' own records say.

Rules are data, each with its source. Code knows a handful of shapes: a client's fact meets
herbs (`herb_rules`); herbs of a group add up in number or in milligrams a day; ethanol in one
dose against the client's weight; days of use; age.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from sennight.domain.client_facts.records import FactRecords
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.general_rules import Urgency
from sennight.domain.herbs.herbs import DurationUnit, Herb, Level, Presence
from sennight.domain.herbs.sources import Origin
from sennight.domain.safety.come_back import ComeBackRules
from sennight.domain.safety.for_client import Place
from sennight.domain.safety.herb_rules import HerbRules
from sennight.domain.safety.themes import Theme
from sennight.domain.tag_words import TagWords

_RISING = tuple(Presence)


@dataclass(frozen=True, slots=True)
class Group:
    """Herbs that have something in common; exactly one of the first two is set.

    A constituent counts from the presence `least` on; herbs of `without` never do.
    """

    constituent: str = ""
    action: str = ""
    least: Presence = Presence.LOW
    without: frozenset[str] = frozenset()

    def holds(self, herb: Herb) -> bool:
        """Whether a herb belongs to the group."""
        if herb.id in self.without:
            return False
        if self.constituent:
            return any(
                constituent.tag == self.constituent
                and _RISING.index(constituent.presence) >= _RISING.index(self.least)
                for constituent in herb.constituents
            )
        return self.action in herb.actions.tags


@dataclass(frozen=True, slots=True)
class CountRule:
    """So many herbs of a group taken on the same days."""

    id: str
    group: Group
    count: int
    level: Level
    text: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class LimitRule:
    """How a ceiling of the burdens is judged: where it is surely passed, and where perhaps.

    The ceiling, its text and its source are the materia medica's; `value` is in mg a day. The
    level for `perhaps` is None where that is not told.
    """

    constituent: str
    value: Fraction
    surely: Level
    perhaps: Level | None


@dataclass(frozen=True, slots=True)
class Content:
    """How many mg of a constituent 1 g of a herb in these forms holds, from least to most."""

    constituent: str
    herb: str
    forms: tuple[TakenAs, ...]
    low: Fraction
    high: Fraction
    origin: Origin


@dataclass(frozen=True, slots=True)
class DoseLimit:
    """A threshold of ethanol in what is taken at once, in mg for each kg of the client.

    `tags` are the facts of the clients whom it is about; empty where it is about everyone.
    """

    mg_per_kg: int
    level: Level
    text: str
    origin: Origin
    tags: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ForSome:
    """A duration of a herb that holds for clients with a fact alone."""

    herb: str
    count: int
    unit: DurationUnit
    tag: str


@dataclass(frozen=True, slots=True)
class TrialLength:
    """A duration of a herb that is only as long as a trial was: no limit."""

    herb: str
    count: int
    unit: DurationUnit


@dataclass(frozen=True, slots=True)
class AdviceRule:
    """What the client is told of every remedy that holds a herb with a tag of advice.

    `form` says of which: `oral`, `rub` or, where it is empty, any; `place` where on the sheet.
    It is not told to clients with a fact of `not_with`, and of `mild` herbs only to those with
    one of `mild_with`.
    """

    tag: str
    says: str
    form: str
    place: Place
    not_with: frozenset[str] = frozenset()
    mild: frozenset[str] = frozenset()
    mild_with: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class AllHerbs:
    """A number of days that a text gives for all herbs, and so many after it."""

    days: int
    text: str
    origin: Origin
    after: int = 0


@dataclass(frozen=True, slots=True)
class RedFlag:
    """A sign to ask for at intake and review, and what to do at once where it is there."""

    id: str
    sign: str
    action: str
    urgency: Urgency
    tag: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class SafetyRules:
    """All rules. `as_of` is the day on which they and the herbs' records were last gone over.

    `implies` says which further tags a fact brings with it; `not_oral` which medicines are not
    taken by mouth; `never_delayed` which are taken at once when they are needed; `counts_back`
    the facts whose days begin before their date; `lasts` how many days a fact without an end
    holds; `rub_tags` the facts that matter for what is used on the skin; `words` how tags are
    read; `tags` all that there are of conditions, medicines and constituents; `records` what
    medicines and conditions bring with them. `names_fact` are texts of records that name the
    client's fact themselves, `tells_length` those that add nothing to the length that they stand
    beside. `record_themes` say by which theme it is told what a herb's own record says, by herb
    and tag; empty where it is that of the fact.
    """

    as_of: date
    herb_rules: HerbRules = field(default_factory=HerbRules)
    counts: tuple[CountRule, ...] = ()
    limits: tuple[LimitRule, ...] = ()
    contents: tuple[Content, ...] = ()
    dose_limits: tuple[DoseLimit, ...] = ()
    for_some: tuple[ForSome, ...] = ()
    trials: tuple[TrialLength, ...] = ()
    themes: tuple[Theme, ...] = ()
    record_themes: Mapping[tuple[str, str], str] = field(default_factory=dict)
    come_back: ComeBackRules | None = None
    advice: tuple[AdviceRule, ...] = ()
    flags: tuple[RedFlag, ...] = ()
    surgery: AllHerbs | None = None
    implies: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    lasts: Mapping[str, int] = field(default_factory=dict)
    counts_back: tuple[str, ...] = ()
    not_oral: tuple[str, ...] = ()
    never_delayed: tuple[str, ...] = ()
    rub_tags: frozenset[str] = frozenset()
    words: TagWords = field(default_factory=TagWords)
    tags: tuple[str, ...] = ()
    names_fact: frozenset[str] = frozenset()
    tells_length: frozenset[str] = frozenset()
    records: FactRecords = field(default_factory=FactRecords)

    @property
    def every_tag(self) -> tuple[str, ...]:
        """All tags that a finding can be about: those of the vocabulary and those of the rules."""
        of_rules = (
            tag
            for rule in self.herb_rules.every
            for tag in (*rule.facts.tags, *rule.facts.properties, *rule.facts.herbs)
        )
        return tuple(dict.fromkeys((*self.tags, *of_rules)))

    def theme(self, theme_id: str) -> Theme | None:
        """The theme of that id; None where it is empty."""
        return next((theme for theme in self.themes if theme.id == theme_id), None)

    def theme_of(self, tag: str) -> Theme | None:
        """The theme of a fact, by its tag."""
        return next((theme for theme in self.themes if tag in theme.tags), None)

    def theme_id_of(self, tag: str) -> str:
        """The id of a fact's theme; empty where it has none."""
        theme = self.theme_of(tag)
        return theme.id if theme else ""

    def theme_of_sum(self, group: str) -> Theme | None:
        """The theme of what adds up over herbs."""
        return next((theme for theme in self.themes if group in theme.adds_up), None)

    @property
    def advice_tags(self) -> frozenset[str]:
        """The tags of advice that everyone gets, which are never findings."""
        return frozenset(rule.tag for rule in self.advice)
