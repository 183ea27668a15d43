"""Finding by name as it is typed: each word typed begins a word of the name, in any order.

Case, accents and apostrophes do not matter: `no mu` finds “Müller, Noor”, `devils` finds “Devil's
claw”.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from typing import TypeVar

Item = TypeVar("Item")

_WORD = re.compile(r"\w+")
_APOSTROPHE = re.compile(r"['’`]")


def plain(text: str) -> str:
    """Text without accents and apostrophes, and in one case."""
    joined = _APOSTROPHE.sub("", text)
    whole = unicodedata.normalize("NFKD", joined).casefold()  # a styled letter has a case within
    apart = unicodedata.normalize("NFKD", whole)
    return "".join(sign for sign in apart if not unicodedata.combining(sign))


def matches(typed: str, name: str) -> bool:
    """Whether a name fits what was typed; nothing typed fits every name."""
    return _begin(_words_of(typed), name)


def matching(typed: str, items: Iterable[Item], name: Callable[[Item], str]) -> Iterator[Item]:
    """The items whose names fit, in the order that they came in."""
    starts = _words_of(typed)
    return (item for item in items if _begin(starts, name(item)))


def _words_of(typed: str) -> list[str]:
    return _WORD.findall(plain(typed))


def _begin(starts: list[str], name: str) -> bool:
    """Whether each of these begins a word of a name. Thousands of names are asked at a letter."""
    if name.isascii() and "'" not in name and "`" not in name:
        text = name.lower()
    else:
        text = _kept_plain(name)
    if any(start not in text for start in starts):
        return False
    words = _WORD.findall(text)
    return all(any(word.startswith(start) for word in words) for start in starts)


@lru_cache(maxsize=20_000)
def _kept_plain(name: str) -> str:
    return plain(name)
