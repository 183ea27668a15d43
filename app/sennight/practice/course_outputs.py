"""What a run of a course file writes: each output, and how it is made."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time
from functools import cached_property
from pathlib import Path

from sennight.domain.follow_up.adherence import adherence
from sennight.domain.follow_up.diaries import NOTHING_REPORTED
from sennight.domain.practices import PracticeCard
from sennight.domain.reminders.events import DEFAULT_CHOICES, ReminderChoices
from sennight.domain.reminders.published import Published
from sennight.domain.take_home.choices import USUAL, SheetChoices
from sennight.practice.course_reading import CourseReading
from sennight.practice.diary_sheets import diary_of
from sennight.practice.given_papers import handout_pdf, handout_text
from sennight.practice.labelling import LabelsMade, labels_made
from sennight.practice.letters import practitioner_copy, review_summary
from sennight.practice.reminding import (
    WHOLE,
    Reminders,
    reminders,
    usual_choices,
)
from sennight.practice.reviewing import review_of
from sennight.practice.safety import with_proposals
from sennight.practice.supplying import reorders_planned
from sennight.publish.course_file.reader import (
    CourseFile,
)
from sennight.publish.csv.courses import adherence_csv, doses_csv, outcomes_csv, stretches_csv
from sennight.publish.csv.diary_table import diary_csv
from sennight.publish.csv.exposure import actions_csv, ethanol_csv, exposure_csv
from sennight.publish.csv.findings import findings_csv
from sennight.publish.csv.supply import supply_csv
from sennight.publish.diary.document import Diary

NO_CARD = PracticeCard("")
"""A course file tells nothing of the practice."""


@dataclass(frozen=True, slots=True)
class RunChoices:
    """How to run a course file.

    `today` counts as the day of the run, `sheet` says how papers are made. `published` is the
    file that keeps what was given to the phone last; with `fresh` it gets a set of its own.
    `reminders` are the choices but for the zone, which is the client's unless they are `floating`.
    `card` is the practice's; without one the sheet leaves room to write it by hand.
    """

    today: date
    sheet: SheetChoices = USUAL
    published: Path | None = None
    fresh: bool = False
    reminders: ReminderChoices = DEFAULT_CHOICES
    floating: bool = False
    card: PracticeCard = NO_CARD

    @property
    def paper(self) -> str:
        """The paper of what is no booklet."""
        return self.sheet.full_size


@dataclass(frozen=True)
class Job:
    """One run: the file's content and how it is read, the choices, and what was given before."""

    file: CourseFile
    reading: CourseReading
    choices: RunChoices
    before: Published

    @cached_property
    def reminders(self) -> Reminders:
        """What the phone is told; the time of publishing is the first moment of today in UTC."""
        today = self.choices.today
        zone = None if self.choices.floating else usual_choices(self.file.course).zone
        reorders = reorders_planned(self.file.course, self.reading.all_supplies)
        return reminders(
            self.reading.layout,
            self.before,
            now=datetime.combine(today, time(), UTC),
            today=today,
            choices=replace(self.choices.reminders, zone=zone, reorders=reorders),
            fresh=self.choices.fresh,
        )

    @cached_property
    def labels(self) -> LabelsMade:
        """The labels of what is to be handed over."""
        return labels_made(self.reading, self.choices.card, paper=self.choices.paper)

    @cached_property
    def diary(self) -> Diary | None:
        """The diary sheet, None where no day is left."""
        choices = self.choices
        return diary_of(self.reading, choices.card, self.file.scores, choices.sheet)


@dataclass(frozen=True, slots=True)
class Output:
    """One file that a run writes: its name, its content, and whether there is any."""

    name: str
    make: Callable[[Job], bytes]
    applies: Callable[[Job], bool] = lambda _: True


def _handout(job: Job) -> bytes:
    return handout_pdf(job.reading, job.choices.card, job.choices.sheet, replace_missing=True)


def _text(job: Job) -> bytes:
    return handout_text(job.reading, job.choices.card, job.choices.sheet).encode()


def _practitioner(job: Job) -> bytes:
    return practitioner_copy(job.reading, job.choices.card, paper=job.choices.paper)


def _review(job: Job) -> bytes:
    found = review_of(job.reading, job.file.diary, job.file.scores)
    return review_summary(found, job.choices.card, paper=job.choices.paper)


def _is_reported(job: Job) -> bool:
    return _is_not_void(job) and bool(job.file.diary or job.file.scores)


def _is_not_void(job: Job) -> bool:
    """Of a course that was struck out nothing is printed."""
    return not job.file.course.is_void


def _is_kept(job: Job) -> bool:
    return job.file.reported != NOTHING_REPORTED


def _has_diary(job: Job) -> bool:
    return job.diary is not None


def _adherence(job: Job) -> bytes:
    return adherence_csv(adherence(job.reading.layout, job.file.diary, today=job.reading.today))


def _findings(job: Job) -> bytes:
    reading = job.reading
    lines = with_proposals(
        reading.safety, reading.proposals, reading.course, reading.materia_medica
    )
    return findings_csv(lines)


FINDINGS = Output("findings.csv", _findings)

OUTPUTS: tuple[Output, ...] = (
    Output("stretches.csv", lambda job: stretches_csv(job.reading.layout)),
    Output("doses.csv", lambda job: doses_csv(job.reading.layout)),
    Output(
        WHOLE, lambda job: job.reminders.files[WHOLE], lambda job: WHOLE in job.reminders.files
    ),
    Output("exposure.csv", lambda job: exposure_csv(job.reading.all_exposures)),
    Output("ethanol.csv", lambda job: ethanol_csv(job.reading.all_ethanol)),
    FINDINGS,
    Output("actions.csv", lambda job: actions_csv(job.reading.actions)),
    Output("supply.csv", lambda job: supply_csv(job.reading.all_supplies)),
    Output("labels.pdf", lambda job: job.labels.pdf, lambda job: bool(job.labels.pdf)),
    Output("handout.pdf", _handout, _is_not_void),
    Output("handout.txt", _text, _is_not_void),
    Output("diary.pdf", lambda job: job.diary.pdf if job.diary else b"", _has_diary),
    Output("diary.json", lambda job: job.diary.grid if job.diary else b"", _has_diary),
    Output("practitioner.pdf", _practitioner, _is_not_void),
    Output("review.pdf", _review, _is_reported),
    Output("diary.csv", lambda job: diary_csv(job.file.reported), _is_kept),
    Output(
        "adherence.csv",
        _adherence,
        lambda job: bool(job.file.diary),
    ),
    Output(
        "outcomes.csv",
        lambda job: outcomes_csv(
            job.reading.outcomes(job.file.scores), job.reading.gates(job.file.scores)
        ),
        lambda job: bool(job.file.scores),
    ),
)
"""All that is written, in the order in which it is told; files by phase come after it."""
