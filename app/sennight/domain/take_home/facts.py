"""What the neutral document is made from, and which days it is for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import cached_property
from types import MappingProxyType

from sennight.domain.courses.clients import Sex
from sennight.domain.courses.protocols import Phase
from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import ONE_DAY, Span, whole_years
from sennight.domain.directions.plain_words import listed
from sennight.domain.follow_up.consultations import Appointment
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.advice import USUAL as USUAL_CONCERNS
from sennight.domain.remedies.advice import Concern
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.reminders.markers import visits
from sennight.domain.reminders.published import PhoneCalendar
from sennight.domain.safety.client_words import ALCOHOL, NO_MORE
from sennight.domain.safety.for_client import ClientSentence, Place
from sennight.domain.schedule.day_kinds import DayKind, day_kinds
from sennight.domain.schedule.ways import Way, ways_of
from sennight.domain.tag_words import upper_first
from sennight.domain.take_home.choices import USUAL, Reach, SheetChoices
from sennight.domain.take_home.document import Mark
from sennight.domain.take_home.saying import Saying

SHORTEST = timedelta(days=7)
"""A sheet is made for a week at least, though the next visit be sooner."""
YOUNGEST, OLDEST = 8, 60
"""Years of age outside which nobody is asked about pregnancy: common practice."""
_NONE: Mapping[str, tuple[str, ...]] = MappingProxyType({})
_NO_DATES: Mapping[str, date] = MappingProxyType({})


@dataclass(frozen=True)
class TakeHomeFacts:
    """A course as it is laid out, and what else its client is told.

    `herb_names` are common names by id. `told` is what this client has to mind, each sentence
    with its place; `checked` that the course was checked, empty where it was not. By a remedy's
    id, `purposes` say what it is used for (`ease pain`), and `lasts_until` has the last day that
    the supply is known to last for. `appointment` is when the client comes next, where that was
    agreed: it is the next visit, whatever the course plans. `concerns` choose the signs of
    danger. `phone` is the calendar that the reminders are in, None for the course's first.
    """

    layout: Layout
    card: PracticeCard
    today: date
    herb_names: Mapping[str, str]
    told: tuple[ClientSentence, ...] = ()
    checked: str = ""
    purposes: Mapping[str, tuple[str, ...]] = field(default_factory=lambda: _NONE)
    lasts_until: Mapping[str, date] = field(default_factory=lambda: _NO_DATES)
    choices: SheetChoices = USUAL
    concerns: frozenset[Concern] = USUAL_CONCERNS
    appointment: Appointment | None = None
    phone: PhoneCalendar | None = None

    # The days

    @property
    def is_over(self) -> bool:
        """Whether the course's last day is past."""
        return self.today >= self.layout.days.end

    @cached_property
    def window(self) -> Span:
        """The days that the document is for: from today on, to the next visit."""
        days = self.layout.days
        if self.is_over:
            return days
        first = max(self.today, days.first)
        if self.choices.reach is Reach.WHOLE:
            return Span(first, days.end)
        visits = (day for day in self._visits if day >= first + SHORTEST)
        last = min(visits, default=days.last)
        return Span(first, min(last + ONE_DAY, days.end))

    @cached_property
    def next_visit(self) -> date | None:
        """The day by which the client is to come next; None where no visit is left."""
        visits = (day for day in self._visits if day > self.today)
        return None if self.is_over else min(visits, default=None)

    @property
    def _visits(self) -> tuple[date, ...]:
        agreed = self.appointment.day if self.appointment else None
        return visits(self.layout, agreed, self.today)

    @cached_property
    def kinds(self) -> tuple[DayKind, ...]:
        """The client's days inside the window."""
        return day_kinds(self.layout, self.window)

    @cached_property
    def ways(self) -> tuple[Way, ...]:
        """How each remedy is taken inside the window, flare-up plans aside."""
        return ways_of(self.layout, self.window)

    @property
    def may_be_pregnant(self) -> bool:
        """Whether advice on pregnancy concerns the client: no man, no small child, nobody old."""
        client = self.layout.course.client
        of_age = client.born is None or (
            YOUNGEST <= whole_years(client.born, self.today) <= OLDEST
        )
        return of_age and client.sex is not Sex.MALE

    # The words

    @cached_property
    def saying(self) -> Saying:
        """How dates, times and doses are said to this client."""
        return Saying(self.window.first.year, self.choices.hours, self.layout.course.client.day)

    def mark(self, remedy: str) -> Mark:
        """A remedy's mark."""
        course = self.layout.course
        found = course.remedy(remedy)
        return Mark(course.remedies.index(found), found.name, found.form)

    # The remedies

    @cached_property
    def plans(self) -> tuple[Phase, ...]:
        """The flare-up plans; none once the course is over."""
        phases = self.layout.course.protocol.phases
        return () if self.is_over else tuple(phase for phase in phases if phase.is_rescue)

    def stopped(self, remedy: str) -> date | None:
        """The first day from which a remedy is stopped; None where it is not."""
        days = (day for stopped, day in self.layout.plan.stops if stopped == remedy)
        return min(days, default=None)

    @cached_property
    def remedies(self) -> tuple[Remedy, ...]:
        """The remedies taken inside the window or kept for a flare-up, in the course's order."""
        taken = {way.remedy for way in self.ways}
        taken |= {line.stretch.remedy for kind in self.kinds for line in kind.lines if kind.flare}
        for plan in self.plans:
            taken |= {line.remedy for line in plan.lines if self.may_take_in_flare(line.remedy)}
        return tuple(r for r in self.layout.course.remedies if r.id in taken)

    @cached_property
    def usual(self) -> tuple[Remedy, ...]:
        """The remedies of the usual plan; of a course that is over all that were taken."""
        taken = {way.remedy for way in self.ways}
        return tuple(r for r in self.remedies if r.id in taken or self.is_over)

    @property
    def in_flare(self) -> bool:
        """Whether a flare-up plan runs on the first day."""
        return any(self.window.first in run.span for run in self.layout.flares)

    @property
    def in_order(self) -> tuple[Remedy, ...]:
        """The remedies in the order of the sheet: those of flare-up plans first in a flare-up."""
        plans = tuple(remedy for remedy in self.remedies if remedy not in self.usual)
        return (*plans, *self.usual) if self.in_flare else (*self.usual, *plans)

    def told_with(self, remedy: str) -> tuple[ClientSentence, ...]:
        """What is told where a remedy is described: how it is used, and what concerns it alone."""
        mine = [s for s in self._told_once if remedy in s.remedies and _stands_with_remedy(s)]
        once: dict[str, ClientSentence] = {}
        for told in mine:
            once.setdefault(told.says, told)
        if ALCOHOL in once:
            once.pop(NO_MORE, None)
        return tuple(once.values())

    @property
    def _told_once(self) -> tuple[ClientSentence, ...]:
        """What is told at a heading of its own said once, of all the remedies that it concerns."""
        once: dict[object, ClientSentence] = {}
        for n, told in enumerate(self.told):
            alone = told.place in (Place.USE, Place.DAY)
            said = n if alone else (told.place, told.says, told.day)
            before = once.setdefault(said, told)
            remedies = tuple(dict.fromkeys((*before.remedies, *told.remedies)))
            once[said] = replace(before, remedies=remedies)
        return tuple(once.values())

    def told_apart(self, *places: Place) -> tuple[str, ...]:
        """What is told under a heading of its own, the sentences of these places.

        When to come back is left out once its day is past.
        """
        here = {remedy.id for remedy in self.remedies}
        apart = (
            sentence
            for sentence in self._told_once
            if sentence.place in places
            and not _stands_with_remedy(sentence)
            and not (
                sentence.place is Place.COME_BACK and sentence.day and sentence.day < self.today
            )
        )
        return tuple(
            self._text(sentence)
            for sentence in apart
            if not sentence.remedies or here & set(sentence.remedies)
        )

    def _text(self, sentence: ClientSentence) -> str:
        """A sentence with the remedies of this sheet that it concerns, without where all are."""
        names = [remedy.name for remedy in self.remedies if remedy.id in sentence.remedies]
        if not names:
            return sentence.text
        if len(names) == len(self.remedies):
            return f"{upper_first(sentence.says)}."
        return f"{listed(names)}: {sentence.says}."

    def may_take_in_flare(self, remedy: str) -> bool:
        """Whether a remedy is not stopped by the first day of the document."""
        stopped = self.stopped(remedy)
        return stopped is None or stopped > self.window.first


def _stands_with_remedy(sentence: ClientSentence) -> bool:
    if sentence.place in (Place.STOP, Place.COME_BACK):
        return False
    return sentence.place in (Place.USE, Place.DAY) or len(sentence.remedies) == 1
