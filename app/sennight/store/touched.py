"""What a transaction wrote to, so that what follows from it is worked out anew before its end."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sqlalchemy.orm import Session

if TYPE_CHECKING:  # so that no course is imported before one is read
    from sennight.domain.courses.courses import Course

_KEY = "touched"


@dataclass(slots=True)
class Touched:
    """The records that a transaction wrote to.

    `courses` are those whose days may have changed, with the course where it is at hand, its
    client's record being the current one. Of `diaries` only the diary did. What is found of the
    courses of `clients` may have changed, of all courses with `herbs`.
    """

    courses: dict[str, Course | None] = field(default_factory=dict)
    diaries: set[str] = field(default_factory=set)
    clients: set[str] = field(default_factory=set)
    herbs: bool = False


def touched(session: Session) -> Touched:
    """What was written to in the transaction of a session."""
    held: Touched = session.info.setdefault(_KEY, Touched())
    return held
