"""Consultations: what was said and found on a day, under the practitioner's own headings."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time
from enum import StrEnum

HEADINGS = ("History", "Said", "Found", "Plan")
"""What a consultation is written under until the practice names headings of its own."""

MOST_HEADINGS = 12
LONGEST_HEADING = 40
"""Headings stand in a margin: more of them, or longer ones, would not fit there."""

LONGEST_MINUTES = 24 * 60


class ConsultationKind(StrEnum):
    """How a client was seen."""

    FIRST = "first"
    FOLLOW_UP = "follow-up"
    TELEPHONE = "telephone"


@dataclass(frozen=True, slots=True)
class Part:
    """What was written under one heading."""

    heading: str
    text: str


@dataclass(frozen=True, slots=True)
class Appointment:
    """When the client comes next; the hour may be agreed later."""

    day: date
    at: time | None = None


@dataclass(frozen=True, slots=True)
class Consultation:
    """One consultation: its day, its kind, its length in minutes, and what was written.

    Raises ValueError for a length below a minute or above a day, and for a next appointment that
    is not after the day itself.
    """

    day: date
    kind: ConsultationKind
    parts: tuple[Part, ...] = ()
    minutes: int | None = None
    next: Appointment | None = None

    def __post_init__(self) -> None:
        """Check the length and the next appointment."""
        if self.minutes is not None and not 1 <= self.minutes <= LONGEST_MINUTES:
            raise ValueError(f"{self.minutes} minutes; expected 1 to {LONGEST_MINUTES}")
        if self.next is not None and self.next.day <= self.day:
            raise ValueError("the next appointment is not after the consultation")

    @property
    def is_empty(self) -> bool:
        """Whether nothing was written and no appointment made: such a one is not kept."""
        return not self.parts and self.next is None

    @property
    def words(self) -> str:
        """All that was written, a paragraph for each heading: what a search looks through."""
        return "\n".join(part.text for part in self.parts)


def written_parts(texts: tuple[tuple[str, str], ...]) -> tuple[Part, ...]:
    """The headings under which something was written, in their order; outer blanks go."""
    return tuple(Part(heading, text.strip()) for heading, text in texts if text.strip())


def usual_kind(*, is_first: bool) -> ConsultationKind:
    """The kind that is proposed: the first with a client is a first consultation."""
    return ConsultationKind.FIRST if is_first else ConsultationKind.FOLLOW_UP


def checked_headings(headings: tuple[str, ...]) -> tuple[str, ...]:
    """Headings for a practice: without blanks around, each once; raises ValueError, with why."""
    named = tuple(dict.fromkeys(" ".join(heading.split()) for heading in headings))
    named = tuple(heading for heading in named if heading)
    if not named:
        raise ValueError("no heading; expected at least one")
    if len(named) > MOST_HEADINGS:
        raise ValueError(f"{len(named)} headings; expected at most {MOST_HEADINGS}")
    long = next((heading for heading in named if len(heading) > LONGEST_HEADING), None)
    if long is not None:
        raise ValueError(f"“{long}” has {len(long)} letters; expected at most {LONGEST_HEADING}")
    return named
