"""Conditions, states and facts about a client that matter for herbs; names that are not clear."""

from __future__ import annotations

from dataclasses import dataclass

from sennight.domain.client_facts.medicines import Origin

UNCLEAR = "?"
"""What the id of an unclear name ends in, so that it is never that of a record."""


@dataclass(frozen=True, slots=True)
class Condition:
    """A condition; `implies` hold with it, `perhaps` are to be asked, `care` is what to mind."""

    id: str
    label: str
    names: tuple[str, ...]
    implies: tuple[str, ...]
    perhaps: tuple[str, ...]
    group: str
    care: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class UnclearName:
    """A name that stands for several records; until it is known which, some of them all hold."""

    name: str
    records: tuple[str, ...]
    until_known: tuple[str, ...]

    @property
    def id(self) -> str:
        """The name as a tag: `blood-thinner?`."""
        return self.name.lower().replace(" ", "-") + UNCLEAR
