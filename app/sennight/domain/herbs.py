"""Herbs of the materia medica: what published texts say of each, fact by fact.

Every fact carries its origin: the text that holds it and whether the figure was seen there
(`read`) or remembered (`memory`). Nothing here decides anything; ranges, exposure and safety
read it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType


class Basis(StrEnum):
    """Whether a fact was seen in its source or remembered."""

    READ = "read"
    MEMORY = "memory"


class SourceKind(StrEnum):
    """What sort of text a source is; the order is the order of trust."""

    OFFICIAL = "official"
    TEXTBOOK = "textbook"
    SECONDARY = "secondary"
    PRACTICE = "practice"


@dataclass(frozen=True, slots=True)
class Source:
    """A published text; `status` says whether it is final, a draft, superseded …"""

    id: str
    title: str
    document: str
    status: str
    kind: SourceKind
    basis: Basis


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a fact comes from, and on what basis it is held."""

    source: Source
    basis: Basis

    def __str__(self) -> str:
        document = self.source.document
        name = self.source.title
        if document and document not in name:
            name = f"{name}, {document}"
        return name if self.basis is Basis.READ else f"{name} (from memory)"


class Route(StrEnum):
    """Taken by mouth, or used on the skin or in the mouth without swallowing."""

    ORAL = "oral"
    TOPICAL = "topical"


class Preparation(StrEnum):
    """The forms in which texts give a herb."""

    INFUSION = "infusion"
    DECOCTION = "decoction"
    MACERATE = "macerate"
    POWDER = "powder"
    TINCTURE = "tincture"
    LIQUID_EXTRACT = "liquid-extract"
    DRY_EXTRACT = "dry-extract"
    JUICE = "juice"
    SYRUP = "syrup"
    WHOLE_FRUIT = "whole-fruit"
    MOUTHWASH = "mouthwash"
    BATH = "bath"
    OINTMENT = "topical-ointment"
    CREAM = "topical-cream"
    GEL = "topical-gel"
    OIL = "topical-oil"
    COMPRESS = "topical-compress"
    PAINT = "topical-paint"
    PLASTER = "topical-plaster"


class DoseUnit(StrEnum):
    """What published doses are counted in."""

    G = "g"
    MG = "mg"
    ML = "mL"
    DROP = "drop"
    TSP = "tsp"
    BERRY = "berry"


@dataclass(frozen=True, slots=True)
class DoseRange:
    """A published amount from `low` to `high`, both included.

    Of the preparation itself, unless `of` names what the figure counts instead: a marker
    substance, or the root that an extract stands for.
    """

    low: Fraction
    high: Fraction
    unit: DoseUnit
    of: str = ""


@dataclass(frozen=True, slots=True)
class Ratio:
    """How much herb stands for how much of a preparation, as spans: 1:5, 1:3.5-4.5, 4-7:1.

    Grams to mL for liquids, grams to grams for dry extracts.
    """

    herb: tuple[Fraction, Fraction]
    made: tuple[Fraction, Fraction]

    @property
    def made_per_herb(self) -> Fraction:
        """mL (or g) of the preparation to 1 g of dried herb, by the middles of the spans."""
        return (self.made[0] + self.made[1]) / (self.herb[0] + self.herb[1])


@dataclass(frozen=True, slots=True)
class DoseRow:
    """What one text says of one preparation of a herb.

    Rows of several texts stand side by side; they are no alternatives to be averaged. The dose
    in one go, the times a day and the daily dose each have a basis of their own; `worked_out`
    marks a daily dose that is dose × times and stands in no text. `ethanol` is in % v/v, from
    least to most.
    """

    id: str
    form: Preparation
    route: Route
    made_from: Origin
    dose_from: Origin
    ratio: Ratio | None = None
    ethanol: tuple[Fraction, Fraction] | None = None
    solvent: str = ""
    dose: DoseRange | None = None
    times: tuple[int, int] | None = None
    times_from: Origin | None = None
    daily: DoseRange | None = None
    daily_basis: Basis | None = None
    worked_out: bool = False
    note: str = ""


class Level(StrEnum):
    """How strongly a text speaks against a use."""

    CONTRAINDICATED = "contraindicated"
    AVOID = "avoid"
    REFER = "refer"
    CAUTION = "caution"
    SEPARATE = "separate"
    MONITOR = "monitor"
    INFO = "info"


