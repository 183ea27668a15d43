"""Medicines and their classes: what each is called and what it means for herbs.

A medicine brings its classes, a class those above it, and an effect or a way of being handled
the tag that the herbs' records use for it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class MedicineKind(StrEnum):
    """What sort of thing a record of a medicine is."""

    MEDICINE = "medicine"
    COMBINATION = "combination"
    SUPPLEMENT = "supplement"
    SUBSTANCE = "substance"


class Systemic(StrEnum):
    """Whether a medicine reaches the whole body; where it does not, no class's effect holds."""

    YES = "yes"
    PARTLY = "partly"
    NO = "no"


@dataclass(frozen=True, slots=True)
class UsedFor:
    """A condition that a medicine is given for: usually, else possibly.

    A usual one is assumed until the practitioner has answered; a possible one is only asked.
    """

    condition: str
    usual: bool


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a record comes from: the id of a source, and `read` or `memory`."""

    source: str
    basis: str


@dataclass(frozen=True, slots=True)
class Medicine:
    """A generic medicine; its first name is the one that is shown.

    `classes` are the nearest ones; `not_held` are tags that do not hold although a class or an
    effect brings them. Effects and handling are complete: those of the classes are among them.
    `hours_apart` is the gap to tannins, minerals and fibre. `tier` is 1 for everyday use, 3 for
    the rest. `names_from` and `classes_from` name the lists in which these were seen, or
    `memory`.
    """

    id: str
    names: tuple[str, ...]
    kind: MedicineKind
    classes: tuple[str, ...]
    not_held: tuple[str, ...]
    effects: tuple[str, ...]
    handling: tuple[str, ...]
    hours_apart: int | None
    used_for: tuple[UsedFor, ...]
    routes: tuple[str, ...]
    systemic: Systemic
    contains: tuple[str, ...]
    tier: int
    note: str
    names_from: tuple[str, ...]
    classes_from: str
    origin: Origin

    @property
    def label(self) -> str:
        """The name that is shown."""
        return self.names[0]

    @property
    def by_mouth(self) -> bool:
        """Whether it is swallowed, at least in one of its forms."""
        return "oral" in self.routes


@dataclass(frozen=True, slots=True)
class MedicineClass:
    """A class of medicines; `names` are what people call it."""

    id: str
    label: str
    names: tuple[str, ...]
    parents: tuple[str, ...]
    effects: tuple[str, ...]
    handling: tuple[str, ...]
    hours_apart: int | None
    used_for: tuple[UsedFor, ...]
    by_mouth: bool
    group: str
    definition: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class Property:
    """An effect of medicines, else how the body handles them, and the class that it brings."""

    id: str
    definition: str
    brings: str
    is_effect: bool = True
