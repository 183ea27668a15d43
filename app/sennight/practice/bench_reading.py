"""Reads what wants attention: kept days, diaries, appointments, red flags and findings.

Rows that come in thousands are put into their order as they are; `bench_items` says what of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Set
from datetime import date, timedelta
from functools import cached_property

from sennight.domain.dates import ONE_DAY
from sennight.domain.day import clock
from sennight.domain.matters import Matter
from sennight.practice.bench_items import Due, Entry, Item, Items
from sennight.store.matters import (
    ComingRow,
    Found,
    MarkState,
    MatterKey,
    MatterRepository,
    StandingRow,
)

AHEAD = timedelta(days=6)
"""How far ahead is looked: today and six days more are a week."""
LOOK_BACK = timedelta(days=28)
"""How long something stays overdue: what is older was let go (this project's own decision)."""
DIARY_AFTER = timedelta(days=7)
"""After so many days without an entry the diary is asked for."""
SEEN_BEFORE = timedelta(days=7)
"""A consultation counts as a review that falls due up to so many days after it."""
_NO_DAY = date.max.toordinal() + 1
_STAYING = (Matter.ORDER, Matter.REVIEW)
"""What is still to be done when its day is past; the rest has happened by then."""
_ON_THEIR_DAY = tuple(
    matter
    for matter in Matter
    if matter not in (Matter.RED_FLAG, Matter.FINDING, Matter.DIARY, Matter.APPOINTMENT)
)
_SINCE = (Matter.RED_FLAG, Matter.FINDING, Matter.FLARE)
"""What is due today as long as it lasts, whatever the day since when it does."""
_RANKS: dict[str, int] = {matter.value: place for place, matter in enumerate(Matter)}


class MatterReader:
    """Reads what wants attention, and leaves out what was done or put off."""

    def __init__(
        self,
        matters: MatterRepository,
        today: date,
        names: Mapping[str, str],
        ahead: timedelta = AHEAD,
        standings: Mapping[int, StandingRow] | None = None,
    ) -> None:
        self._matters, self._today, self._names = matters, today, names
        self._since, self._to = today - LOOK_BACK, today + ahead
        self._standings = standings or matters.standings(self._since)
        self._visits = matters.visits(self._since - SEEN_BEFORE)
        self._marks = matters.marks(self._since)

    def running(self) -> int:
        """How many courses are under way today."""
        day = self._today.toordinal()
        rows = self._standings.values()
        return len([last for _, _, _, _, first, last, _ in rows if first <= day <= last])

    def items(self) -> Items:
        """All that is to be shown, in its order."""
        rows = self._matters.coming(self._today, self._to, _ON_THEIR_DAY)
        rows += _latest(self._matters.coming(self._since, self._today - ONE_DAY, _STAYING))
        rows += [row for row in self._matters.flares_on(self._today) if self._is_before(row)]
        rows += self._diaries()
        few = map(self._of_row, (*self._said_of(rows), *self._put_off_rows(rows)))
        shown = [item for item in few if item and not self._is_seen(item)]
        rest = (*shown, *self._appointments(), *self._red_flags(), *self._findings())
        entries = self._in_bulk(rows) + [self._entry(item) for item in self._shown(rest)]
        return Items(tuple(sorted(entries)), self._made)

    def _untouched(self, rows: Iterable[ComingRow]) -> list[ComingRow]:
        """Those of clients in the list of which nothing was said, and no review that was met."""
        places, said, seen = self._places, self._said, self._seen_in
        listed = [row for row in rows if row[2] in places]
        if said:
            courses = self._spoken_of
            listed = [row for row in listed if row[2] not in courses or row[:4] not in said]
        if seen:
            before, review = SEEN_BEFORE.days, Matter.REVIEW.value
            met = {course: day.toordinal() + before for course, day in seen.items()}
            listed = [row for row in listed if row[0] != review or met.get(row[2], 0) < row[1]]
        return listed

    def _in_bulk(self, rows: Iterable[ComingRow]) -> list[Entry]:
        """The places of what nothing was said of, in clients' names and by the day."""
        today, places, ranks = self._today.toordinal(), self._places, _RANKS
        flare = Matter.FLARE.value
        return [
            (
                today if matter == flare and day < today else day,
                ranks[matter],
                places[course],
                what,
                course,
                day,
                row,
            )
            for row in self._untouched(rows)
            for matter, day, course, what, _ in (row,)
        ]

    def _entry(self, item: Item) -> Entry:
        course = self._numbers.get(item.key.course, 0)
        place = self._order[item.key.client]
        rank, day = _RANKS[item.matter], item.day.toordinal()
        return item.due.toordinal(), rank, place, item.what, course, day, item

    def _made(self, row: ComingRow) -> Item:
        """The item of a row whose client is in the list."""
        item = self._of_row(row)
        if item is None:
            raise LookupError(row)
        return item

    @cached_property
    def _order(self) -> dict[str, int]:
        """The place of each client in the list."""
        return {client_id: place for place, client_id in enumerate(self._names)}

    @cached_property
    def _places(self) -> dict[int, int]:
        """The place of the client of each course, by the course's number."""
        order = self._order
        return {
            number: order[client_id]
            for number, _, client_id, _, _, _, _ in self._standings.values()
            if client_id in order
        }

    @cached_property
    def _numbers(self) -> dict[str, int]:
        """The number of each course by its id."""
        return {row.course_id: number for number, row in self._standings.items()}

    @cached_property
    def _seen_in(self) -> dict[int, date]:
        """The day on which the client of each course was seen last, by the course's number."""
        seen = self._seen
        rows = self._standings.values() if seen else ()
        return {number: seen[client_id] for number, _, client_id, *_ in rows if client_id in seen}

    @cached_property
    def _said(self) -> frozenset[tuple[str, int, int, str]]:
        """The rows that something was said of: their first four columns."""
        return frozenset(
            (key.matter, key.day.toordinal(), self._numbers.get(key.course, 0), key.what)
            for key in self._marks
        )

    @cached_property
    def _spoken_of(self) -> frozenset[int]:
        """The courses that something was said of: few, and quicker to ask for than rows."""
        return frozenset(course for _, _, course, _ in self._said)

    def _said_of(self, rows: Iterable[ComingRow]) -> list[ComingRow]:
        """Those of the rows that something was said of."""
        courses = self._spoken_of
        return [row for row in rows if row[2] in courses and row[:4] in self._said]

    def next_seen(self) -> dict[str, Due]:
        """When each client is seen next: an appointment, or a review, also an overdue one."""
        special = self._spoken_of | self._seen_in.keys()
        rows = self._reviews_of(special) if special else []
        few = map(self._of_row, (*self._said_of(rows), *self._put_off_rows(rows)))
        reviews = (item for item in few if item and item.matter is Matter.REVIEW)
        rest = (*(item for item in reviews if not self._is_seen(item)), *self._appointments())
        found = self._first_reviews(special, self._untouched(rows))
        for item in self._shown(rest):
            known = found.get(item.key.client)
            if known is None or item.due < known.day:
                found[item.key.client] = Due(item.due, item.matter)
        return found

    def _reviews_of(self, courses: Iterable[int]) -> list[ComingRow]:
        """The reviews of these courses: those to come, and the last one before."""
        before = self._since, self._today - ONE_DAY
        rows = self._matters.coming(self._today, self._to, (Matter.REVIEW,), courses)
        return rows + _latest(self._matters.coming(*before, (Matter.REVIEW,), courses))

    def _first_reviews(self, special: Set[int], of_special: Iterable[ComingRow]) -> dict[str, Due]:
        """The first review for each client; of courses that are not special, read as days."""
        review, before = Matter.REVIEW, (self._since, self._today - ONE_DAY)
        first = self._matters.first_days(review, self._today, self._to)
        first |= self._matters.last_days(review, *before)
        days = [(course, day) for course, day in first.items() if course not in special]
        days += [(row.course, row.day) for row in of_special]
        places = self._places
        soonest: dict[int, int] = {}
        for course, day in days:
            place = places.get(course)
            if place is not None and day < soonest.get(place, _NO_DAY):
                soonest[place] = day
        clients = tuple(self._names)
        due = {day: Due(date.fromordinal(day), review) for day in set(soonest.values())}
        return {clients[place]: due[day] for place, day in soonest.items()}

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
        seen = {row[:4] for row in self._said_of(rows)}
        for key, mark in self._marks.items():
            number = self._numbers.get(key.course)
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

    def _diaries(self) -> list[ComingRow]:
        """The diaries that were kept and then not entered for a week, or to the course's end."""
        today, to = self._today.toordinal(), self._to.toordinal()
        let_go, after, diary = self._since.toordinal(), DIARY_AFTER.days, Matter.DIARY.value
        rows: list[ComingRow] = []
        for number, _, _, _, first, last, since in self._standings.values():
            if since is not None and since <= last and first <= today:
                day = since + after if since + after <= last else last + 1
                if let_go <= day <= to:
                    rows.append(ComingRow(diary, day, number, "", since - 1))
        return rows

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
        for course_id, (given, found) in new.items():
            standing = self._standings.get(self._numbers.get(course_id, 0))
            if standing is not None:
                item = self._item(Matter.FINDING, standing, given)
                yield _of_findings(item, found, self._today)


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
