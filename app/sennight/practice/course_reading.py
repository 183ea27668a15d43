"""A course with all that follows from it: laid out once, the rest worked out when asked for.

The command line, giving and the window read a course in this one way.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

from sennight.domain.courses.compare import Comparison, compare
from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.dates import Span
from sennight.domain.dispensary.lasting import Lasting
from sennight.domain.exposure.coverage import Coverage, coverage
from sennight.domain.exposure.ethanol import EthanolDay, EthanolRow, ethanol_days, ethanol_rows
from sennight.domain.exposure.exposure import Exposure, exposures
from sennight.domain.exposure.if_flare import ethanol_if_flare, exposures_if_flare
from sennight.domain.follow_up.adherence import AdherenceReport, adherence
from sennight.domain.follow_up.consultations import Appointment
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.follow_up.gates import GateReading, read_gates
from sennight.domain.follow_up.measures import NO_OWN, Measures
from sennight.domain.follow_up.outcomes import Outcome, outcomes
from sennight.domain.follow_up.progress import Progress, progress
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.reminders.events import Event
from sennight.domain.reminders.published import PhoneCalendar
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.safety.alternatives import Alternative
from sennight.domain.safety.red_flags import RedFlagCheck
from sennight.domain.schedule.doses import most_times_a_day
from sennight.domain.schedule.weeks import CourseWeeks
from sennight.domain.supply.containers import PhaseSupply, phase_supplies
from sennight.domain.supply.flare_plans import supplies_again, supplies_if_flare
from sennight.domain.supply.settings import USUAL_SUPPLY, SupplySettings
from sennight.practice.day_changes import DayChange, day_changes
from sennight.practice.materia_medica import supplied_materia_medica
from sennight.practice.safety import SafetyReport, check, proposals
from sennight.practice.supplying import lasting_in
from sennight.store.entries import CourseEntry
from sennight.store.unit import UnitOfWork


@dataclass(frozen=True)
class CourseReading:
    """A course as it is laid out, and the materia medica and the day that it is read with.

    `today` is the client's date, `standing` the client's last check for red flags, `lasts` how
    long what was handed over lasts, where anything was, `measures` what its scores are of,
    `appointment` when the client comes next, where that was agreed, `settings` how the practice
    reckons supply, and `phone` the calendar of the client's phone, where it is not the first.
    What follows is worked out when it is first asked for, and kept as long as the reading.
    """

    layout: Layout
    today: date
    materia_medica: MateriaMedica
    standing: RedFlagCheck | None = None
    lasts: tuple[Lasting, ...] = ()
    measures: Measures = NO_OWN
    appointment: Appointment | None = None
    settings: SupplySettings = USUAL_SUPPLY
    phone: PhoneCalendar | None = None

    @property
    def course(self) -> Course:
        """The course itself."""
        return self.layout.course

    def of(self, course: Course) -> CourseReading:
        """Another course read in the same way; raises LayoutError, SameTimeError."""
        return replace(self, layout=lay_out(course))

    def for_phone(self, phone: PhoneCalendar) -> CourseReading:
        """The same for a phone whose calendar has that name."""
        return self if phone == self.phone else replace(self, phone=phone)

    def changed_from(self, before: CourseReading) -> Comparison:
        """What differs in what is taken from another reading of the course."""
        return compare(before.layout, self.layout)

    # The schedule

    @cached_property
    def weeks(self) -> CourseWeeks:
        """The weeks of the whole-course sheet."""
        return CourseWeeks(self.layout)

    @cached_property
    def changes(self) -> Mapping[date, tuple[DayChange, ...]]:
        """The days on which something is other than on the day before."""
        return day_changes(self.layout)

    @cached_property
    def places(self) -> Mapping[str, int]:
        """The place of each remedy in the course, from 0: its dye, pattern and letter."""
        return {remedy.id: n for n, remedy in enumerate(self.course.remedies)}

    def spans_of(self, phase: str) -> tuple[Span, ...]:
        """The days on which a phase runs, for flare-ups too."""
        runs = (*self.layout.phases, *self.layout.flares)
        return tuple(run.span for run in runs if run.phase.id == phase)

    # Amounts

    @cached_property
    def exposures(self) -> tuple[Exposure, ...]:
        """What the course gives of each herb, against its range."""
        return exposures(self.layout, self.materia_medica)

    @cached_property
    def all_exposures(self) -> tuple[Exposure, ...]:
        """The same, then those of flare-up plans that no flare has called yet."""
        return *self.exposures, *exposures_if_flare(self.layout, self.materia_medica)

    @property
    def all_ethanol(self) -> tuple[EthanolRow, ...]:
        """The ethanol of each tincture, then those of flare-up plans not called yet."""
        return *self.ethanol, *ethanol_if_flare(self.layout)

    @cached_property
    def ethanol(self) -> tuple[EthanolRow, ...]:
        """The ethanol of each tincture."""
        return ethanol_rows(self.layout)

    @cached_property
    def ethanol_days(self) -> tuple[EthanolDay, ...]:
        """The ethanol of all tinctures of a day."""
        return tuple(ethanol_days(self.ethanol))

    @cached_property
    def actions(self) -> tuple[Coverage, ...]:
        """The actions of each phase, the wanted ones and the gaps among them."""
        return coverage(self.layout, self.all_exposures, self.materia_medica)

    def actions_wanting(self, aims: tuple[str, ...]) -> tuple[Coverage, ...]:
        """The same if other actions were wanted, which changes no day."""
        protocol = replace(self.course.protocol, aims=aims)
        wanting = replace(self.layout, course=replace(self.course, protocol=protocol))
        return coverage(wanting, self.all_exposures, self.materia_medica)

    @cached_property
    def supplies(self) -> tuple[PhaseSupply, ...]:
        """What each phase needs of each remedy, in the usual containers."""
        return phase_supplies(self.layout, self.settings)

    @cached_property
    def kept_supplies(self) -> tuple[PhaseSupply, ...]:
        """What is kept at home for flare-ups: of plans not called yet, then again of others."""
        return (
            *supplies_if_flare(self.layout, self.settings),
            *supplies_again(self.layout, self.settings),
        )

    @cached_property
    def all_supplies(self) -> tuple[PhaseSupply, ...]:
        """What each phase needs, then what is kept at home for flare-ups."""
        return *self.supplies, *self.kept_supplies

    # Safety and reminders

    @cached_property
    def safety(self) -> SafetyReport:
        """The findings, and what was looked at."""
        return check(self.layout, self.materia_medica, self.standing, today=self.today)

    @cached_property
    def proposals(self) -> Mapping[str, tuple[Alternative, ...]]:
        """The herbs that could take the place of one to avoid, by the findings' ids.

        Each went through the whole check, so it takes a while where much is to be avoided.
        """
        return proposals(self)

    @cached_property
    def events(self) -> tuple[Event, ...]:
        """What the phone would be told, by the usual choices."""
        return reminder_events(self.layout)

    @cached_property
    def most_alarms(self) -> int:
        """How often the phone would ring on the fullest day from today on."""
        return most_times_a_day(self.layout, since=self.today)

    # Follow-up

    def adherence(self, diary: Sequence[Taken]) -> AdherenceReport | None:
        """How much of what was due was taken; None without a diary."""
        return adherence(self.layout, diary, today=self.today) if diary else None

    def gates(self, scores: Sequence[Score]) -> tuple[GateReading, ...]:
        """The conditions for moving on, read from the scores."""
        return read_gates(self.layout, scores, self.measures)

    def progress(self, scores: Sequence[Score]) -> tuple[Progress, ...]:
        """How each measure went."""
        return progress(scores, self.measures)

    def outcomes(self, scores: Sequence[Score]) -> tuple[Outcome, ...]:
        """The changes of each measure, by phase and over all."""
        return outcomes(self.layout, scores, self.measures)


def read_course(
    course: Course,
    *,
    today: date,
    materia_medica: MateriaMedica | None = None,
    standing: RedFlagCheck | None = None,
) -> CourseReading:
    """Lay a course out, to be read with a materia medica; raises LayoutError, SameTimeError.

    `materia_medica` is the practice's, the supplied one where it is left out.
    """
    herbs = materia_medica or supplied_materia_medica()
    return CourseReading(lay_out(course), today, herbs, standing)


def read_entry(
    unit: UnitOfWork, entry: CourseEntry, *, today: date, materia_medica: MateriaMedica
) -> CourseReading:
    """Read a kept course with its client's last check for red flags and what was handed over.

    Raises as `read_course`.
    """
    checks = unit.red_flags.of_client(entry.client_id)
    reading = read_course(
        entry.course,
        today=today,
        materia_medica=materia_medica,
        standing=checks[-1] if checks else None,
    )
    return with_records(unit, entry, reading)


def with_records(unit: UnitOfWork, entry: CourseEntry, reading: CourseReading) -> CourseReading:
    """A reading with what else is kept of its client: supply, own measures, next appointment."""
    return replace(
        reading,
        lasts=lasting_in(unit, reading.layout),
        measures=unit.diaries.measures(entry.id),
        appointment=unit.consultations.next_appointment(entry.client_id, reading.today),
        settings=unit.pricing.settings().supply,
    )
