"""What findings say, as data: what a text or rule states.

Nothing here is a sentence of ours; `wording` makes the sentences. Words of a record or rule are
quoted whole, with their origin.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import Duration, Level
from sennight.domain.herbs.sources import Origin


@dataclass(frozen=True, slots=True)
class Quote:
    """What a record or a rule says of a herb for clients with a tag.

    `text` is empty where a practice's own record says no more than how strongly. `also` are
    further sources of the same.
    """

    herb: str
    tag: str
    level: Level
    text: str
    origin: Origin
    also: tuple[Origin, ...] = ()


@dataclass(frozen=True, slots=True)
class LeftOutBefore:
    """A herb left out for so many days before an operation and after it, the general text."""

    herb: str
    days: int
    after: int
    text: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class WashOut:
    """So many days that are left between a herb and a medicine, and why they matter.

    `day` is the medicine's last day where it `ended`, else its first.
    """

    herb: str
    medicine: str
    day: date
    days: int
    text: str
    origins: tuple[Origin, ...]
    ended: bool


@dataclass(frozen=True, slots=True)
class HoldsAllergen:
    """A herb that holds a constituent to which the client is allergic."""

    herb: str
    constituent: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class AllergicToIt:
    """The client is allergic to the herb itself, of which its record says nothing."""

    herb: str


@dataclass(frozen=True, slots=True)
class OnSkinWhileFeeding:
    """What a herb's record has against it by mouth says little of its use on the skin."""

    herb: str


@dataclass(frozen=True, slots=True)
class OfOneFamily:
    """The client is allergic to another herb of a family that people react to as a whole."""

    herb: str
    other: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class AllergyToWhich:
    """An allergy to a herb is recorded, but not to which."""


@dataclass(frozen=True, slots=True)
class NotInRecords:
    """A fact in words that no record goes by."""

    name: str


@dataclass(frozen=True, slots=True)
class MayBeEither:
    """A fact whose name stands for several things; it counts as what asks for more care."""

    name: str
    either: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LeastAge:
    """The age in years from which a herb is meant, with the text's remark."""

    herb: str
    years: Fraction
    text: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class SuspectedReaction:
    """What happened to this client, which the herb is suspected of."""

    herb: str
    what: str


@dataclass(frozen=True, slots=True)
class NothingRecorded:
    """There is no record of the herb."""

    herb: str


@dataclass(frozen=True, slots=True)
class LengthsPassed:
    """Lengths of one kind in a herb's record, the one that is passed first at the head."""

    herb: str
    lengths: tuple[Duration, ...]


@dataclass(frozen=True, slots=True)
class AddsUp:
    """Herbs that add up in number, and how."""

    herbs: tuple[str, ...]
    text: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class Ceiling:
    """A published ceiling of a constituent, in its unit a day."""

    constituent: str
    value: Fraction
    unit: str
    text: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class CeilingPassed:
    """A day's herbs hold so many mg, surely or, where contents vary, perhaps."""

    ceiling: Ceiling
    mg: Fraction
    surely: bool


@dataclass(frozen=True, slots=True)
class EthanolSpokenAgainst:
    """What a rule says of liquids with ethanol for clients with a tag."""

    tag: str
    text: str
    origins: tuple[Origin, ...]


@dataclass(frozen=True, slots=True)
class EthanolDose:
    """mg of ethanol for each kg in what is taken at once; `assumed_kg` without a weight."""

    remedies: tuple[str, ...]
    mg_per_kg: Fraction
    assumed_kg: Fraction | None
    text: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class DoseTimes:
    """When a remedy that comes near a medicine is taken, in minutes of the client's day."""

    remedy: str
    times: tuple[int, ...]
    as_needed: bool


@dataclass(frozen=True, slots=True)
class TooNear:
    """Herbs and a medicine that come nearer than so many hours to each other.

    Why is said by the herb's record or a rule. The medicine's times are empty where they are not
    recorded. The origin of the hours is None where they are common practice.
    """

    herbs: tuple[str, ...]
    medicine: str
    hours: int
    quote: Quote
    doses: tuple[DoseTimes, ...]
    medicine_times: tuple[int, ...]
    hours_origin: Origin | None


@dataclass(frozen=True, slots=True)
class AmountOver:
    """A day's most of a herb beside the most that is published for its form.

    Grams a day; `form`, `grams` and `most` are None where several forms together are over.
    `times` is how many times the published figure it comes to, None where that is not known;
    `source` cites the ranges.
    """

    herb: str
    form: TakenAs | None
    grams: Fraction | None
    most: Fraction | None
    times: Fraction | None
    is_single_figure: bool
    narrow: bool
    source: str


@dataclass(frozen=True, slots=True)
class ChildAmount:
    """A day's most of a herb for a child, beside the least that the rules of age and weight give.

    Grams a day; `source` cites the adult's range that the rules take a part of.
    """

    herb: str
    form: TakenAs
    grams: Fraction
    most: Fraction
    years: int
    by_weight: bool
    source: str


@dataclass(frozen=True, slots=True)
class NoChildDose:
    """A herb of which no dose is published for a child of this age, and no rule is to be used."""

    herb: str
    years: int
    origin: Origin


@dataclass(frozen=True, slots=True)
class AppliedTooOften:
    """How often a herb is put on the skin in a day, and the most that is published."""

    herb: str
    times: int
    most: int
    origin: Origin


@dataclass(frozen=True, slots=True)
class FormSpokenAgainst:
    """What a record says against a herb in a form."""

    herb: str
    form: TakenAs
    text: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class NoFormRecord:
    """Herbs in forms of which no text speaks."""

    herbs: tuple[tuple[str, TakenAs], ...]


@dataclass(frozen=True, slots=True)
class DosesOverCeiling:
    """So many timed doses in a day, where a protocol sets a lower most for its remedies."""

    doses: int
    most: int


@dataclass(frozen=True, slots=True)
class SugarTaken:
    """The most grams of sugar in one dose and in a day; None where they are not known."""

    grams: Fraction | None
    a_day: Fraction | None


@dataclass(frozen=True, slots=True)
class EssentialOils:
    """Essential oils in percent by weight, beside the most that is usual."""

    percent: Fraction
    most: Fraction
    is_delicate: bool


@dataclass(frozen=True, slots=True)
class SiteLiesDeep:
    """Places that something is rubbed into, whose joints lie deep, by name."""

    sites: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SteamScalds:
    """A steam inhalation on days on which the client is a young child."""


@dataclass(frozen=True, slots=True)
class SignOfDanger:
    """A red flag: the sign, and what to do."""

    sign: str
    action: str
    origin: Origin


Statement = (
    Quote
    | LeftOutBefore
    | WashOut
    | HoldsAllergen
    | AllergicToIt
    | OfOneFamily
    | OnSkinWhileFeeding
    | AllergyToWhich
    | NotInRecords
    | MayBeEither
    | LeastAge
    | SuspectedReaction
    | NothingRecorded
    | LengthsPassed
    | AddsUp
    | CeilingPassed
    | EthanolSpokenAgainst
    | EthanolDose
    | TooNear
    | AmountOver
    | ChildAmount
    | NoChildDose
    | AppliedTooOften
    | FormSpokenAgainst
    | NoFormRecord
    | DosesOverCeiling
    | SugarTaken
    | EssentialOils
    | SiteLiesDeep
    | SteamScalds
    | SignOfDanger
)
