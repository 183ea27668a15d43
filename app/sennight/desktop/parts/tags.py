"""A tag of the vocabulary in words."""

from __future__ import annotations

from sennight.knowledge.vocabulary import vocabulary


def tag_words(tag: str) -> str:
    """A tag of the vocabulary as words: `peptic ulcer`, `SSRI antidepressants`."""
    return vocabulary().words.label(tag)
