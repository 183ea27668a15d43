"""The grid of a diary sheet, read from `diary.json` (`resources/diary-file.md`)."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Any

from sennight.domain.day import clock

_FORMAT, _VERSION = "sennight diary", 1
_MOST_BYTES = 20_000_000
_LONGEST = 1000.0
"""Millimetres: no place on a sheet is further than this."""


class BoxState(StrEnum):
    """What a box holds."""

    EMPTY = "empty"
    MARKED = "marked"
    UNCLEAR = "unclear"


class GridError(ValueError):
    """A file that is no grid of a diary sheet; the message says where and what was expected."""


@dataclass(frozen=True, slots=True, order=True)
class DoseSays:
    """A mark says: this dose was taken. `minute` is None for one taken when needed."""

    day: date
    remedy: str
    minute: int | None
    number: int

    def __str__(self) -> str:
        when = f"as needed, box {self.number}" if self.minute is None else clock(self.minute)
        return f"{self.day}, {self.remedy}, {when}"


@dataclass(frozen=True, slots=True, order=True)
class AdviceSays:
    """A mark says: the course's ticked line of advice of this number, from 1, was followed."""

    day: date
    number: int
    minute: int | None

    def __str__(self) -> str:
        when = "" if self.minute is None else f", {clock(self.minute)}"
        return f"{self.day}, advice {self.number}{when}"


@dataclass(frozen=True, slots=True, order=True)
class ScoreSays:
    """A mark says: the week that ends on this day is rated so: from 0 to 10, or in minutes."""

    day: date
    measure: str
    value: int

    def __str__(self) -> str:
        return f"{self.day}, {self.measure}, {self.value}"


Says = DoseSays | AdviceSays | ScoreSays


@dataclass(frozen=True, slots=True)
class Box:
    """A box by its upper left corner and side, in millimetres, and what a mark in it says."""

    x: float
    y: float
    size: float
    says: Says


@dataclass(frozen=True, slots=True)
class Page:
    """A page: what its code says and where the code is, the marks' corners, and the boxes."""

    number: int
    code: str
    code_place: tuple[float, float, float]
    width: float
    height: float
    marks: tuple[tuple[float, float, float], ...]
    boxes: tuple[Box, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """All pages of a sheet."""

    course: str
    version: str
    pages: tuple[Page, ...]


def read_grid(content: bytes) -> Grid:
    """Read a `diary.json`; raises GridError."""
    if len(content) > _MOST_BYTES:
        raise GridError(f"it is too large; expected at most {_MOST_BYTES // 1_000_000} MB")
    try:
        data = json.loads(content)
        _check_format(data)
        pages = tuple(_page(page, data) for page in data["pages"])
        return Grid(str(data["course"]), str(data["version"]), pages)
    except GridError:
        raise
    except KeyError as error:
        raise GridError(f"the key {error} is missing; expected a whole diary.json") from error
    except (ValueError, TypeError, RecursionError) as error:
        raise GridError("it is damaged; expected the diary.json made with the sheet") from error


def _check_format(data: Mapping[str, Any]) -> None:
    if data["format"] != _FORMAT or data["format_version"] != _VERSION:
        raise GridError(f"it is not a grid; expected format “{_FORMAT}”, version {_VERSION}")


def _page(page: Mapping[str, Any], data: Mapping[str, Any]) -> Page:
    paper, code = data["paper"], page["code"]
    marks = tuple(_square(mark) for mark in data["marks"])
    if len(marks) != 4:
        raise GridError("expected four corner marks")
    return Page(
        int(page["page"]),
        str(code["text"]),
        _square(code),
        _length(paper["width"]),
        _length(paper["height"]),
        marks,
        tuple(Box(*_square(box), _says(box)) for box in page["boxes"]),
    )


def _square(place: Mapping[str, Any]) -> tuple[float, float, float]:
    return _length(place["x"]), _length(place["y"]), _length(place["size"])


def _length(value: object) -> float:
    if isinstance(value, int | float) and 0 < value < _LONGEST:
        return float(value)
    raise GridError(f"expected lengths in millimetres, from 0 to {_LONGEST:.0f}")


def _says(box: Mapping[str, Any]) -> Says:
    day = date.fromisoformat(box["day"])
    match box["kind"]:
        case "dose":
            return DoseSays(day, str(box["remedy"]), int(box["minute"]), 1)
        case "as needed":
            return DoseSays(day, str(box["remedy"]), None, int(box["number"]))
        case "advice":
            minute = int(box["minute"]) if "minute" in box else None
            return AdviceSays(day, int(box["number"]), minute)
        case "score":
            return ScoreSays(day, str(box["measure"]), int(box["value"]))
        case _:
            raise GridError("a box is of an unknown kind; expected dose, as needed, advice, score")
