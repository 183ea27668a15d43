"""What has changed since papers were given last."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from sennight.domain.courses.clients import Fact
from sennight.domain.courses.courses import Extend
from sennight.domain.follow_up.consultations import Consultation, ConsultationKind, Part
from sennight.domain.follow_up.diaries import Taken
from sennight.domain.papers import PaperKind
from sennight.domain.reminders.events import ReminderChoices
from sennight.practice.clients import change_client, client_entry
from sennight.practice.consultations import add_consultation
from sennight.practice.course_reading import CourseReading, read_course
from sennight.practice.courses import course_entry, save_course, start_course
from sennight.practice.diaries import enter_diary
from sennight.practice.given_papers import GiveChoices
from sennight.practice.giving import record_printed
from sennight.practice.opening import OpenPractice
from sennight.practice.reviewing import SinceGiven, course_review, since_given
from support.sample_practice import TODAY, Sample, filled


@pytest.fixture
def sample(practice: OpenPractice) -> Sample:
    """A course without a finding to avoid."""
    made = filled(practice)
    course = start_course(
        practice, made.clients["noor"], made.protocols["joints"], date(2027, 1, 4), now=EARLY
    )
    return replace(made, course=course)


EARLY = datetime(2027, 1, 4, 8, tzinfo=UTC)


def reading(sample: Sample) -> CourseReading:
    return read_course(course_entry(sample.practice, sample.course).course, today=TODAY)


def since(sample: Sample) -> SinceGiven:
    return since_given(sample.practice, sample.course, reading(sample))


def test_before_anything_was_given_only_notes_and_decisions_are_told(sample: Sample) -> None:
    assert since(sample) == SinceGiven()
    client = sample.clients["noor"]
    for day, text in ((TODAY, "Walks again"), (TODAY - timedelta(7), "Stairs are hard")):
        note = Consultation(day, ConsultationKind.FOLLOW_UP, (Part("Said", text),))
        add_consultation(sample.practice, client, note)
    told = since(sample)
    assert told.note is not None
    assert told.note.words == "Walks again"


def test_a_review_has_the_diary_of_the_practice(sample: Sample) -> None:
    enter_diary(sample.practice, sample.course, [Taken(date(2027, 1, 4), "tea", 2)])
    found = course_review(sample.practice, sample.course, reading(sample))
    assert found.report is not None
    assert (found.report.overall.taken, found.report.overall.due) == (2, 3)


def test_findings_are_told_that_came_or_went_since_the_papers_were_given(sample: Sample) -> None:
    practice, client = sample.practice, sample.clients["noor"]
    parts = frozenset({PaperKind.PRACTITIONER})
    choices = GiveChoices(ReminderChoices(), parts=parts)
    given = practice.file.clock()
    record_printed(practice, sample.course, now=given, today=TODAY, choices=choices)
    first = since(sample)
    assert (first.on, first.papers) == (given.date(), (PaperKind.PRACTITIONER,))
    assert (first.new, first.gone, first.decided) == ((), (), ())
    entry = client_entry(practice, client)
    ill = replace(entry.client, conditions=(Fact("peptic-ulcer"),))
    change_client(practice, replace(entry, client=ill))
    told = since(sample)
    assert any("ulcer" in line.heading.lower() for line in told.new)
    assert told.gone == ()
    course = course_entry(practice, sample.course)
    longer = Extend(on=TODAY, phase="loading", by=1, in_weeks=True)
    changed = replace(course.course, revisions=(longer,))
    save_course(practice, course, changed, now=practice.file.clock())
    assert since(sample).decided == (longer,)
    record_printed(
        practice, sample.course, now=practice.file.clock(), today=TODAY, choices=choices
    )
    change_client(practice, entry)
    again = since(sample)
    assert (again.new, [line.heading for line in again.gone]) == (
        (),
        [line.heading for line in told.new],
    )