@dataclass(frozen=True, slots=True)
class Caution:
    """What a text says of a herb for clients to whom a tag of the vocabulary applies."""

    tag: str
    level: Level
    text: str
    origin: Origin


class DurationKind(StrEnum):
    """What a length of time says of a herb's use."""

    USUAL_COURSE = "usual-course"
    MAX_COURSE = "max-course"
    MIN_BREAK = "min-break"
    SEEK_ADVICE_AFTER = "seek-advice-after"
    MIN_COURSE_FOR_EFFECT = "min-course-for-effect"
    REVIEW_AFTER = "review-after"
    STOP_BEFORE_SURGERY = "stop-before-surgery"


class DurationUnit(StrEnum):
    """What a duration is counted in; weeks-per-year counts days of use within a year."""

    DAYS = "days"
    WEEKS = "weeks"
    MONTHS = "months"
    WEEKS_PER_YEAR = "weeks-per-year"


@dataclass(frozen=True, slots=True)
class Duration:
    """A length of time that a text gives for a herb's use."""

    kind: DurationKind
    count: int
    unit: DurationUnit
    text: str
    origin: Origin


class Presence(StrEnum):
    """How much of a constituent a herb holds; traces are not counted in burdens."""

    TRACE = "trace"
    LOW = "low"
    MODERATE = "moderate"
    HIGH = "high"


@dataclass(frozen=True, slots=True)
class Figure:
    """A published figure; None leaves that side open (at least, up to)."""

    low: Fraction | None
    high: Fraction | None
    unit: str


@dataclass(frozen=True, slots=True)
class Constituent:
    """A constituent (or class of constituents) that a herb holds."""

    tag: str
    presence: Presence
    figure: Figure | None
    text: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class Stated:
    """A single figure with a remark: years of age, or % v/v of ethanol."""

    value: Fraction
    text: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class Usual:
    """One daily range for a herb whatever its form, for the eye; no rule reads it."""

    amount: DoseRange
    text: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class OfficialText:
    """The European monograph on a herb: its status, document number and kind of use."""

    status: str
    document: str
    use: str
    origin: Origin
    document_basis: Basis


@dataclass(frozen=True, slots=True)
class Actions:
    """The actions that a herb is held to have, as tags of the vocabulary."""

    tags: tuple[str, ...]
    origin: Origin


@dataclass(frozen=True, slots=True)
class Herb:
    """One herb of the materia medica."""

    id: str
    name: str
    latin: str
    family: str
    part: str
    drug_name: str
    routes: tuple[Route, ...]
    systems: tuple[str, ...]
    official: OfficialText
    actions: Actions
    pregnancy: Caution
    lactation: Caution
    min_age: Stated
    min_ethanol: Stated
    sources: tuple[Source, ...]
    other_names: tuple[str, ...] = ()
    remark: str = ""
    usual: Usual | None = None
    doses: tuple[DoseRow, ...] = ()
    cautions: tuple[Caution, ...] = ()
    interactions: tuple[Caution, ...] = ()
    durations: tuple[Duration, ...] = ()
    constituents: tuple[Constituent, ...] = ()

    def __hash__(self) -> int:
        # By the id alone: a record holds hundreds of facts, and what is worked out from it is
        # kept by record.
        return hash(self.id)

    @property
    def all_cautions(self) -> Iterator[Caution]:
        """Cautions, interactions, pregnancy and lactation, in that order."""
        yield from self.cautions
        yield from self.interactions
        yield self.pregnancy
        yield self.lactation


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


@dataclass(frozen=True, slots=True)
class MateriaMedica:
    """All herbs that are held, by id, and the burdens that they share."""

    herbs: Mapping[str, Herb] = field(default_factory=lambda: MappingProxyType({}))
    burdens: Mapping[str, Burden] = field(default_factory=lambda: MappingProxyType({}))

    def herb(self, herb_id: str) -> Herb | None:
        """The herb of that id, or None where none is held."""
        return self.herbs.get(herb_id)

    @property
    def names(self) -> Mapping[str, str]:
        """Each herb's name by its id, in order of the names."""
        found = sorted(self.herbs.values(), key=lambda herb: herb.name.casefold())
        return {herb.id: herb.name for herb in found}

    def with_herbs(self, herbs: Iterable[Herb]) -> MateriaMedica:
        """The same with these herbs added; one of the same id takes the place of ours."""
        merged = {**self.herbs, **{herb.id: herb for herb in herbs}}
        return MateriaMedica(MappingProxyType(merged), self.burdens)
