"""Names as they are compared: case, accents, British and American spellings, plurals.

Two spellings of one name fold to the same key; that no two different names do is what the tests
of the records see to. The former British names of medicines follow rules (ph for f, y for i, th
for t, oe and ae for e), which the change to international names of 1997 to 2004 laid down;
the names that changed altogether are in the records.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_APOSTROPHE = re.compile(r"['’`]")
_WORD = re.compile(r"[a-z0-9]+")
_FOLDS = (
    ("oe", "e"),
    ("ae", "e"),
    ("ph", "f"),
    ("th", "t"),
    ("ch", "c"),
    ("y", "i"),
    ("z", "s"),
)
_OUR = re.compile(r"our\b")
_TWICE = re.compile(r"([a-z])\1+")
_LEFT_OUT = frozenset(("a", "an", "the", "my", "some", "of", "for", "from", "to", "in", "on", "s"))
_TABLETS = frozenset(
    (
        "capsule",
        "cap",
        "drug",
        "med",
        "medication",
        "medicine",
        "pill",
        "tab",
        "tablet",
    )
)
_TABLET = "tablet"
_SHORTEST_PLURAL = 4
_ABBREVIATION = 5
"""Up to so many letters a word may be an abbreviation, in which each letter counts."""


def plain_words(text: str) -> tuple[str, ...]:
    """The words of a text, in small letters without accents and apostrophes."""
    whole = _APOSTROPHE.sub("", text).casefold()
    if not whole.isascii():
        apart = unicodedata.normalize("NFKD", whole)
        whole = "".join(sign for sign in apart if not unicodedata.combining(sign))
        whole = whole.replace("æ", "ae").replace("œ", "oe").replace("ø", "o")
    return tuple(_WORD.findall(whole))


@lru_cache(maxsize=8192)
def folded_word(word: str) -> str:
    """A plain word in the one spelling that all its spellings share."""
    if word.endswith("ies") and len(word) > _SHORTEST_PLURAL:
        word = word[:-3] + "y"
    elif word.endswith("s") and len(word) >= _SHORTEST_PLURAL and not word.endswith(("ss", "us")):
        word = word[:-1]
    if word in _TABLETS:
        return _TABLET
    for old, new in _FOLDS:
        word = word.replace(old, new)
    word = _OUR.sub("or", word)
    return _TWICE.sub(r"\1", word) if len(word) > _ABBREVIATION else word


def folded(words: tuple[str, ...]) -> tuple[str, ...]:
    """The plain words of a text as they are compared; those that say nothing are left out."""
    last = len(words) - 1  # the A of vitamin A and hepatitis A is no article
    telling = tuple(word for n, word in enumerate(words) if n == last or word not in _LEFT_OUT)
    if len(telling) == 1 and folded_word(telling[0]) == _TABLET:
        return telling  # “the pill” is something, and “the tablet” nothing
    return tuple(folded_word(word) for word in telling)
