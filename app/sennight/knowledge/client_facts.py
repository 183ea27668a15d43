"""Reads the records of medicines, their classes and conditions; each once, when first needed.

The files are tables: one record a line, a tab between columns, the columns' names on top. What
each column holds is told in the folder's README.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import cache, cached_property
from pathlib import Path
from typing import Protocol, TypeVar

from sennight.domain.client_facts.conditions import Condition, UnclearName
from sennight.domain.client_facts.medicines import (
    Medicine,
    MedicineClass,
    MedicineKind,
    Origin,
    Property,
    Systemic,
    UsedFor,
)
from sennight.domain.client_facts.records import FactRecords
from sennight.knowledge.tables import Cells, TableError, rows, words
from sennight.places import own_folder

_POSSIBLY = "?"


class _WithId(Protocol):
    @property
    def id(self) -> str: ...


Record = TypeVar("Record", bound=_WithId)


@cache
def fact_records() -> FactRecords:
    """The records that come with the program."""
    return read_fact_records(own_folder("resources") / "client_facts")


def read_fact_records(folder: Path) -> FactRecords:
    """The records of a folder, each file read when one of its records is first asked for.

    Asking raises TableError where the file is wrong.
    """
    return FactRecords(
        medicines=_Table(folder / "medicines.tsv", _medicine),
        classes=_Table(folder / "classes.tsv", _class),
        properties=_Table(folder / "effects.tsv", _property),
        conditions=_Table(folder / "conditions.tsv", _condition),
        unclear_medicines=_Table(folder / "unclear_medicines.tsv", _unclear),
        unclear_conditions=_Table(folder / "unclear_conditions.tsv", _unclear),
    )


class _Table(Mapping[str, Record]):
    """The records of one file."""

    def __init__(self, path: Path, read: Callable[[Cells], Record]) -> None:
        self._path, self._read = path, read

    @cached_property
    def _records(self) -> Mapping[str, Record]:
        return _records(self._path, self._read)

    def __getitem__(self, tag: str) -> Record:
        return self._records[tag]

    def __iter__(self) -> Iterator[str]:
        return iter(self._records)

    def __len__(self) -> int:
        return len(self._records)


def _records(path: Path, read: Callable[[Cells], Record]) -> Mapping[str, Record]:
    records: dict[str, Record] = {}
    for number, row in enumerate(rows(path), start=2):
        try:
            record = read(row)
        except (KeyError, ValueError) as error:
            message = f"{path.name}, line {number}: {error}; expected the columns of the README"
            raise TableError(message) from error
        if record.id in records:
            raise TableError(f"{path.name}, line {number}: a second record “{record.id}”")
        records[record.id] = record
    return records


def _medicine(row: Cells) -> Medicine:
    return Medicine(
        row["id"],
        _names(row["names"]),
        MedicineKind(row["kind"]),
        words(row["classes"]),
        words(row["not_held"]),
        words(row["effects"]),
        words(row["handling"]),
        _hours(row["hours_apart"]),
        _used_for(row["for"]),
        words(row["routes"]),
        Systemic(row["systemic"]),
        words(row["contains"]),
        int(row["tier"]),
        row["note"],
        words(row["names_from"]),
        row["classes_from"],
        Origin(row["source"], row["basis"]),
    )


def _class(row: Cells) -> MedicineClass:
    return MedicineClass(
        row["id"],
        row["label"],
        _names(row["names"]),
        words(row["parents"]),
        words(row["effects"]),
        words(row["handling"]),
        _hours(row["hours_apart"]),
        _used_for(row["for"]),
        row["by_mouth"] == "yes",
        row["group"],
        row["definition"],
        Origin(row["source"], row["basis"]),
    )


def _property(row: Cells) -> Property:
    return Property(row["id"], row["definition"], row["brings"], row["kind"] == "effect")


def _condition(row: Cells) -> Condition:
    return Condition(
        row["id"],
        row["label"],
        _names(row["names"]),
        words(row["implies"]),
        words(row["perhaps"]),
        row["group"],
        row["care"],
        Origin(row["source"], row["basis"]),
    )


def _unclear(row: Cells) -> UnclearName:
    return UnclearName(row["name"], words(row["records"]), words(row["until_known"]))


def _names(cell: str) -> tuple[str, ...]:
    return tuple(cell.split("; ")) if cell else ()


def _hours(cell: str) -> int | None:
    return int(cell) if cell else None


def _used_for(cell: str) -> tuple[UsedFor, ...]:
    return tuple(
        UsedFor(tag.removesuffix(_POSSIBLY), usual=not tag.endswith(_POSSIBLY))
        for tag in words(cell)
    )
