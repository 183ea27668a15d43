"""Finding what a practitioner means by a name: by its words, its spellings, a slip of the hand.

An exact name is all that is ever taken by itself. Everything else is an offer that somebody has
to choose: names that begin with what was typed, names that hold its words, names that it holds.
Only where none of these is there, one name that is a slip of the hand away is offered; where two
are equally near, neither is, since names of medicines that look alike mean different things.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import IntEnum
from typing import NamedTuple

from sennight.domain.client_facts.spelling import folded, folded_word, plain_words

MOST_OFFERS = 12
_SHORTEST = 2
_FIRST_LETTERS = 2
_ONE_SLIP, _TWO_SLIPS = 5, 10
"""From how many letters on one slip, or two, are looked past."""

_SALTS = frozenset(
    folded_word(word)
    for word in (
        "acetate",
        "besilate",
        "besylate",
        "bromide",
        "calcium",
        "carbonate",
        "chloride",
        "citrate",
        "dihydrate",
        "dipropionate",
        "fumarate",
        "furoate",
        "hcl",
        "hydrobromide",
        "hydrochloride",
        "maleate",
        "medoxomil",
        "mesilate",
        "nitrate",
        "phosphate",
        "potassium",
        "propionate",
        "sodium",
        "succinate",
        "sulfate",
        "tartrate",
        "trihydrate",
        "valerate",
    )
)
_SWALLOWED = frozenset(
    folded_word(word)
    for word in (
        "tablets",
        "oral",
        "solution",
        "suspension",
        "syrup",
        "liquid",
        "soluble",
        "dispersible",
        "effervescent",
        "gastro",
        "resistant",
        "enteric",
        "coated",
        "ec",
        "er",
        "mr",
        "pr",
        "sr",
        "xl",
        "la",
        "modified",
        "prolonged",
        "slow",
        "release",
    )
)
_SAYS_NO = frozenset(
    folded_word(word)
    for word in ("no", "not", "never", "without", "nil", "none", "family", "mother", "father")
) | frozenset(folded_word(word) for word in ("brother", "sister", "son", "daughter", "parents"))


_SAYS_LITTLE = frozenset(
    folded_word(word)
    for word in (
        "blood",
        "chronic",
        "complaint",
        "condition",
        "disease",
        "disorder",
        "illness",
        "known",
        "mild",
        "moderate",
        "problems",
        "severe",
        "syndrome",
        "treated",
        "trouble",
    )
)
"""Words that people and lists put beside the name of a condition, and that do not change which."""


class Match(IntEnum):
    """How well a name fits what was typed, the best first."""

    EXACT = 0
    BEGINS = 1
    WORDS = 2
    WITHIN = 3
    SLIP = 4


@dataclass(frozen=True, slots=True)
class Named:
    """Something that can be found: its tag, the names it has and how near it lies to hand.

    Of two that fit equally well the one with the lower `tier` is offered first.
    """

    tag: str
    names: tuple[str, ...]
    tier: int = 1


@dataclass(frozen=True, slots=True)
class Offer:
    """Something that may be meant, and the name of it that fits."""

    tag: str
    name: str
    match: Match


class _Name(NamedTuple):
    """One name as it is compared; `place` is where its owner stands among all."""

    text: str
    tag: str
    tier: int
    place: int
    plain: tuple[str, ...]
    folds: tuple[str, ...]
    key: str


class NameIndex:
    """All names of one kind, made once and then asked at every key."""

    def __init__(self, named: Iterable[Named]) -> None:
        self._names: list[_Name] = []
        self._exact: dict[str, _Name] = {}
        self._beginning: defaultdict[str, list[_Name]] = defaultdict(list)
        self._telling: defaultdict[frozenset[str], list[_Name]] = defaultdict(list)
        for place, owner in enumerate(named):
            for text in owner.names:
                self._add(text, owner, place)

    def _add(self, text: str, owner: Named, place: int) -> None:
        plain = plain_words(text)
        folds = folded(plain)
        name = _Name(text, owner.tag, owner.tier, place, plain, folds, "".join(folds))
        first = self._exact.setdefault(name.key, name)
        if first is not name and first.tag == owner.tag:
            return  # the same name in another spelling, or the tag itself
        self._names.append(name)
        self._telling[frozenset(name.folds) - _SAYS_LITTLE].append(name)
        for start in {word[:_FIRST_LETTERS] for word in (*plain, *name.folds)}:
            self._beginning[start].append(name)

    def exact(self, typed: str) -> str | None:
        """The tag that a name stands for; None where it is no name that is known.

        A salt, or the form of something swallowed, may follow the name of a medicine:
        “bisoprolol fumarate”, “ramipril capsules”.
        """
        named = self._exact_name(folded(plain_words(typed)))
        return named.tag if named else None

    def _exact_name(self, folds: tuple[str, ...]) -> _Name | None:
        named = self._exact.get("".join(folds))
        while named is None and len(folds) > 1 and folds[-1] in _SALTS | _SWALLOWED:
            folds = folds[:-1]
            named = self._exact.get("".join(folds))
        return named

    def offers(self, typed: str, most: int = MOST_OFFERS) -> tuple[Offer, ...]:
        """What may be meant, the likeliest first; nothing where nothing fits."""
        plain = plain_words(typed)
        folds = folded(plain)
        exact = self._exact_name(folds)
        unmeant = len("".join(plain)) < _SHORTEST or _SAYS_NO.intersection(folds)
        if unmeant and exact is None:
            return ()
        best: dict[str, tuple[tuple[int, ...], Offer]] = {}
        if exact is not None:
            best[exact.tag] = ((-1,), Offer(exact.tag, exact.text, Match.EXACT))
        for name, match in self._fitting(plain, folds):
            if exact is not None and not set(folds) <= set(name.folds):
                continue
            length = len(name.text) * (-1 if match is Match.WITHIN else 1)
            rank = (match, name.tier, length, name.place)
            if name.tag not in best or rank < best[name.tag][0]:
                best[name.tag] = (rank, Offer(name.tag, name.text, match))
        if not best:
            best = self._telling_same(folds) or self._slips("".join(folds))
        return tuple(offer for _, offer in sorted(best.values(), key=lambda b: b[0]))[:most]

    def _fitting(
        self, plain: tuple[str, ...], folds: tuple[str, ...]
    ) -> Iterator[tuple[_Name, Match]]:
        """Names that begin with, hold or are held by the words typed."""
        starts = {word[:_FIRST_LETTERS] for word in (*plain, *folds)}
        seen: set[int] = set()
        for start in starts:
            for name in self._beginning.get(start, ()):
                if id(name) not in seen:
                    seen.add(id(name))
                    match = _match(name, plain, folds)
                    if match is not None:
                        yield name, match

    def _telling_same(self, folds: tuple[str, ...]) -> dict[str, tuple[tuple[int, ...], Offer]]:
        """Names of the same words, but for those that do not change which condition is meant."""
        telling = frozenset(folds) - _SAYS_LITTLE
        names = self._telling.get(telling, ()) if telling else ()
        return {
            name.tag: (
                (Match.WITHIN, name.tier, name.place),
                Offer(name.tag, name.text, Match.WITHIN),
            )
            for name in names
        }

    def _slips(self, typed: str) -> dict[str, tuple[tuple[int, ...], Offer]]:
        """The one owner of a name that is nearest, a slip or two away; none if two are."""
        allowed = (len(typed) >= _ONE_SLIP) + (len(typed) >= _TWO_SLIPS)
        nearest: dict[str, _Name] = {}
        for name in self._names if allowed else ():
            key = name.key
            if abs(len(key) - len(typed)) > allowed or key[:1] != typed[:1]:
                continue
            slips = slips_between(typed, key, allowed)
            if slips < allowed:
                allowed, nearest = slips, {}
            if slips <= allowed:
                nearest.setdefault(name.tag, name)
        if len(nearest) != 1:
            return {}
        ((tag, name),) = nearest.items()
        return {tag: ((Match.SLIP,), Offer(tag, name.text, Match.SLIP))}


def _match(name: _Name, plain: tuple[str, ...], folds: tuple[str, ...]) -> Match | None:
    """How a name fits what was typed, were it no exact name."""
    if _begins(name.plain, plain) or _begins(name.folds, folds):
        return Match.BEGINS
    if _holds(name.plain, plain) or _holds(name.folds, folds):
        return Match.WORDS
    longer = len(folds) > len(name.folds) and len(name.key) > _FIRST_LETTERS
    if longer and _is_within(name.folds, folds):
        return Match.WITHIN
    return None


def _begins(words: tuple[str, ...], typed: tuple[str, ...]) -> bool:
    """Whether words begin with those typed, the last of which may be unfinished."""
    if len(typed) > len(words):
        return False
    last = len(typed) - 1
    return words[:last] == typed[:last] and words[last].startswith(typed[last])


def _holds(words: tuple[str, ...], typed: tuple[str, ...]) -> bool:
    """Whether each word typed begins another word, in any order."""
    left = list(words)
    for start in sorted(typed, key=len, reverse=True):
        fitting = next((word for word in left if word.startswith(start)), None)
        if fitting is None:
            return False
        left.remove(fitting)
    return True


def _is_within(words: tuple[str, ...], typed: tuple[str, ...]) -> bool:
    """Whether words stand next to each other within those typed."""
    size = len(words)
    return any(typed[n : n + size] == words for n in range(len(typed) - size + 1))


def slips_between(typed: str, name: str, most: int) -> int:
    """How many letters were left out, put in, mistaken or swapped; `most` + 1 if more than most.

    The distance of Damerau and Levenshtein in its restricted form (optimal string alignment).
    """
    if len(set(typed) ^ set(name)) > 2 * most:
        return most + 1
    before: list[int] = []
    row = list(range(len(name) + 1))
    for n, letter in enumerate(typed, start=1):
        above, before, row = before, row, [n]
        for m, other in enumerate(name, start=1):
            least = min(before[m] + 1, row[m - 1] + 1, before[m - 1] + (letter != other))
            if n > 1 < m and letter == name[m - 2] and typed[n - 2] == other:
                least = min(least, above[m - 2] + 1)
            row.append(least)
        if min(row) > most:
            return most + 1
    return min(row[-1], most + 1)
