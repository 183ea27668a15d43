"""A diary as a table: read from a CSV file, all of it or none, and written to one."""

from __future__ import annotations

from pathlib import Path

from sennight.domain.courses.courses import Course
from sennight.domain.follow_up.diaries import Reported
from sennight.domain.follow_up.measures import NO_OWN, Measures
from sennight.practice.diaries import whole_diary
from sennight.practice.materia_medica import herb_finder
from sennight.practice.opening import OpenPractice
from sennight.practice.work_folder import work_folder
from sennight.practice.writing import write_paths

LARGEST_TABLE = 4_000_000
"""Bytes; a year of ten remedies has about 100,000."""


class DiaryFileError(Exception):
    """A table that cannot be used; `problems` has every one, with its row and column."""

    def __init__(self, name: str, problems: tuple[str, ...]) -> None:
        self.name, self.problems = name, problems
        super().__init__("\n".join(f"{name}: {problem}" for problem in problems))


def read_diary_file(path: Path, course: Course, measures: Measures = NO_OWN) -> Reported:
    """What a table reports of a course; raises DiaryFileError, and then nothing is taken."""
    from sennight.publish.csv.diary_table import DiaryTableError, read_diary_table

    try:
        with path.open("rb") as file:
            data = file.read(LARGEST_TABLE + 1)
        if len(data) > LARGEST_TABLE:
            message = f"the file is too large; expected at most {LARGEST_TABLE:,} bytes"
            raise DiaryFileError(path.name, (message,))
        return read_diary_table(data.decode("utf-8-sig"), course, measures)
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise DiaryFileError(path.name, (f"the file cannot be read ({why})",)) from error
    except UnicodeDecodeError as error:
        message = "the file is not UTF-8 text; save it as CSV, UTF-8"
        raise DiaryFileError(path.name, (message,)) from error
    except DiaryTableError as error:
        raise DiaryFileError(path.name, error.problems) from error


def write_diary_file(practice: OpenPractice, course_id: str, path: Path) -> Path:
    """Write all that the client reported of a course as a table, and say where.

    Raises MissingRecordError, FolderError.
    """
    from sennight.publish.csv.diary_table import diary_csv

    data = diary_csv(whole_diary(practice, course_id))
    (written,) = write_paths({path: data}, plans=work_folder(practice.path))
    return written


def table_as_entries(path: Path, course_file: Path, *, as_table: bool = False) -> str:
    """What a table reports of the course in a file, as entries of a course file.

    `as_table` tells it as the program's own table instead. Raises DiaryFileError, also for the
    course file.
    """
    from sennight.publish.course_file.reader import CourseFileError, read_course_file
    from sennight.publish.course_file.writer import diary_toml
    from sennight.publish.csv.diary_table import diary_csv

    try:
        file = read_course_file(course_file, herb_finder())
    except CourseFileError as error:
        raise DiaryFileError(course_file.name, tuple(map(str, error.problems))) from error
    reported = read_diary_file(path, file.course, file.measures)
    return diary_csv(reported).decode() if as_table else diary_toml(reported)
