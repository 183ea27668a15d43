"""What wants attention, as values: each item, and many of them in their order.

Of what comes in thousands only places in the order are made at once; an item is made of one when
it is looked at.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date
from typing import NamedTuple, overload

from sennight.domain.matters import Matter
from sennight.store.matters import ComingRow, MatterKey


class Due(NamedTuple):
    """When a client is to be seen next, and whether for an appointment or a review."""

    day: date
    matter: Matter


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


Entry = tuple[int, int, int, str, int, int, "ComingRow | Item"]
"""Where an item stands (due day, kind, client, what, course, day), and what it is made of."""


class Items(Sequence[Item]):
    """What needs attention in its order; each item is made when it is asked for."""

    def __init__(self, entries: Sequence[Entry], made: Callable[[ComingRow], Item]) -> None:
        self._entries, self._made = entries, made
        self._known: dict[int, Item] = {}

    def __len__(self) -> int:
        """How many there are."""
        return len(self._entries)

    @overload
    def __getitem__(self, at: int) -> Item: ...
    @overload
    def __getitem__(self, at: slice) -> Items: ...
    def __getitem__(self, at: int | slice) -> Item | Items:
        """The item at a place, or those of several."""
        if isinstance(at, slice):
            return Items(self._entries[at], self._made)
        if at not in self._known:
            due, *_, of = self._entries[at]
            item = of if isinstance(of, Item) else self._made(of)
            self._known[at] = item._replace(due=date.fromordinal(due))
        return self._known[at]

    def some(self, places: Iterable[int]) -> Items:
        """Those at some places."""
        return Items([self._entries[at] for at in places], self._made)

    def days(self) -> Iterator[tuple[date, int, int]]:
        """Each day that something is due on, and from which place to which its items are."""
        first, entries = 0, self._entries
        while first < len(entries):
            due = entries[first][0]
            end = bisect_left(entries, due + 1, first, key=lambda entry: entry[0])
            yield date.fromordinal(due), first, end
            first = end


def _none_made(row: ComingRow) -> Item:
    raise LookupError(row)


NOTHING = Items((), _none_made)
