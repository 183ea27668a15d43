"""What the find field searches: names, what was written, reviews, and what can be done."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.shell.find import Thing, action_things, review_things
from sennight.practice.opening import OpenPractice

if TYPE_CHECKING:
    from sennight.desktop.shell.find_index import FindIndex

HERE = "here:"
"""Stands before the id of what can be done on the page in front."""
_NOT_FOUND = frozenset({"find", "undo", "redo", "back", "forward", "quit"})
"""Actions that mean nothing when they are looked for."""


class Finder:
    """Finds in a practice, and among the window's actions."""

    def __init__(
        self,
        practice: OpenPractice,
        specs: Sequence[ActionSpec],
        here: Callable[[], Sequence[ActionSpec]] = tuple,
    ) -> None:
        """`specs` can be done from anywhere, what is `here` on the page in front alone."""
        self._practice, self._here = practice, here
        self._specs = tuple(spec for spec in specs if spec.id not in _NOT_FOUND)

    @cached_property
    def _index(self) -> FindIndex:
        """All that can be found by its name, read when it is first wanted."""
        from sennight.desktop.shell.find_index import FindIndex  # noqa: PLC0415 - see `later`

        return FindIndex(self._practice)

    def by_name(self) -> tuple[Thing, ...]:
        """All that has a name."""
        return self._index()

    def besides(self, typed: str) -> tuple[Thing, ...]:
        """What was written, reviews, and what can be done, that fits what was typed."""
        from sennight.desktop.shell.find_index import written_things  # noqa: PLC0415 - see `later`

        written = written_things(self._practice, typed)
        reviews = review_things(self.by_name(), typed)
        here = (thing._replace(id=HERE + thing.id) for thing in action_things(self._here(), typed))
        return (*written, *reviews, *here, *action_things(self._specs, typed))
