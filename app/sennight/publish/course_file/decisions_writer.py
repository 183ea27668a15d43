"""Writes the decisions of a course file: its revisions, and what was said of findings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import assert_never

from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.courses import (
    Advance,
    Course,
    End,
    Extend,
    Flare,
    Join,
    Pause,
    Redirect,
    Reformulate,
    Revision,
    Stay,
    Stop,
    kind_of,
)
from sennight.publish.course_file.toml_values import inline, quoted, raw_list, table, value_list


def decision_tables(course: Course) -> Iterator[str]:
    """Each revision in its order, then the findings that were accepted or discussed."""
    for revision in course.revisions:
        yield table(
            "[[course.revision]]",
            on=revision.on,
            change=kind_of(revision),
            **_revision_fields(revision),
            reason=revision.reason or None,
            void=revision.void or None,
            void_on=revision.void_on,
        )
    yield from (accept_toml(accept, "accept") for accept in course.accepts)
    yield from (accept_toml(accept, "discussed") for accept in course.discussed)


def accept_toml(accept: Accept, key: str = "accept") -> str:
    """A decision about a finding as a table of a course file, with all that it was made for."""
    taken = (
        inline(
            remedy=then.remedy, phase=then.phase, most=then.most, unit=then.unit, mark=then.formula
        )
        for then in accept.taken or ()
    )
    return table(
        f"[[course.{key}]]",
        finding=accept.finding,
        reason=accept.reason,
        on=accept.on,
        taken=None if accept.taken is None else value_list(taken) or raw_list(()),
        facts=None if accept.facts is None else raw_list(map(quoted, accept.facts)),
        void=accept.void or None,
        void_on=accept.void_on,
    )


def _revision_fields(revision: Revision) -> dict[str, object]:
    """What a kind of revision says beside its day and reason; its keys are the file's."""
    match revision:
        case Extend():
            return {"phase": revision.phase, "weeks" if revision.in_weeks else "days": revision.by}
        case Advance():
            return {"to": revision.to, "from": revision.first}
        case Pause():
            return {"from": revision.first, "to": revision.last, "mode": revision.mode}
        case Flare():
            return {"from": revision.first, "to": revision.last, "rescue": revision.rescue}
        case Redirect():
            return {
                "remedy": revision.remedy,
                "from": revision.first,
                "to": revision.last,
                "take": revision.directions,
            }
        case Stop():
            return {"remedy": revision.remedy, "from": revision.first}
        case End():
            return {"from": revision.first}
        case Join():
            return {
                "remedy": revision.remedy,
                "from": revision.first,
                "to": revision.last,
                "take": revision.directions,
            }
        case Reformulate():
            return {
                "remedy": revision.remedy,
                "from": revision.first,
                "with": revision.formula,
            }
        case Stay():
            return {}
        case _:
            assert_never(revision)
