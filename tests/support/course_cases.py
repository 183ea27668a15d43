"""A course with all that a course can have, and a session around it that saves nowhere."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

from PySide6.QtGui import QUndoStack

from sennight.desktop.course.session import Session
from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, Extend, Flare, Pause, PauseMode, Revision
from sennight.domain.courses.protocols import Protocol
from sennight.domain.remedies.forms import Form
from sennight.practice.course_reading import read_course
from support import samples

START = date(2027, 1, 4)
TODAY = date(2027, 3, 3)

DECIDED: tuple[Revision, ...] = (
    Extend(on=date(2027, 2, 8), phase="loading", by=1, in_weeks=True, reason="slow to respond"),
    Flare(on=date(2027, 2, 24), first=date(2027, 2, 24), rescue="rescue"),
    Pause(
        on=date(2027, 3, 1),
        first=date(2027, 4, 5),
        last=date(2027, 4, 11),
        mode=PauseMode.FREEZE,
    ),
)


def protocol() -> Protocol:
    line, phase = samples.line, samples.phase
    return Protocol(
        "Joint ease",
        (
            phase(
                "loading",
                "6 w",
                line("t1", "1 cup tds ac", (4, "1 cup bd")),
                line("t2", "5 mL tds pc"),
                line("t3", "2 capsule bd 3 w on 1 w off"),
            ),
            phase(
                "maintenance",
                "12 w",
                line("t1", "1 cup bd"),
                line("t2", "5 mL bd on mon wed fri"),
                line("t4", "1 application every 4-6 h prn"),
            ),
            phase(
                "taper", None, line("t1", "1 cup od"), line("t3", "1 capsule od alternate days")
            ),
            phase("rescue", "1 w", line("t5", "20 drop qds"), line("t2", "7.5 mL tds pc")),
        ),
    )


def full_course(*, decided: bool = True, start: date = START, weeks: int = 30) -> Course:
    forms = (Form.TEA, Form.TINCTURE, Form.CAPSULE, Form.RUB, Form.TINCTURE)
    remedies = tuple(samples.remedy(f"t{n + 1}", form) for n, form in enumerate(forms))
    return Course(
        "c0ffee",
        Client("Una Example"),
        remedies,
        protocol(),
        start,
        start + timedelta(weeks=weeks, days=-1),
        DECIDED if decided else (),
    )


def session(
    course: Course | None = None,
    *,
    today: date = TODAY,
    save: Callable[[Course], None] = lambda _course: None,
) -> Session:
    reading = read_course(course or full_course(), today=today)
    return Session(reading, save, undo_stack=QUndoStack())
