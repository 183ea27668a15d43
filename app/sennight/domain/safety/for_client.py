"""What the client is told, as sentences that know their place on the sheet.

For a paper: `practice.safety.for_client(checked, layout, materia_medica)` gives every sentence
of a course. Group them by `place` (`by_place`) and set each group where it matters. A sentence of
the place DAY belongs beside the clock times in `minutes` (from the midnight that begins the
client's day, as in `Stretch.times`) of its remedies; one of OPERATION or USE may have a `day`,
before or on which the last dose is taken.

`remedies` are ids; `text` begins with their names and ends with a full stop; `says` is the same
without the names and the stop, for places where the remedy is named already. Nothing here says
that anything was checked: that sentence is `practice.safety.checked_sentence`, and is there only
where something was recorded or asked.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Place(StrEnum):
    """Where on the sheet a sentence belongs, in the order in which a sheet may have them."""

    DAY = "day"
    """Beside a clock time of the client's day: hours apart from a medicine."""
    USE = "use"
    """With how the remedy is taken: with food, on unbroken skin, how much to drink."""
    MEDICINES = "medicines"
    """With the client's other medicines, and whom to tell."""
    TESTS = "tests"
    """What is measured or tested in between."""
    OPERATION = "operation"
    """Before and after an operation."""
    SUN = "sun"
    DRIVING = "driving"
    BLEEDING = "bleeding"
    MOOD = "mood"
    CONTRACEPTION = "contraception"
    STOP = "stop"
    """When to stop, and when to see a doctor at once."""
    COME_BACK = "come-back"
    """When to come back if no better."""


@dataclass(frozen=True, slots=True)
class ClientSentence:
    """One thing that the client is told, and where it stands on the sheet."""

    place: Place
    says: str
    text: str
    remedies: tuple[str, ...]
    minutes: tuple[int, ...] = ()
    day: date | None = None


def by_place(sentences: Iterable[ClientSentence]) -> Mapping[Place, tuple[ClientSentence, ...]]:
    """The sentences of each place, in the order of the places; places without one are left out."""
    each = tuple(sentences)
    grouped = {
        place: tuple(sentence for sentence in each if sentence.place is place) for place in Place
    }
    return {place: there for place, there in grouped.items() if there}
