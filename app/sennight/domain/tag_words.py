"""Tags as people read them: a short label, and how it is joined to a herb in a sentence."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

NONE: Mapping[str, str] = MappingProxyType({})
_KEPT_LARGE = (
    "California",
    "Commission",
    "Health",
    "Iceland",
    "Jamaica",
    "Korean",
    "Oregon",
    "St",
)
"""First words that keep their capital within a sentence."""


@dataclass(frozen=True, slots=True)
class TagWords:
    """Labels of tags, and the phrases of those that “with” and the label do not fit."""

    labels: Mapping[str, str] = field(default_factory=lambda: NONE)
    joined: Mapping[str, str] = field(default_factory=lambda: NONE)

    def label(self, tag: str) -> str:
        """A tag as words: `peptic ulcer`, `SSRI antidepressants`."""
        return self.labels.get(tag) or tag.replace("-", " ")

    def phrase(self, tag: str) -> str:
        """A tag after a herb's name: `with gallstones`, `in pregnancy`."""
        return self.joined.get(tag) or f"with {self.label(tag)}"


def lower_first(text: str) -> str:
    """Words as they read within a sentence; names and abbreviations keep their capital."""
    first = text.split(" ", 1)[0]
    if first in _KEPT_LARGE or any(letter.isupper() for letter in first[1:]):
        return text
    return text[:1].lower() + text[1:]


def short_name(name: str) -> str:
    """A herb's name without what a list needs beside it: `Chamomile (German)` is chamomile."""
    return name.split(" (", 1)[0]


def upper_first(text: str) -> str:
    """Words as they read at the beginning of a sentence or line."""
    return text[:1].upper() + text[1:]
