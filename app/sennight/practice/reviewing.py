"""Reviews: a course looked back on, and what has changed since papers were given last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from sennight.domain.charts.review import Review, review
from sennight.domain.courses.courses import Course, Revision
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.stretches import lay_out
from sennight.domain.directions.directions import SameTimeError
from sennight.domain.follow_up.consultations import Consultation
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.papers import PaperKind
from sennight.domain.safety.wording import WordedFinding
from sennight.practice.course_reading import CourseReading
from sennight.practice.diaries import diary, scores
from sennight.practice.opening import OpenPractice
from sennight.store.unit import UnitOfWork

__all__ = ["Review", "SinceGiven", "course_review", "review_of", "since_given"]


@dataclass(frozen=True, slots=True)
class SinceGiven:
    """What the client was told last, and what is otherwise now.

    `on` is the day of the last giving for the course and `papers` what it was of, None and empty
    where nothing was given; `note` the client's last consultation that stands. `new` are findings
    that were not among those of the course as it was given, `gone` those that are found no more;
    both are read with today's herbs and rules, so that only the course and the client's facts
    differ. `decided` are the decisions made since that day.
    """

    on: date | None = None
    papers: tuple[PaperKind, ...] = ()
    note: Consultation | None = None
    new: tuple[WordedFinding, ...] = ()
    gone: tuple[WordedFinding, ...] = ()
    decided: tuple[Revision, ...] = ()


def review_of(reading: CourseReading, taken: Sequence[Taken], rated: Sequence[Score]) -> Review:
    """Look back on a course that was read."""
    return review(reading.layout, taken, rated, reading.today, reading.measures)


def course_review(practice: OpenPractice, course_id: str, reading: CourseReading) -> Review:
    """The same with what the practice file holds of it; raises MissingRecordError."""
    return review_of(reading, diary(practice, course_id), scores(practice, course_id))


def since_given(practice: OpenPractice, course_id: str, reading: CourseReading) -> SinceGiven:
    """What has changed since papers were given for a course last; raises MissingRecordError."""
    with practice.file.reading() as unit:
        client_id = unit.courses.standing(course_id).client_id
        note = _last_note(unit, client_id)
        given = unit.papers.of_course(course_id)
        if not given:
            return SinceGiven(note=note, decided=_standing(reading.course, None))
        when = max(paper.when for paper in given)
        number = max(paper.number for paper in given)
        before = _read_then(unit, client_id, course_id, reading, when)
    on = when.astimezone().date()
    kinds = dict.fromkeys(PaperKind(paper.kind) for paper in given if paper.number == number)
    new, gone = _differing(before, reading) if before is not None else ((), ())
    return SinceGiven(on, tuple(kinds), note, new, gone, _standing(reading.course, on))


def _last_note(unit: UnitOfWork, client_id: str) -> Consultation | None:
    entries = [
        entry
        for entry in unit.consultations.of_client(client_id)
        if not entry.void and entry.is_whole
    ]
    return max((e.consultation for e in entries), key=lambda note: note.day, default=None)


def _standing(course: Course, since: date | None) -> tuple[Revision, ...]:
    return tuple(
        revision
        for revision in course.revisions
        if not revision.is_void and (since is None or revision.on >= since)
    )


def _read_then(
    unit: UnitOfWork, client_id: str, course_id: str, reading: CourseReading, when: datetime
) -> CourseReading | None:
    """The course as it was saved when the papers were given; None where it cannot be laid out."""
    saved = [version for version in unit.courses.history(course_id) if version.when <= when]
    checks = [check for check in unit.red_flags.of_client(client_id) if check.day <= when.date()]
    if not saved:
        return None
    records = [record for saved_on, record in unit.clients.versions(client_id) if saved_on <= when]
    course = saved[-1].course
    if records:
        course = replace(course, client=records[-1].client)
    try:
        layout = lay_out(course)
    except (LayoutError, SameTimeError):
        return None
    standing = checks[-1] if checks else None
    return replace(reading, layout=layout, standing=standing, today=when.astimezone().date())


def _differing(
    before: CourseReading, now: CourseReading
) -> tuple[tuple[WordedFinding, ...], tuple[WordedFinding, ...]]:
    """The lines that tell of a finding that the other reading has not."""
    then, found = ({finding.id for finding in each.safety.found} for each in (before, now))
    return (
        tuple(line for line in now.safety.lines if not then.issuperset(line.ids)),
        tuple(line for line in before.safety.lines if not found.issuperset(line.ids)),
    )
