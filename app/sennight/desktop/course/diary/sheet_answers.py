"""What was read from photos of diary sheets, and what a person said of its boxes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from sennight.desktop.kit.drafts import as_list, as_object, leaving_out_what_cannot_be_read
from sennight.practice.drafts import Json
from sennight.practice.given_sheets import GivenSheets
from sennight.practice.reading_diaries import SheetsRead
from sennight.practice.sheet_pages import BoxState, Says, SeenBox, SeenPage, Unread


@dataclass(frozen=True, slots=True)
class Spot:
    """A box, by the code of its page and its place among the page's boxes."""

    code: str
    place: int


class SheetAnswers(QObject):
    """The pages read so far, by their codes, and what was said of boxes by hand.

    `changed` tells that a page or an answer came; `wanted` that photos of a draft are to be
    read again.
    """

    changed = Signal()
    wanted = Signal()

    def __init__(self, sheets: GivenSheets) -> None:
        super().__init__()
        self.sheets = sheets
        self.photos: list[Path] = []
        self.pages: dict[str, SeenPage] = {}
        self.unread: list[Unread] = []
        self.twice: list[str] = []
        self.said: dict[Spot, BoxState] = {}

    # Pages

    def add(self, seen: SeenPage | Unread) -> None:
        """Take what was seen in a photo; of a page seen twice, what differs is unclear."""
        if isinstance(seen, Unread):
            self.unread.append(seen)
        elif (before := self.pages.get(seen.page.code)) is not None:
            self.twice.append(seen.source)
            self.pages[seen.page.code] = _compared(before, seen)
        else:
            self.pages[seen.page.code] = seen
            order = sorted(self.pages.items(), key=lambda item: _order(item[1]))
            self.pages = dict(order)
        self.changed.emit()

    def box(self, spot: Spot) -> SeenBox:
        """A box as it was read."""
        return self.pages[spot.code].boxes[spot.place]

    def spots(self) -> Iterator[Spot]:
        """All boxes, page by page."""
        for code, page in self.pages.items():
            for place in range(len(page.boxes)):
                yield Spot(code, place)

    # Answers

    def state(self, spot: Spot) -> BoxState:
        """What a box holds: as was said of it, else as it was read."""
        return self.said.get(spot, self.box(spot).state)

    def say(self, spot: Spot, state: BoxState) -> None:
        """Say what a box holds; unclear leaves it open."""
        self.said[spot] = state
        self.changed.emit()

    def to_ask(self) -> tuple[Spot, ...]:
        """The unclear boxes of which nothing was said yet."""
        return tuple(
            spot
            for spot in self.spots()
            if spot not in self.said and self.box(spot).state is BoxState.UNCLEAR
        )

    def result(self) -> SheetsRead:
        """What the boxes come to, as they now stand."""
        states: dict[Says, set[str]] = {}
        for spot in self.spots():
            states.setdefault(self.box(spot).says, set()).add(str(self.state(spot)))
        return self.sheets.count(states, self.pages.keys())

    # Kept on disk

    def draft_value(self) -> Json:
        """The photos, and what was said by hand."""
        said: list[Json] = [[s.code, s.place, str(state)] for s, state in self.said.items()]
        return {"photos": [str(path) for path in self.photos], "said": said}

    def put_draft_value(self, value: Json) -> None:
        """Hold that again; the photos that are still there are read again."""
        self.pages, self.unread, self.twice = {}, [], []
        self.photos, self.said = [], {}
        with leaving_out_what_cannot_be_read():
            kept = as_object(value)
            paths = [Path(str(path)) for path in as_list(kept["photos"])]
            self.photos = [path for path in paths if path.is_file()]
            for entry in as_list(kept["said"]):
                code, place, state = as_list(entry)
                if isinstance(place, int):
                    self.said[Spot(str(code), place)] = BoxState(str(state))
        self.changed.emit()
        self.wanted.emit()


def _compared(before: SeenPage, again: SeenPage) -> SeenPage:
    pairs = zip(before.boxes, again.boxes, strict=True)
    boxes = tuple(
        box if box.state is other.state else replace(box, state=BoxState.UNCLEAR)
        for box, other in pairs
    )
    return replace(before, boxes=boxes)


def _order(seen: SeenPage) -> tuple[object, ...]:
    days = [box.says.day for box in seen.boxes]
    return bool(days), min(days, default=None), seen.grid.version, seen.page.number
