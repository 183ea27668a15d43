"""Bench: what wants attention, by day, over all running courses; done, put off, open again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property
from typing import NamedTuple

from sennight.domain.coming import Matter
from sennight.domain.dates import ONE_DAY
from sennight.domain.day import clock
from sennight.practice.opening import OpenPractice
from sennight.store.matters import (
    ComingRow,
    Found,
    Mark,
    MarkState,
    MatterKey,
    MatterRepository,
    StandingRow,
)

__all__ = [
    "LOOK_BACK",
    "Bench",
    "Item",
    "Matter",
    "MatterKey",
    "bench",
    "mark_done",
    "put_off",
    "reopen",
]

AHEAD = timedelta(days=6)
"""How far ahead is looked: today and six days more are a week."""
LOOK_BACK = timedelta(days=28)
"""How long something stays overdue: what is older was let go (this project's own decision)."""
DIARY_AFTER = timedelta(days=7)
"""After so many days without an entry the diary is asked for."""
SEEN_BEFORE = timedelta(days=7)
"""A consultation counts as a review that falls due up to so many days after it."""
_STAYING = (Matter.ORDER, Matter.REVIEW)
"""What is still to be done when its day is past; the rest has happened by then."""
_ON_THEIR_DAY = tuple(
    matter
    for matter in Matter
    if matter not in (Matter.RED_FLAG, Matter.FINDING, Matter.DIARY, Matter.APPOINTMENT)
)


class Item(NamedTuple):
    """Something that wants attention.

    `day` is its own, `due` the one under which it stands: today for what stands until it is
    seen to, another where it was put off. `course` is empty for what is about the client alone.
    `what` is the phase or the remedy, for findings and red flags what is to be read of them, for
    an appointment its hour. `until` is the last day of what lasts, of a diary the last day before
    those that are not entered. `put_to` is the day that it was put off to.
    """

    key: MatterKey
    matter: Matter
    due: date
    client: str
    course: str
    what: str
    until: date | None
    put_to: date | None = None

    @property
    def day(self) -> date:
        """Its own day."""
        return self.key.day


_SINCE = (Matter.RED_FLAG, Matter.FINDING, Matter.FLARE)


@dataclass(frozen=True, slots=True)
class Bench:
    """What wants attention, the earliest first, the most pressing of a day first.

    `running` counts the courses under way, `behind` says whether some are not in it yet, because
    they were saved by an earlier version of the program.
    """

    items: tuple[Item, ...]
    running: int
    behind: bool


def bench(practice: OpenPractice, today: date) -> Bench:
    """What wants attention on a day and in the six after it; no course is read for it."""
    with practice.file.reading() as unit:
        names = {title.id: title.name for title in unit.clients.titles(archived=False)}
        matters = unit.matters
        reader = _Reader(matters, today, names)
        items = tuple(sorted(reader.items(), key=_order))
        return Bench(items, reader.running(), bool(unit.standings.behind(1)))


class Due(NamedTuple):
    """When a client is to be seen next, and whether for an appointment or a review."""

    day: date
    matter: Matter


def next_seen(
    matters: MatterRepository, today: date, names: Mapping[str, str], ahead: timedelta
) -> dict[str, Due]:
    """When each of these clients is to be seen next, as far ahead as is asked for."""
    found: dict[str, Due] = {}
    for item in _Reader(matters, today, names, ahead).next_seen():
        known = found.get(item.key.client)
        if known is None or item.due < known.day:
            found[item.key.client] = Due(item.due, item.matter)
    return found


def _order(item: Item) -> tuple[date, int, str, str, str]:
    return item.due, _RANK[item.matter], item.client.casefold(), item.course, item.what


_RANK = {matter: place for place, matter in enumerate(Matter)}


class _Reader:
    """Reads what wants attention, and leaves out what was done or put off."""

    def __init__(
        self,
        matters: MatterRepository,
        today: date,
        names: Mapping[str, str],
        ahead: timedelta = AHEAD,
    ) -> None:
        self._matters, self._today, self._names = matters, today, names
        self._since, self._to = today - LOOK_BACK, today + ahead
        self._standings = matters.standings(self._since)
        self._visits = matters.visits(self._since - SEEN_BEFORE)
        self._marks = matters.marks(self._since)

    def running(self) -> int:
        """How many courses are under way today."""
        day = self._today.toordinal()
        return sum(row.first <= day <= row.last for row in self._standings.values())

    def items(self) -> Iterator[Item]:
        """All that is to be shown."""
        rows = self._matters.coming(self._today, self._to, _ON_THEIR_DAY)
        rows += _latest(self._matters.coming(self._since, self._today - ONE_DAY, _STAYING))
        rows += [row for row in self._matters.flares_on(self._today) if self._is_before(row)]
        every = map(self._of_row, (*rows, *self._put_off_rows(rows)))
        yield from self._shown(item for item in every if item and not self._is_seen(item))
        yield from self._shown(self._appointments())
        yield from self._shown(self._diaries())
        yield from self._shown(self._red_flags())
        yield from self._shown(self._findings())

    def next_seen(self) -> Iterator[Item]:
        """The appointments to come, and the reviews, those that are overdue among them."""
        rows = self._matters.coming(self._today, self._to, (Matter.REVIEW,))
        rows += _latest(self._reviews_before())
        every = map(self._of_row, (*rows, *self._put_off_rows(rows)))
        reviews = (item for item in every if item and item.matter is Matter.REVIEW)
        yield from self._shown(item for item in reviews if not self._is_seen(item))
        yield from self._shown(self._appointments())

    def _reviews_before(self) -> list[ComingRow]:
        return self._matters.coming(self._since, self._today - ONE_DAY, (Matter.REVIEW,))

    def _is_before(self, row: ComingRow) -> bool:
        return row.day < self._today.toordinal()

    def _is_seen(self, item: Item) -> bool:
        """Whether it is a review, and the client was seen since shortly before it fell due."""
        if item.matter is not Matter.REVIEW:
            return False
        seen = self._seen.get(item.key.client)
        return seen is not None and seen >= item.day - SEEN_BEFORE

    @cached_property
    def _seen(self) -> dict[str, date]:
        """The day on which each client was seen last."""
        return {row.client_id: row.day for row in sorted(self._visits, key=lambda row: row.day)}

    def _shown(self, items: Iterable[Item | None]) -> Iterator[Item]:
        """Those of clients in the list that are not done, each under the day that it is due."""
        for item in items:
            if item is None:
                continue
            mark = self._marks.get(item.key)
            if mark is None or mark.state is MarkState.OPEN:
                yield item
            elif mark.state is MarkState.PUT_OFF and mark.put_to and mark.put_to <= self._to:
                yield item._replace(due=mark.put_to, put_to=mark.put_to)

    def _put_off_rows(self, rows: list[ComingRow]) -> Iterator[ComingRow]:
        """What was put off from a day that is out of sight, if it is still to come."""
        seen = {(row.matter, row.day, row.course, row.what) for row in rows} if self._marks else ()
        numbers = {row.course_id: row.number for row in self._standings.values()}
        for key, mark in self._marks.items():
            number = numbers.get(key.course)
            if mark.state is not MarkState.PUT_OFF or number is None:
                continue
            if (key.matter, key.day.toordinal(), number, key.what) not in seen:
                yield from self._matters.coming_of(key, number)

    def _item(self, matter: Matter, standing: StandingRow, day: date) -> Item | None:
        name = self._names.get(standing.client_id)
        if name is None:
            return None
        key = MatterKey(standing.client_id, standing.course_id, matter.value, "", day)
        return Item(key, matter, day, name, standing.name, "", None)

    def _of_row(self, row: ComingRow) -> Item | None:
        standing = self._standings.get(row.course)
        name = self._names.get(standing.client_id) if standing else None
        if standing is None or name is None:
            return None
        day, matter = date.fromordinal(row.day), Matter(row.matter)
        key = MatterKey(standing.client_id, standing.course_id, row.matter, row.what, day)
        due = max(day, self._today) if matter in _SINCE else day
        until = date.fromordinal(row.until) if row.until else None
        return Item(key, matter, due, name, standing.name, row.what, until)

    def _diaries(self) -> Iterator[Item | None]:
        """The diaries that were kept and then not entered for a week, or to the course's end."""
        today, to = self._today.toordinal(), self._to.toordinal()
        let_go = self._since.toordinal()
        for standing in self._standings.values():
            since = standing.diary_since
            if since is None or since > standing.last or standing.first > today:
                continue
            day = min(since + DIARY_AFTER.days, standing.last + 1)
            if let_go <= day <= to:
                item = self._item(Matter.DIARY, standing, date.fromordinal(day))
                yield item and item._replace(until=date.fromordinal(since - 1))

    def _appointments(self) -> Iterator[Item]:
        for row in self._visits:
            name = self._names.get(row.client_id)
            if name is None or row.next_day is None or row.next_day < self._today:
                continue
            at = "" if row.at is None else clock(row.at)
            key = MatterKey(row.client_id, "", Matter.APPOINTMENT.value, at, row.next_day)
            if row.next_day <= self._to:
                yield Item(key, Matter.APPOINTMENT, row.next_day, name, "", at, None)

    def _red_flags(self) -> Iterator[Item | None]:
        for client_id, (day, count) in self._matters.red_flags().items():
            name = self._names.get(client_id)
            if name is not None:
                key = MatterKey(client_id, "", Matter.RED_FLAG.value, "", day)
                yield Item(key, Matter.RED_FLAG, self._today, name, "", str(count), None)

    def _findings(self) -> Iterator[Item | None]:
        new = self._matters.new_findings(self._today)
        for standing in self._standings.values() if new else ():
            if standing.course_id in new:
                item = self._item(Matter.FINDING, standing, new[standing.course_id][0])
                yield _of_findings(item, new[standing.course_id][1], self._today)


def _of_findings(item: Item | None, found: Found, today: date) -> Item | None:
    if item is None:
        return None
    key = item.key._replace(what=" ".join(sorted(found)))
    return item._replace(key=key, due=today, what="; ".join(found.values()))


def _latest(rows: list[ComingRow]) -> list[ComingRow]:
    """The last of each course, kind and subject: a later review stands for those before it."""
    return [*{(row.course, row.matter, _subject(row)): row for row in rows}.values()]


def _subject(row: ComingRow) -> str:
    return "" if row.matter == Matter.REVIEW else row.what


# What was said of it


def mark_done(practice: OpenPractice, item: Item, *, now: datetime) -> None:
    """Keep that something was seen to."""
    _mark(practice, item, Mark(MarkState.DONE, None), now)


def put_off(practice: OpenPractice, item: Item, to: date, *, now: datetime) -> None:
    """Keep that something is put off to a day."""
    _mark(practice, item, Mark(MarkState.PUT_OFF, to), now)


def reopen(practice: OpenPractice, item: Item, *, now: datetime) -> None:
    """Take back what was said of an item: it stands as it did."""
    state = MarkState.PUT_OFF if item.put_to else MarkState.OPEN
    _mark(practice, item, Mark(state, item.put_to), now)


def _mark(practice: OpenPractice, item: Item, mark: Mark, now: datetime) -> None:
    with practice.file.writing() as unit:
        unit.matters.mark(item.key, mark, recorded=now)
