"""The tags that clients' facts, aims and formulas are written in: conditions, actions …"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from sennight.domain.tag_words import TagWords
from sennight.places import own_folder


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """For each kind of tag, what every tag means; and the words that people read for tags.

    `purposes` say of each action what it is for, to a client, in one phrase or two: “Used to
    ease pain”. Actions that are for the same have a phrase in common, which is said once.
    """

    conditions: Mapping[str, str]
    medicines: Mapping[str, str]
    constituents: Mapping[str, str]
    actions: Mapping[str, str]
    purposes: Mapping[str, tuple[str, ...]]
    words: TagWords

    @property
    def allergies(self) -> Mapping[str, str]:
        """What an allergy can be recorded as: a condition's tag, or a class of constituents."""
        return {**self.conditions, **self.constituents}


@cache
def vocabulary() -> Vocabulary:
    """The vocabulary that comes with the program."""
    text = (own_folder("resources") / "vocabulary.toml").read_text(encoding="utf-8")
    kinds = tomllib.loads(text)
    words = TagWords(kinds.pop("labels"), kinds.pop("joined"))
    purposes = {action: _phrases(said) for action, said in kinds.pop("purposes").items()}
    return Vocabulary(**kinds, purposes=purposes, words=words)


def _phrases(said: str | list[str]) -> tuple[str, ...]:
    return (said,) if isinstance(said, str) else tuple(said)
