"""What a reminder is: the kinds of events, an event, and how a client wants to be reminded."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from sennight.domain.dates import Span
from sennight.domain.day import clock
from sennight.domain.reminders.runs import Run


class EventKind(StrEnum):
    """What an event is for."""

    DOSE = "dose"
    ADVICE = "advice"
    START = "start"
    PHASE = "phase"
    FLARE = "flare"
    FLARE_END = "flare end"
    PAUSE = "pause"
    RESUME = "resume"
    REST = "rest"
    RETURN = "return"
    STOP = "stop"
    END = "end"
    PATCH_TEST = "patch test"
    REVIEW = "review"
    REORDER = "reorder"


USUAL_JOIN = 45
"""Minutes: doses this near to each other are taken together, so one alarm is enough for them."""


@dataclass(frozen=True, slots=True)
class ReminderChoices:
    """How a client wants to be reminded.

    `zone` is an IANA name; None lets times float with the phone's own clock. `discreet` keeps
    remedies' names out of all events. `alarm` is minutes before a dose, None for silence; what
    changes on a day is told when the client gets up.
    Doses of one date up to `join_within` minutes after the first of them share its reminder.
    `by_phase` cuts events where a phase begins, for a file each. `reorders` are the days on which
    to order more, and what to say then.
    """

    zone: str | None = None
    discreet: bool = False
    alarm: int | None = 0
    join_within: int = 0
    markers: bool = True
    by_phase: bool = False
    reorders: tuple[tuple[date, str], ...] = ()


DEFAULT_CHOICES = ReminderChoices(join_within=USUAL_JOIN)
"""How most clients want to be reminded."""


@dataclass(frozen=True, slots=True)
class Event:
    """One calendar entry and the days it repeats on.

    `minute` is the minute of the day, None for a whole day, which stands alone; `zone` None
    floats; `alarm` is in minutes before its start, after it where that is negative; `part` is
    the phase whose file it goes into, empty where there is one file.
    """

    kind: EventKind
    run: Run
    minute: int | None
    title: str
    text: str
    zone: str | None = None
    alarm: int | None = None
    part: str = ""

    @property
    def key(self) -> str:
        """What the event is, whatever it says: its kind, clock time, first date and rule.

        No two events of a course share one, since each date and time has one event.
        """
        at = "all day" if self.minute is None else clock(self.minute)
        return f"{self.kind}, {at}, {self.run.first}, {self.run.rule}"

    @property
    def place(self) -> tuple[date, int, str]:
        """Where it comes among others: by first day, whole days first, then by time."""
        return self.run.first, -1 if self.minute is None else self.minute, self.key

    def says_the_same(self, other: Event) -> bool:
        """Whether it differs from another in its days alone."""
        return replace(self, run=other.run, part=other.part) == other

    def within(self, span: Span) -> Event | None:
        """The event on its days within a span; None where it has none."""
        run = self.run.within(span)
        return replace(self, run=run) if run else None
