"""What is given, and out of which practice."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from sennight.domain.courses.courses import Course
from sennight.practice.course_reading import CourseReading
from sennight.practice.opening import OpenPractice


@dataclass(frozen=True, slots=True)
class HandoutRequest:
    """The course that is given, out of which practice, and when."""

    practice: OpenPractice
    course_id: str
    reading: CourseReading
    now: datetime

    @property
    def course(self) -> Course:
        """The course itself."""
        return self.reading.course

    @property
    def today(self) -> date:
        """The day it is given."""
        return self.now.date()
