"""What a finding is about: a closed set of kinds, from which its stable id is made.

A finding's id never holds a date or an amount, so that a decision about it is found again.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import assert_never

from sennight.domain.amounts import rounded
from sennight.domain.herbs.herbs import DurationKind


@dataclass(frozen=True, slots=True)
class HerbWithFact:
    """A herb and a fact of the client, as a tag of the vocabulary: `HERB.TAG`."""

    herb: str
    tag: str


@dataclass(frozen=True, slots=True)
class HerbAtAge:
    """A herb and a client who is younger than it is meant for: `HERB.age`."""

    herb: str


@dataclass(frozen=True, slots=True)
class HerbAfterReaction:
    """A herb that is suspected of a reaction that the client had: `HERB.reaction`."""

    herb: str


@dataclass(frozen=True, slots=True)
class HerbUnrecorded:
    """A herb of which no record is held: `unchecked.HERB`."""

    herb: str


@dataclass(frozen=True, slots=True)
class FactUnchecked:
    """A fact of the client that no record knows, or that could be several: `unchecked.NAME`.

    `name` is in lower case, its words joined by hyphens.
    """

    name: str


@dataclass(frozen=True, slots=True)
class LengthOfUse:
    """The longest use that the herb's record gives: `length.HERB.max-course`."""

    herb: str


@dataclass(frozen=True, slots=True)
class HoursBetween:
    """A herb and a medicine that are kept apart: `hours.TAG.HERB`."""

    tag: str
    herb: str


@dataclass(frozen=True, slots=True)
class HerbNumber:
    """So many herbs of a group on the same days: `burden.GROUP.COUNT`."""

    group: str
    count: int


@dataclass(frozen=True, slots=True)
class ConstituentCeiling:
    """mg a day of a constituent over a ceiling: `burden.CONSTITUENT.MG`."""

    constituent: str
    mg: Fraction


@dataclass(frozen=True, slots=True)
class EthanolWithFact:
    """Liquids with ethanol and a fact of the client: `burden.ethanol.TAG`."""

    tag: str


@dataclass(frozen=True, slots=True)
class EthanolInDose:
    """mg of ethanol in one dose for each kg of the client: `burden.ethanol.MG`."""

    mg_per_kg: int


@dataclass(frozen=True, slots=True)
class OverMost:
    """More of a herb in a day than any text gives: `over.HERB`."""

    herb: str


@dataclass(frozen=True, slots=True)
class OverDayCeiling:
    """More timed doses in a day than a ceiling over remedies: `over.day.REMEDY+REMEDY`."""

    remedies: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HerbForm:
    """A herb in a form that its record speaks against: `form.HERB`."""

    herb: str


@dataclass(frozen=True, slots=True)
class FormsUnrecorded:
    """Herbs in forms of which no record speaks, all in one: `form.unrecorded`."""


@dataclass(frozen=True, slots=True)
class SugarWithFact:
    """Sugar in remedies and a fact of the client: `burden.sugar.TAG`."""

    tag: str


@dataclass(frozen=True, slots=True)
class EssentialOilOver:
    """More essential oil than is usual in what goes on the skin: `over.essential-oil.REMEDY`."""

    remedy: str


@dataclass(frozen=True, slots=True)
class DeepSite:
    """Something rubbed in over a joint that lies deep: `site.REMEDY`."""

    remedy: str


@dataclass(frozen=True, slots=True)
class SteamForChild:
    """A bowl of steaming water and a young child: `steam.REMEDY`."""

    remedy: str


@dataclass(frozen=True, slots=True)
class FlagStands:
    """A red flag, by its tag or, where it has none, its own name: `flag.TAG`."""

    tag: str


FindingRule = (
    HerbWithFact
    | HerbAtAge
    | HerbAfterReaction
    | HerbUnrecorded
    | FactUnchecked
    | LengthOfUse
    | HoursBetween
    | HerbNumber
    | ConstituentCeiling
    | EthanolWithFact
    | EthanolInDose
    | OverMost
    | OverDayCeiling
    | HerbForm
    | FormsUnrecorded
    | SugarWithFact
    | EssentialOilOver
    | DeepSite
    | SteamForChild
    | FlagStands
)


@lru_cache(1024)
def finding_id(rule: FindingRule) -> str:
    """The stable id of what a finding is about."""
    match rule:
        case HerbWithFact(herb, tag):
            return f"{herb}.{tag}"
        case HerbAtAge(herb):
            return f"{herb}.age"
        case HerbAfterReaction(herb):
            return f"{herb}.reaction"
        case HerbUnrecorded(herb):
            return f"unchecked.{herb}"
        case FactUnchecked(name):
            return f"unchecked.{name}"
        case LengthOfUse(herb):
            return f"length.{herb}.{DurationKind.MAX_COURSE}"
        case HoursBetween(tag, herb):
            return f"hours.{tag}.{herb}"
        case HerbNumber(group, count):
            return f"burden.{group}.{count}"
        case ConstituentCeiling(constituent, mg):
            return f"burden.{constituent}.{rounded(mg, 3)}"
        case EthanolWithFact(tag):
            return f"burden.ethanol.{tag}"
        case EthanolInDose(mg_per_kg):
            return f"burden.ethanol.{mg_per_kg}"
        case OverMost(herb):
            return f"over.{herb}"
        case OverDayCeiling(remedies):
            return f"over.day.{'+'.join(remedies)}"
        case HerbForm(herb):
            return f"form.{herb}"
        case FormsUnrecorded():
            return "form.unrecorded"
        case SugarWithFact(tag):
            return f"burden.sugar.{tag}"
        case EssentialOilOver(remedy):
            return f"over.essential-oil.{remedy}"
        case DeepSite(remedy):
            return f"site.{remedy}"
        case SteamForChild(remedy):
            return f"steam.{remedy}"
        case FlagStands(tag):
            return f"flag.{tag}"
        case _:
            assert_never(rule)


def earlier_id(rule: FindingRule) -> str:
    """The id under which decisions about the same thing were kept before, else today's."""
    match rule:
        case HerbWithFact(herb, tag):
            return f"meets.{herb}.{tag}"
        case HerbAtAge(herb):
            return f"age.{herb}"
        case HerbAfterReaction(herb):
            return f"reaction.{herb}"
        case HerbUnrecorded(herb):
            return f"unknown.{herb}"
        case EthanolWithFact(tag):
            return f"meets.ethanol.{tag}"
        case (
            FactUnchecked()
            | LengthOfUse()
            | HoursBetween()
            | HerbNumber()
            | ConstituentCeiling()
            | EthanolInDose()
            | OverMost()
            | OverDayCeiling()
            | HerbForm()
            | FormsUnrecorded()
            | SugarWithFact()
            | EssentialOilOver()
            | DeepSite()
            | SteamForChild()
            | FlagStands()
        ):
            return finding_id(rule)
        case _:
            assert_never(rule)
