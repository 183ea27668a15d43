"""What holds over several herbs: burdens that add up, and rules for every client."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from sennight.domain.herbs.sources import Origin


@dataclass(frozen=True, slots=True)
class BurdenLimit:
    """A published ceiling for a constituent, over all that a client takes."""

    constituent: str
    value: Fraction
    unit: str
    text: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class Burden:
    """How amounts of a constituent add up over herbs and medicines; no rule where they do not."""

    constituent: str
    rule: str
    limits: tuple[BurdenLimit, ...] = ()


class Topic(StrEnum):
    """What a general rule is about."""

    RED_FLAG = "red-flag"
    TOPICAL = "topical"
    CAPSICUM = "capsicum"
    SALICYLATES = "salicylates"
    TANNINS = "tannins"
    MUCILAGE = "mucilage"
    SURGERY = "surgery"
    ALCOHOL = "alcohol"
    REVIEW = "review"


class Urgency(StrEnum):
    """How soon a red flag needs a doctor; the order is that of haste."""

    EMERGENCY = "emergency"
    SAME_DAY = "same-day"
    URGENT = "urgent"
    REFER = "refer"


@dataclass(frozen=True, slots=True)
class GeneralRule:
    """What a text says to clients whatever their herbs, or of several herbs at once.

    `says` is the sign or the rule, `does` what to do. `span` is a time that it gives, as least
    and most in `span_unit`: days, hours or minutes. `herbs` are those that it is about.
    """

    id: str
    topic: Topic
    says: str
    does: str
    origin: Origin
    urgency: Urgency | None = None
    span: tuple[int, int] | None = None
    span_unit: str = ""
    herbs: tuple[str, ...] = ()
