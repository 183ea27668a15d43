"""Rules that hold for many herbs: herbs, actions and constituents against a client's facts.

A rule speaks where its herbs meet any of its facts. A fact holds with all that lies above it: a
medicine with its classes, effects and ways of being handled.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property

from sennight.domain.herbs.doses import Route, TakenAs
from sennight.domain.herbs.herbs import Herb, Level, Presence
from sennight.domain.herbs.sources import Origin

_RISING = tuple(Presence)


class Mechanism(StrEnum):
    """How a herb and a medicine meet; hours apart help where it is absorption, and only there."""

    PHARMACODYNAMIC = "pharmacodynamic"
    PHARMACOKINETIC = "pharmacokinetic"
    ABSORPTION = "absorption"


@dataclass(frozen=True, slots=True)
class WhichHerbs:
    """The herbs that a rule is about: those that any of its parts names, but for some.

    Constituents count from the presence `least` to `most`. `advice` is a tag by which a record
    asks for something of everyone (plenty to drink).
    """

    every: bool = False
    herbs: frozenset[str] = frozenset()
    actions: frozenset[str] = frozenset()
    constituents: frozenset[str] = frozenset()
    least: Presence = Presence.TRACE
    most: Presence = Presence.HIGH
    family: str = ""
    advice: str = ""
    but: frozenset[str] = frozenset()

    def holds(self, herb: Herb) -> bool:
        """Whether a herb is one of them."""
        if herb.id in self.but:
            return False
        return (
            self.every
            or herb.id in self.herbs
            or (herb.family == self.family and bool(self.family))
            or not self.actions.isdisjoint(herb.actions.tags)
            or bool(self.held(herb))
            or any(caution.tag == self.advice for caution in herb.all_cautions)
        )

    def held(self, herb: Herb) -> str:
        """The constituent for which a herb is one of them; empty where it is for none."""
        low, high = _RISING.index(self.least), _RISING.index(self.most)
        tags = (
            constituent.tag
            for constituent in herb.constituents
            if constituent.tag in self.constituents
            and low <= _RISING.index(constituent.presence) <= high
        )
        return next(tags, "")


@dataclass(frozen=True, slots=True)
class WhichFacts:
    """The facts that a rule meets, by their tags, and those that it does not although they are.

    `properties` are effects of medicines and ways of being handled. `class_alone`: only where
    the class itself was recorded, and no medicine of it. `by_mouth_only`: of medicines only what
    is swallowed. `herbs` are other herbs of the course.
    """

    tags: tuple[str, ...] = ()
    properties: tuple[str, ...] = ()
    herbs: tuple[str, ...] = ()
    not_classes: frozenset[str] = frozenset()
    not_medicines: frozenset[str] = frozenset()
    class_alone: bool = False
    by_mouth_only: bool = False


@dataclass(frozen=True, slots=True)
class HerbRule:
    """One rule, as a row of the table has it.

    `route` is None where it holds for mouth and skin; `forms` are empty where it holds for all.
    `with_alcohol`: for liquids with ethanol, whatever they hold. `hours` are those between a dose
    and the medicine. `days_before` lie between the last dose of the medicine, or the day of the
    operation, and the herb; `days_after` are those after the last dose of the herb during which
    it still holds, and of an operation those after it. `theme` is that by which it is told with
    others, empty where the fact's own is meant. `remark` says where we judge otherwise than the
    source, and what a rule rests on that is thin.
    """

    id: str
    herbs: WhichHerbs
    facts: WhichFacts
    level: Level
    text: str
    origins: tuple[Origin, ...]
    theme: str = ""
    route: Route | None = None
    forms: tuple[TakenAs, ...] = ()
    with_alcohol: bool = False
    mechanism: Mechanism = Mechanism.PHARMACODYNAMIC
    hours: int | None = None
    days_before: int | None = None
    days_after: int | None = None
    remark: str = ""

    @property
    def has_exceptions(self) -> bool:
        """Whether it exempts a class or a medicine by name."""
        return bool(self.facts.not_classes or self.facts.not_medicines)


@dataclass(frozen=True, eq=False)
class HerbRules:
    """All rules, and which of them are about a herb; found once for each record."""

    every: tuple[HerbRule, ...] = ()
    _of: dict[Herb, tuple[HerbRule, ...]] = field(default_factory=dict, repr=False)
    _exempting: dict[Herb, tuple[HerbRule, ...]] = field(default_factory=dict, repr=False)

    def of(self, herb: Herb) -> tuple[HerbRule, ...]:
        """The rules about a herb, but for those on liquids with ethanol."""
        known = self._of.get(herb)
        if known is None:
            known = tuple(
                rule for rule in self.every if not rule.with_alcohol and rule.herbs.holds(herb)
            )
            self._of[herb] = known
        return known

    def exempting(self, herb: Herb) -> tuple[HerbRule, ...]:
        """The rules about a herb that exempt a class or a medicine by name."""
        known = self._exempting.get(herb)
        if known is None:
            known = tuple(rule for rule in self.of(herb) if rule.has_exceptions)
            self._exempting[herb] = known
        return known

    @cached_property
    def by_tag(self) -> Mapping[str, tuple[HerbRule, ...]]:
        """The rules that meet a tag, be it of a fact or of a medicine's properties."""
        rules: dict[str, list[HerbRule]] = {}
        for rule in self.every:
            for tag in dict.fromkeys((*rule.facts.tags, *rule.facts.properties)):
                rules.setdefault(tag, []).append(rule)
        return {tag: tuple(meeting) for tag, meeting in rules.items()}

    @property
    def on_alcohol(self) -> Iterator[HerbRule]:
        """The rules on liquids with ethanol."""
        return (rule for rule in self.every if rule.with_alcohol)


def in_groups(
    names: Iterable[str], groups: Mapping[str, frozenset[str]], herbs: Iterable[str] = ()
) -> frozenset[str]:
    """Herbs and those of groups; raises KeyError for a group that is not there."""
    return frozenset(herbs).union(*(groups[name] for name in names))
