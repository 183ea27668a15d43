"""Finding herbs by any of their names: English, Latin, those of pharmacopoeias, ids.

Case, accents, apostrophes, hyphens and blanks do not matter: “devils claw”, “Uva ursi”. One name
may belong to several herbs, as nettle to a leaf and a root: then all are given.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

_WORD = re.compile(r"[^\W_]+")
_APOSTROPHE = re.compile(r"['’`ʼ]")
_BRACKETS = re.compile(r"[()]")
_BETWEEN_NAMES = re.compile(r"\s*/\s*|\s*,\s*|;")


@dataclass(frozen=True, slots=True)
class Heading:
    """What a herb is called: enough to find it by, without reading its record."""

    id: str
    name: str
    latin: str = ""
    drug_name: str = ""
    also_called: tuple[str, ...] = ()

    @property
    def all_names(self) -> Iterator[str]:
        """Every name, the usual one first."""
        yield self.name
        yield from self.also_called
        yield self.id
        yield from latin_names(self.latin)
        yield from (written for written in (self.latin, self.drug_name) if written)


def latin_names(latin: str) -> Iterator[str]:
    """The species of a Latin name, without authors; synonyms in brackets and after a stroke too.

    A genus that is shortened to its letter is written out: “Salix spp. (S. alba L.)” gives
    “Salix alba”.
    """
    genus = ""
    for part in _BETWEEN_NAMES.split(_BRACKETS.sub(",", latin)):
        words = part.split()
        if len(words) < 2 or not words[1][:1].islower():
            continue
        shortened = len(words[0]) == 2 and words[0].endswith(".")
        if shortened and genus.startswith(words[0][0]):
            words[0] = genus
        genus = words[0]
        if words[1].rstrip(".") not in ("spp", "sp"):
            yield f"{words[0]} {words[1]}"


def name_key(name: str) -> str:
    """A name as it is compared."""
    whole = _APOSTROPHE.sub("", name).casefold()
    apart = unicodedata.normalize("NFKD", whole)
    plain = "".join(sign for sign in apart if not unicodedata.combining(sign))
    return "".join(_WORD.findall(plain))


class HerbNames:
    """All names of all herbs, made once and asked often."""

    def __init__(self, headings: Iterable[Heading]) -> None:
        self.known: list[str] = []
        self._ids: dict[str, dict[str, None]] = {}
        for heading in headings:
            self.known.append(heading.id)
            for name in heading.all_names:
                self._ids.setdefault(name_key(name), {})[heading.id] = None

    def and_of(self, headings: Iterable[Heading]) -> HerbNames:
        """These names and those of further herbs."""
        both = HerbNames(headings)
        both.known = list(dict.fromkeys([*self.known, *both.known]))
        for key, ids in self._ids.items():
            both._ids[key] = {**ids, **both._ids.get(key, {})}
        return both

    def ids(self, typed: str) -> tuple[str, ...]:
        """The herbs that a name stands for; none where no herb is called so."""
        return tuple(self._ids.get(name_key(typed), ()))


def as_names(herbs: Collection[str] | HerbNames) -> HerbNames:
    """Names, or ids that are the only names."""
    return (
        herbs
        if isinstance(herbs, HerbNames)
        else HerbNames(Heading(herb_id, herb_id) for herb_id in herbs)
    )


@lru_cache(maxsize=8)
def names_of(headings: tuple[Heading, ...]) -> HerbNames:
    """The names of these herbs; made once while they are the same."""
    return HerbNames(headings)
