"""The exact grid of a diary sheet as JSON, by which a photo of the sheet is read.

What the keys mean is in `resources/diary-file.md`.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from hashlib import sha256
from typing import assert_never

from sennight.domain.courses.courses import Course
from sennight.domain.day import clock
from sennight.publish.diary.content import Column, named_time
from sennight.publish.diary.grid import DoseBox, GridBox, GridPage, Rating
from sennight.publish.diary.measures import CODE, EDGE, MARK, Paper

FORMAT, FORMAT_VERSION = "sennight diary", 1
_COURSE_SIGNS, _VERSION_SIGNS = 8, 5


def version_of(course: Course, pages: Sequence[GridPage], paper: Paper) -> str:
    """The grid's version: five signs that differ where anything of the grid does."""
    content = diary_json(course, pages, paper, "")
    return sha256(content).hexdigest()[:_VERSION_SIGNS].upper()


def code_text(course: Course, version: str, page: int) -> str:
    """What the code on a page says: `D`, eight signs for the course, the version, the page.

    Sixteen signs are the most that the smallest code holds with a quarter of it lost
    (ISO/IEC 18004, version 1, level Q, letters and figures).
    """
    signs = sha256(course.id.encode()).hexdigest()[:_COURSE_SIGNS].upper()
    return f"D{signs}{version}{page:02d}"


def diary_json(course: Course, pages: Sequence[GridPage], paper: Paper, version: str) -> bytes:
    """The grid of all pages, a box a line; it names no client, and remedies by their ids."""
    head = {
        "format": FORMAT,
        "format_version": FORMAT_VERSION,
        "course": course.id,
        "version": version,
        "paper": {"name": paper.name, "width": paper.width, "height": paper.height},
        "marks": [{"x": x, "y": y, "size": MARK} for x, y in paper.marks],
    }
    texts = ",\n".join(
        _page_text(course, page, number, paper, version) for number, page in enumerate(pages, 1)
    )
    return f'{json.dumps(head)[:-1]},\n"pages": [\n{texts}\n]}}\n'.encode()


def _page_text(course: Course, page: GridPage, number: int, paper: Paper, version: str) -> str:
    code = {"text": code_text(course, version, number), "x": paper.code_left, "y": EDGE}
    head = {
        "page": number,
        "first_day": page.first.isoformat(),
        "last_day": page.last.isoformat(),
        "code": {**code, "size": CODE},
    }
    boxes = ",\n".join(json.dumps(_box(course, box)) for box in page.boxes)
    return f'{json.dumps(head)[:-1]}, "boxes": [\n{boxes}\n]}}'


def _box(course: Course, box: GridBox) -> dict[str, object]:
    place = {"x": round(box.x, 2), "y": round(box.y, 2), "size": box.size}
    return {**place, "day": box.says.day.isoformat(), **_says(course, box.says)}


def _says(course: Course, says: DoseBox | Rating) -> dict[str, object]:
    match says:
        case Rating():
            return {"kind": "score", "measure": says.measure, "value": says.value}
        case DoseBox():
            return _dose(course, says.column)
        case _:
            assert_never(says)


def _dose(course: Course, column: Column) -> dict[str, object]:
    if column.is_advice:
        told = {"kind": "advice", "number": column.index - len(course.remedies) + 1}
        if column.minute is None:
            return told
        return {**told, "minute": column.minute, "time": clock(column.minute)}
    remedy = course.remedies[column.index].id
    if column.minute is None:
        return {"kind": "as needed", "remedy": remedy, "number": column.number}
    named = named_time(course.client.day, column.minute)
    return {
        "kind": "dose",
        "remedy": remedy,
        "minute": column.minute,
        "time": clock(column.minute),
        "moment": str(named.moment or ""),
        "shift": named.shift,
    }
