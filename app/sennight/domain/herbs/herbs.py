"""Herbs of the materia medica: what published texts say of each, fact by fact.

Every fact carries its origin: the text that holds it and whether the figure was seen there
(`read`) or remembered (`memory`). Nothing here decides anything; ranges, exposure and safety
read it.
"""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType
from typing import cast

from sennight.domain.herbs.doses import (
    ChildDose,
    DoseRange,
    DoseRow,
    Preparation,
    Route,
    TakenAs,
)
from sennight.domain.herbs.general_rules import Burden, GeneralRule
from sennight.domain.herbs.naming import Heading
from sennight.domain.herbs.sources import Basis, Origin, Source


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
    forms: tuple[TakenAs, ...] = ()
    """The forms that it is said of; empty where it is said of all."""


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
class LegalNote:
    """What the law restricts of a herb somewhere; local law is always to be checked."""

    text: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class NotAs:
    """Forms in which a record speaks against a herb that is taken in others: why, how strongly."""

    forms: tuple[TakenAs, ...]
    level: Level
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
    min_ethanol: Stated | None
    sources: tuple[Source, ...]
    other_names: tuple[str, ...] = ()
    remark: str = ""
    usual: Usual | None = None
    doses: tuple[DoseRow, ...] = ()
    cautions: tuple[Caution, ...] = ()
    interactions: tuple[Caution, ...] = ()
    durations: tuple[Duration, ...] = ()
    constituents: tuple[Constituent, ...] = ()
    conflicts: tuple[str, ...] = ()
    """Where the texts differ, and which side is taken here."""
    law: tuple[LegalNote, ...] = ()
    not_as: tuple[NotAs, ...] = ()
    min_age_skin: Stated | None = None
    """The age from which it may be used on the skin, where that is not the age for the mouth."""
    narrow: bool = False
    """Whether little more than the dose does harm, so that any amount over it is grave."""

    @property
    def is_substance(self) -> bool:
        """Whether it is no herb but a substance of bought-in products: glucosamine, zinc."""
        return any(row.form is Preparation.SUBSTANCE for row in self.doses)

    def __hash__(self) -> int:
        # By the id alone: a record holds hundreds of facts, and what is worked out from it is
        # kept by record.
        return hash(self.id)

    @property
    def heading(self) -> Heading:
        """What it is called."""
        return Heading(self.id, self.name, self.latin, self.drug_name, self.other_names)

    @property
    def all_cautions(self) -> Iterator[Caution]:
        """Cautions, interactions, pregnancy and lactation, in that order."""
        yield from self.cautions
        yield from self.interactions
        yield self.pregnancy
        yield self.lactation


@dataclass(frozen=True, slots=True)
class MateriaMedica:
    """All herbs that are held, by id, the burdens that they share, and the general rules."""

    herbs: Mapping[str, Herb] = field(default_factory=lambda: MappingProxyType({}))
    burdens: Mapping[str, Burden] = field(default_factory=lambda: MappingProxyType({}))
    rules: tuple[GeneralRule, ...] = ()
    child_doses: Mapping[str, tuple[ChildDose, ...]] = field(
        default_factory=lambda: MappingProxyType({})
    )
    """What is published for children, by the herbs' ids."""
    known_headings: Mapping[str, Heading] = field(default_factory=lambda: MappingProxyType({}))
    """What herbs are called, where that is known without reading their records."""

    def herb(self, herb_id: str) -> Herb | None:
        """The herb of that id, or None where none is held."""
        return self.herbs.get(herb_id)

    @property
    def names(self) -> Mapping[str, str]:
        """Each herb's name by its id, in order of the names."""
        headings = sorted(self.headings, key=lambda heading: heading.name.casefold())
        return {heading.id: heading.name for heading in headings}

    @property
    def headings(self) -> tuple[Heading, ...]:
        """What each herb is called, in order of the ids; no record is read for it."""
        known = self.known_headings
        return tuple(known.get(herb_id) or self.herbs[herb_id].heading for herb_id in self.herbs)

    def with_herbs(self, herbs: Iterable[Herb]) -> MateriaMedica:
        """The same with these herbs added; one of the same id takes the place of ours."""
        added = {herb.id: herb for herb in herbs}
        known = {
            herb_id: heading
            for herb_id, heading in self.known_headings.items()
            if herb_id not in added
        }
        merged = ChainMap(added, cast("dict[str, Herb]", self.herbs))  # no record is read
        return replace(self, herbs=MappingProxyType(merged), known_headings=known)
