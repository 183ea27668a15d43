"""Decisions about findings: rows and values, and what each was made for as canonical JSON."""

from __future__ import annotations

import json
from collections.abc import Iterable
from fractions import Fraction

from sennight.domain.courses.accepts import Accept, TakenThen
from sennight.domain.courses.courses import Course
from sennight.domain.directions.directions import Unit
from sennight.store.decoding import decoding
from sennight.store.tables.courses import CourseAccept

Decided = tuple[list[Accept], list[Accept]]
"""The findings that were gone ahead with, and the cautions that were discussed."""


def accept_rows(course: Course, version_id: int | None) -> list[dict[str, object]]:
    """The columns of a version's decisions, those to go ahead first."""
    decided = [*((a, False) for a in course.accepts), *((a, True) for a in course.discussed)]
    return [
        {
            "course_version_id": version_id,
            "place": place,
            "finding": accept.finding,
            "reason": accept.reason,
            "void": accept.void or None,
            "void_on": accept.void_on,
            "decided": accept.on,
            "made_for": made_for(accept),
            "discussed": discussed or None,
        }
        for place, (accept, discussed) in enumerate(decided)
    ]


def sorted_out(rows: Iterable[CourseAccept]) -> Decided:
    """The decisions that rows of one version hold, in their order; raises UnreadableError."""
    accepts: list[Accept] = []
    discussed: list[Accept] = []
    for row in rows:
        (discussed if row.discussed else accepts).append(_from_row(row))
    return accepts, discussed


def _from_row(row: CourseAccept) -> Accept:
    with decoding("a decision about a finding"):
        made = json.loads(row.made_for) if row.made_for else {}
        taken, facts = made.get("taken"), made.get("facts")
        return Accept(
            row.finding,
            row.reason,
            row.decided,
            None if taken is None else tuple(_taken(*entry) for entry in taken),
            None if facts is None else tuple(facts),
            row.void or "",
            row.void_on,
        )


def _taken(remedy: str, phase: str, most: str, unit: str, formula: str) -> TakenThen:
    return TakenThen(remedy, phase, Fraction(most), Unit(unit), formula)


def made_for(accept: Accept) -> str | None:
    """What a decision was made for as text; None where nothing of it was kept."""
    made: dict[str, object] = {}
    if accept.taken is not None:
        made["taken"] = [
            [then.remedy, then.phase, str(then.most), str(then.unit), then.formula]
            for then in accept.taken
        ]
    if accept.facts is not None:
        made["facts"] = list(accept.facts)
    if not made:
        return None
    return json.dumps(made, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def grounds_texts(course: Course) -> list[list[str | int | None]]:
    """What a version's decisions hold beyond finding and reason, each by its place.

    Only of those that hold any of it, since an earlier schema had no place for it.
    """
    columns = ("decided", "made_for", "void", "void_on", "discussed")
    texts = []
    for row in accept_rows(course, None):
        held = [None if row[name] is None else str(row[name]) for name in columns]
        if any(text is not None for text in held):
            texts.append([int(str(row["place"])), *held])
    return texts
