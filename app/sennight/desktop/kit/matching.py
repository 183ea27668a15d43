"""Finding by name as it is typed: each word typed begins a word of the name, in any order.

Case and accents do not matter: `no mu` finds “Müller, Noor”.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable
from typing import TypeVar

Item = TypeVar("Item")

_WORD = re.compile(r"\w+")


def plain(text: str) -> str:
    """Text without accents and in one case."""
    whole = unicodedata.normalize("NFKD", text).casefold()  # a styled letter has a case within
    apart = unicodedata.normalize("NFKD", whole)
    return "".join(sign for sign in apart if not unicodedata.combining(sign))


def matches(typed: str, name: str) -> bool:
    """Whether a name fits what was typed; nothing typed fits every name."""
    words = _WORD.findall(plain(name))
    return all(
        any(word.startswith(start) for word in words) for start in _WORD.findall(plain(typed))
    )


def matching(typed: str, items: Iterable[Item], name: Callable[[Item], str]) -> tuple[Item, ...]:
    """The items whose names fit, in the order that they came in."""
    return tuple(item for item in items if matches(typed, name(item)))
