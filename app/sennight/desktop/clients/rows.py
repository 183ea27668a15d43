"""The rows of the list of clients, and of a client's courses."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.standing import age_words, standing
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.directions.plain_words import plain_date, plain_dates
from sennight.practice.clients import ClientTitle
from sennight.practice.courses import CourseEntry


@dataclass(frozen=True, slots=True)
class ClientRow:
    """A client and the course to show beside them: the one that runs, else the latest."""

    entry: ClientTitle
    course: CourseEntry | None
    layout: Layout | None

    def cells(self, today: date) -> tuple[str, str, str, str]:
        """Name, age, course and where it stands."""
        course = self.course.course.protocol.name if self.course else ""
        state = standing(self.layout, today) if self.layout else ""
        return self.entry.name, age_words(self.entry.born, today), course, state


def client_row(entry: ClientTitle, courses: tuple[CourseEntry, ...], today: date) -> ClientRow:
    """The row of a client whose courses are given newest first."""
    latest: tuple[CourseEntry | None, Layout | None] = None, None
    for course in (held for held in courses if not held.course.is_void):
        layout = lay_out(course.course)
        if today in layout.days:
            return ClientRow(entry, course, layout)
        latest = latest if latest[0] else (course, layout)
    return ClientRow(entry, *latest)


def course_cells(entry: CourseEntry, today: date) -> tuple[str, str, str]:
    """A course in its client's folder: name, days, where it stands."""
    course = entry.course
    if course.is_void:
        struck = translate("Clients", "struck out: {why}").format(why=course.void)
        return course.protocol.name, plain_date(course.start), struck
    layout = lay_out(course)
    return entry.course.protocol.name, plain_dates(layout.days), standing(layout, today)


def course_columns() -> tuple[str, ...]:
    """The headings of a client's courses."""
    return (
        translate("Clients", "Course"),
        translate("Clients", "Dates"),
        translate("Clients", "Now"),
    )
