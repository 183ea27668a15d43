"""What follows from an edit is what would follow if the course had never been read before."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace

from sennight.domain.courses.courses import Course
from sennight.practice.course_reading import CourseReading, read_course
from sennight.practice.materia_medica import supplied_materia_medica
from support import real_year


def consequences(reading: CourseReading) -> tuple[object, ...]:
    safety, supply = reading.safety, reading.supplies
    amounts = reading.all_exposures, reading.all_ethanol, reading.ethanol_days
    return safety, supply, amounts, reading.actions, reading.events, tuple(reading.weeks)


def read_afresh(course: Course) -> CourseReading:
    """The same with values of its own, of which nothing can be known already."""
    herbs = replace(supplied_materia_medica())
    return read_course(deepcopy(course), today=real_year.TODAY, materia_medica=herbs)


def test_edits_are_read_as_if_each_were_the_first() -> None:
    course, herbs = real_year.real_year(), supplied_materia_medica()
    for n in range(6):
        course = real_year.edited(course, n)
        reading = read_course(course, today=real_year.TODAY, materia_medica=herbs)
        assert consequences(reading) == consequences(read_afresh(course)), f"edit {n}"


def test_a_flare_up_plan_that_was_not_called_is_read_so_too() -> None:
    called = real_year.real_year()
    course = replace(called, revisions=())
    for n in range(3):
        course = real_year.edited(course, n)
        reading = read_course(course, today=real_year.TODAY)
        assert consequences(reading) == consequences(read_afresh(course)), f"edit {n}"
