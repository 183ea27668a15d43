"""Reads single facts of the materia medica, each with the source that it names."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeVar

from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import (
    Actions,
    Caution,
    Constituent,
    Duration,
    DurationKind,
    DurationUnit,
    Figure,
    LegalNote,
    Level,
    NotAs,
    OfficialText,
    Presence,
    Stated,
)
from sennight.domain.herbs.sources import Basis, Origin, Source, SourceKind
from sennight.toml_tables import (
    TEXT,
    Table,
    ValueKind,
    known_word,
    number,
    one_of,
    read_value,
    whole,
)

T = TypeVar("T")

BASIS = one_of(Basis, Basis.MEMORY)
AMOUNT = number(0, 1_000_000, from_there=True)
PERCENT = number(0, 100, from_there=True)
_NO_SOURCE = Source("", "", "", "", SourceKind.PRACTICE, Basis.MEMORY)


def read_source(table: Table) -> Source:
    """A source that facts can name by its id."""
    table.only("id", "title", "document", "status", "kind", "basis", of="a source")
    kind = table.need("kind", one_of(SourceKind, SourceKind.PRACTICE))
    if kind is SourceKind.OWN:
        table.report.add((*table.place, "kind"), "“own” is kept for what a practice enters itself")
    return Source(
        table.need("id", TEXT),
        table.need("title", TEXT),
        table.may("document", TEXT, ""),
        table.need("status", TEXT),
        kind,
        table.need("basis", BASIS),
    )


@dataclass(frozen=True, slots=True)
class Facts:
    """Reads facts, with the sources that they may name."""

    sources: Mapping[str, Source]

    def origin(self, table: Table) -> Origin:
        """The source that a fact names, and on what basis it is held."""
        kind = known_word("the id of a source in this file", self.sources)
        source = self.sources.get(table.need("source", kind), _NO_SOURCE)
        return Origin(source, table.need("basis", BASIS))

    def official(self, table: Table) -> OfficialText:
        """The European monograph."""
        table.only("status", "document", "use", "source", "basis", "document_basis")
        return OfficialText(
            table.need("status", TEXT),
            table.need("document", TEXT),
            table.need("use", TEXT),
            self.origin(table),
            table.need("document_basis", BASIS),
        )

    def actions(self, table: Table) -> Actions:
        """What the herb is held to do."""
        table.only("tags", "source", "basis")
        return Actions(values(table, "tags", TEXT), self.origin(table))

    def advice(self, table: Table, tag: str) -> Caution:
        """What is said for pregnancy or breastfeeding."""
        table.only("level", "text", "source", "basis")
        level = table.need("level", one_of(Level, Level.AVOID))
        return Caution(tag, level, table.need("text", TEXT), self.origin(table))

    def caution(self, table: Table) -> Caution:
        """A caution or an interaction."""
        table.only("tag", "level", "text", "forms", "source", "basis")
        return Caution(
            table.need("tag", TEXT),
            table.need("level", one_of(Level, Level.AVOID)),
            table.need("text", TEXT),
            self.origin(table),
            values(table, "forms", one_of(TakenAs, TakenAs.TEA)),
        )

    def law(self, table: Table) -> LegalNote:
        """What the law restricts somewhere."""
        table.only("text", "source", "basis")
        return LegalNote(table.need("text", TEXT), self.origin(table))

    def not_as(self, table: Table) -> NotAs:
        """Forms in which the herb is not to be taken."""
        table.only("forms", "level", "text", "source", "basis")
        return NotAs(
            values(table, "forms", one_of(TakenAs, TakenAs.TEA)),
            table.need("level", one_of(Level, Level.AVOID)),
            table.need("text", TEXT),
            self.origin(table),
        )

    def stated(self, table: Table, key: str) -> Stated:
        """A single figure under a key of its own."""
        table.only(key, "text", "source", "basis")
        value = table.need(key, PERCENT)
        return Stated(value, table.may("text", TEXT, ""), self.origin(table))

    def duration(self, table: Table) -> Duration:
        """A length of time."""
        table.only("kind", "count", "unit", "text", "source", "basis")
        return Duration(
            table.need("kind", one_of(DurationKind, DurationKind.REVIEW_AFTER)),
            table.need("count", whole(1, 366)),
            table.need("unit", one_of(DurationUnit, DurationUnit.DAYS)),
            table.need("text", TEXT),
            self.origin(table),
        )

    def constituent(self, table: Table) -> Constituent:
        """What the herb holds."""
        table.only("tag", "presence", "figure", "text", "source", "basis")
        return Constituent(
            table.need("tag", TEXT),
            table.need("presence", one_of(Presence, Presence.TRACE)),
            _figure(table),
            table.need("text", TEXT),
            self.origin(table),
        )


def _figure(table: Table) -> Figure | None:
    if "figure" not in table.data:
        return None
    figure = table.table("figure")
    figure.only("min", "max", "unit")
    low, high = figure.perhaps("min", AMOUNT), figure.perhaps("max", AMOUNT)
    if low is None and high is None:
        table.report.add(figure.place, "expected min, max or both")
    if low is not None and high is not None:
        in_order(figure, low, high)
    return Figure(low, high, figure.need("unit", TEXT))


def in_order(table: Table, low: Fraction | int, high: Fraction | int) -> None:
    """Note a span that goes from more to less."""
    if high < low:
        table.report.add(table.place, f"expected a span from less to more; found {low} to {high}")


def values(table: Table, key: str, kind: ValueKind[T]) -> tuple[T, ...]:
    """The values of a list, those left out that do not fit."""
    read = (read_value(value, kind, place, table.report) for place, value in table.entries(key))
    return tuple(value for value in read if value is not None)
