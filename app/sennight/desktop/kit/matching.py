"""Finding by name as it is typed: each word typed begins a word of the name, in any order.

Case, accents and apostrophes do not matter: `no mu` finds “Müller, Noor”, `devils` finds “Devil's
claw”.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable
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
    words = _WORD.findall(plain(name))
    return all(
        any(word.startswith(start) for word in words) for start in _WORD.findall(plain(typed))
    )


def matching(typed: str, items: Iterable[Item], name: Callable[[Item], str]) -> tuple[Item, ...]:
    """The items whose names fit, in the order that they came in."""
    return tuple(item for item in items if matches(typed, name(item)))
