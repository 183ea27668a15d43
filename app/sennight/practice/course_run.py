"""Runs a course file: everything that `sennight course` writes, without a screen."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from sennight.domain.courses.least_time import early_end_words, early_ends
from sennight.domain.courses.problems import join_warnings, place_name, step_warnings
from sennight.domain.courses.stretches import Layout
from sennight.domain.directions.plain_words import listed
from sennight.domain.herbs.own_herbs import with_own
from sennight.domain.reminders.published import Published
from sennight.domain.reminders.republishing import FileKind
from sennight.practice.course_outputs import FINDINGS, OUTPUTS, Job, RunChoices
from sennight.practice.course_reading import read_course
from sennight.practice.materia_medica import herb_finder, supplied_materia_medica
from sennight.practice.reminding import (
    BY_PHASE,
    PART,
)
from sennight.practice.safety import SafetyReport, WordedFinding, decide
from sennight.practice.take_home import take_home_document
from sennight.practice.writing import FolderError, write_paths
from sennight.publish.calendar.ics import CalendarTooLargeError
from sennight.publish.calendar.record import RecordError, read_record, record_bytes
from sennight.publish.course_file.decisions_writer import accept_toml
from sennight.publish.course_file.reader import (
    CourseFileError,
    course_parts,
    read_course_file,
)
from sennight.publish.diary.content import names_of
from sennight.publish.handout.document import unprintable
from sennight.publish.pdf.one_column import CannotBeSetError

_CALENDAR = re.compile(r"reminders(-phase-\d+)?(-part-\d+)?\.ics")
_UID = re.compile(rb"^UID:(\S+)", re.MULTILINE)


class RunError(Exception):
    """A run that wrote nothing; the message says what is wrong with the file or the folder."""


@dataclass(frozen=True, slots=True)
class CourseRun:
    """What a run wrote, what its reader should know, and what to tell the client.

    `stopped` says why only the findings were written; empty where all was.
    """

    written: tuple[Path, ...]
    notices: tuple[str, ...]
    reminder_notes: tuple[str, ...] = ()
    stopped: str = ""


def write_course(path: Path, folder: Path, choices: RunChoices) -> CourseRun:
    """Run a course file and write all its outputs into a folder; raises RunError.

    Where a finding to avoid stands that nobody accepted, the findings alone are written.
    """
    try:
        _refuse_one_file_for_two(path, folder, choices)
        job = _job(path, choices)
        if job.reading.safety.unaccepted:
            earlier = tuple(_not_to_be_given(folder))
            findings = {folder / FINDINGS.name: FINDINGS.make(job)}
            return CourseRun(write_paths(findings), earlier, stopped=_stopped(job))
        files, unset = _made(job, folder)
        files |= {folder / name: data for name, data in job.reminders.files.items()}
        if choices.published:
            record = replace(
                job.reminders.publication.published, parts=course_parts(job.file.course)
            )
            files[choices.published] = record_bytes(record)
        others = tuple(_of_others(job, folder))
        written = write_paths(files)
    except (CourseFileError, CalendarTooLargeError, FolderError) as error:
        raise RunError(str(error)) from error
    notices = (*others, *unset, *_notices(job, folder))
    return CourseRun(written, notices, tuple(_reminder_notes(job)))


def _made(job: Job, folder: Path) -> tuple[dict[Path, bytes], list[str]]:
    """The outputs by their paths, and in words what could not be set on paper."""
    files, unset = {}, []
    for out in OUTPUTS:
        if out.applies(job):
            try:
                files[folder / out.name] = out.make(job)
            except CannotBeSetError as error:
                unset.append(f"{out.name} was not written: {error}")
    return files, unset


def _refuse_one_file_for_two(path: Path, folder: Path, choices: RunChoices) -> None:
    """Raise RunError where an output would replace the course file, or the record an output."""
    if _is_written(path, folder):
        raise RunError(
            f"{path} would be replaced by what this run writes under that name; expected another "
            "name for the course file, or another folder"
        )
    if choices.published and _is_written(choices.published, folder):
        raise RunError(
            f"{choices.published} is a file that this run writes for the client; expected "
            "another name for what was published, such as published.json"
        )


def _is_written(path: Path, folder: Path) -> bool:
    name = path.resolve().name
    named = name in {out.name for out in OUTPUTS} or _CALENDAR.fullmatch(name) is not None
    return named and path.resolve().parent == folder.resolve()


def _not_to_be_given(folder: Path) -> Iterator[str]:
    """Tells of papers of an earlier run, where this one is stopped."""
    names = {out.name for out in OUTPUTS if out is not FINDINGS}
    names.update(path.name for path in folder.glob("reminders*.ics"))
    held = sorted(name for name in names if (folder / name).exists())
    if held:
        yield f"{listed(held)} in the folder: from an earlier run, not to be given"


def _of_others(job: Job, folder: Path) -> Iterator[str]:
    """Tells whether reminders in the folder are of another course, as are the papers with them.

    A course's events keep their UIDs, so a calendar that has none of them is another's.
    """
    publication, before = job.reminders.publication, job.before
    entries = (*publication.issued, *before.issued, *before.cancelled)
    own = {entry.uid.encode() for entry in entries}
    for path in sorted(folder.glob("reminders*.ics")):
        if not _CALENDAR.fullmatch(path.name):
            continue
        with suppress(OSError):
            uids = set(_UID.findall(path.read_bytes()))
            if uids and not uids & own:
                yield (
                    f"{folder} held the papers of another course ({path.name}: another client, "
                    "protocol or first day), which this one’s replace where they have the same "
                    "names; give each course a folder of its own"
                )
                return


def _job(path: Path, choices: RunChoices) -> Job:
    file = read_course_file(path, herb_finder())
    parts = course_parts(file.course)
    before = Published(file.course.id, parts=parts)
    if choices.published and choices.published.exists():
        before = _record(choices.published)
        known_parts = sum(part in before.parts for part in parts)
        if before.course != file.course.id and known_parts < 2:
            raise RunError(
                f"{choices.published} keeps what was published of another course (client, "
                "protocol and start make a course, and one of them may be corrected); expected "
                "the file that belongs to this one"
            )
    course = replace(file.course, id=before.course)
    herbs = [carried.herb for carried in file.herbs]
    ranges = [own_range for carried in file.herbs for own_range in carried.ranges]
    materia_medica = with_own(supplied_materia_medica(), herbs, ranges)
    reading = read_course(course, today=choices.today, materia_medica=materia_medica)
    phone = before.phone_calendar(fresh=choices.fresh)
    reading = replace(reading, measures=file.measures, phone=phone)
    return Job(replace(file, course=course), reading, choices, before)


def ticked_advice(path: Path) -> tuple[str, ...]:
    """The advice of a course file that is ticked off on the diary sheet; raises RunError."""
    try:
        course = read_course_file(path, herb_finder()).course
    except CourseFileError as error:
        raise RunError(str(error)) from error
    return names_of(course)[len(course.remedies) :]


def _record(path: Path) -> Published:
    try:
        return read_record(path.read_bytes())
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise RunError(f"{path} cannot be read ({why})") from error
    except RecordError as error:
        raise RunError(
            f"{path}: {error}. Without one, move this file away, and have the client remove the "
            "old calendar before the new file is opened"
        ) from error


def _stopped(job: Job) -> str:
    """Which findings stop the run, why decisions about them lapsed, and how one is made."""
    report, today = job.reading.safety, job.choices.today
    lines = [line for finding in report.unaccepted for line in _told(finding, report)]
    told = "\n".join(lines)
    return (
        "only findings.csv was written: these findings are to be avoided, and no decision about "
        f"them holds:\n{told}\n{_what_to_do(report, job.reading.layout, today)}"
    )


def _what_to_do(report: SafetyReport, layout: Layout, today: date) -> str:
    """How a finding that stops a course is gone ahead with, where that may be."""
    may = [finding.id for finding in report.unaccepted if finding.may_be_accepted]
    if not may:
        return "Nothing is written while this stands."
    accept = decide(report, layout, may[0], reason="…", on=today)
    block = "\n".join(f"  {line}" for line in accept_toml(accept).splitlines())
    return f"Change the course, or go ahead with a reason for each:\n{block}"


def _told(finding: WordedFinding, report: SafetyReport) -> Iterator[str]:
    yield f"  {finding.id}: {finding.text}"
    if lapsed := report.lapsed.get(finding.id):
        yield f"    {lapsed}"


def _notices(job: Job, folder: Path) -> Iterator[str]:
    """What is right in form but perhaps not meant, and what was not done."""
    course = job.file.course
    if course.is_void:
        yield f"this course was struck out ({course.void}): nothing of it is taken or printed"
        yield from job.reminders.notices
        return
    plan = job.reading.layout.plan
    yield from map(str, (*step_warnings(plan), *join_warnings(plan)))
    yield from map(early_end_words, early_ends(job.reading.layout.plan))
    days = job.reading.layout.days
    for n, entry in enumerate(job.file.diary):
        if entry.day not in days:
            place = place_name(("diary", n, "date"))
            yield f"{place}: {entry.day} lies outside the course, {days.first} to {days.last}"
    yield job.reading.safety.data_words
    yield from _decided_on_nothing(job)
    for glyph in dict.fromkeys(
        map(str, unprintable(take_home_document(job.reading, job.choices.card)))
    ):
        yield f"handout.pdf: the font has no letter for {glyph}; it is printed as a square"
    if job.labels.why_not:
        yield f"labels.pdf was not written: {job.labels.why_not}"
    yield from _corrected(job)
    yield from job.reminders.notices
    for name in _earlier(job, folder):
        yield f"{name} in the folder is from an earlier run; this run has none"


def _decided_on_nothing(job: Job) -> Iterator[str]:
    """Decisions about what is no finding of the course."""
    course = job.file.course
    standing = {name for finding in job.reading.safety.findings for name in finding.accepted_as}
    for key, accepts in (("accept", course.accepts), ("discussed", course.discussed)):
        for accept in accepts:
            if accept.finding not in standing and not accept.is_void:
                yield (
                    f"course.{key}: “{accept.finding}” is not, or no longer, a finding of this "
                    "course"
                )


def _corrected(job: Job) -> Iterator[str]:
    """What of the course is not as it was when its reminders were published."""
    names = ("the client’s name", "the protocol’s name", "the first day")
    parts = course_parts(job.file.course)
    for name, part, before in zip(names, parts, job.before.parts, strict=False):
        if part != before:
            yield (
                f"{name} is not the one that was published: taken as a correction of the same "
                "course; for another client’s course give --published a file of its own"
            )


def _earlier(job: Job, folder: Path) -> Iterator[str]:
    """Outputs in the folder that this run does not write."""
    yield from (
        out.name for out in OUTPUTS if not out.applies(job) and (folder / out.name).exists()
    )
    patterns = (BY_PHASE.format("*"), "reminders" + PART.format("*"))
    calendars = {path.name for pattern in patterns for path in folder.glob(pattern)}
    yield from (name for name in sorted(calendars) if name not in job.reminders.files)


def _reminder_notes(job: Job) -> Iterator[str]:
    """What changed since the last publication, and what to tell the client with the file."""
    if not job.choices.published:
        return
    if job.reminders.kind in (FileKind.UPDATE, FileKind.REMOVAL):
        yield job.reminders.changes
    yield job.reminders.note
