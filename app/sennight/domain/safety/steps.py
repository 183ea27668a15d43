"""What could be done about a finding, as data; `wording` makes the sentences."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sennight.domain.day import Moment


@dataclass(frozen=True, slots=True)
class LastDoseBefore:
    """The last dose before a day."""

    day: date


@dataclass(frozen=True, slots=True)
class NotBefore:
    """The first day on which a herb may be taken again."""

    herb: str
    day: date


@dataclass(frozen=True, slots=True)
class LastDoseOn:
    """The last day of a herb, or a break of so many days from then on."""

    herb: str
    day: date
    break_days: int | None


@dataclass(frozen=True, slots=True)
class GiveLess:
    """Less, or fewer herbs that hold the same at once."""


@dataclass(frozen=True, slots=True)
class LessInOneDose:
    """Less in one dose, or another form."""


@dataclass(frozen=True, slots=True)
class FormWithoutEthanol:
    """A tea, a capsule or a liquid without ethanol."""


@dataclass(frozen=True, slots=True)
class KeepHours:
    """So many hours between them, whenever they are taken."""

    hours: int


@dataclass(frozen=True, slots=True)
class MoveDose:
    """A dose moved to a moment of the client's day that is far enough; times in minutes."""

    remedy: str
    minute: int
    moment: Moment
    to_minute: int


@dataclass(frozen=True, slots=True)
class NoMomentIsFree:
    """No moment of the client's day is far enough for a remedy."""

    remedy: str


@dataclass(frozen=True, slots=True)
class KeepNeededDoseApart:
    """Doses as needed kept so many hours from the medicine."""

    remedy: str
    hours: int


Step = (
    LastDoseBefore
    | NotBefore
    | LastDoseOn
    | GiveLess
    | LessInOneDose
    | FormWithoutEthanol
    | KeepHours
    | MoveDose
    | NoMomentIsFree
    | KeepNeededDoseApart
)
