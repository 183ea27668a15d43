"""The greatest possible day under a day's ceiling that several remedies share.

No more than four rubs a day, all rubs together: each rub may be used four times, but not both.
Which doses fill the day decides how much of a herb that comes to, so the greatest day is chosen
exactly, dose by dose. A client may leave a timed dose out and have another dose instead, so timed
doses take no room from others; but what is timed is never counted as less than it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sennight.domain.courses.protocols import Ceiling

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class Offer:
    """What a remedy may give in a day: so many doses, of which some are timed, each of so much.

    `ceilings` are those that it shares with other remedies.
    """

    remedy: str
    timed: int
    doses: int
    each: Fraction
    ceilings: tuple[Ceiling, ...] = ()

    def times(self, weight: Fraction) -> Offer:
        """The same with each dose counting so many times as much."""
        return replace(self, each=self.each * weight)


def shared_ceilings(ceilings: Iterable[Ceiling], remedy: str) -> tuple[Ceiling, ...]:
    """The ceilings that a remedy shares with others."""
    return tuple(c for c in ceilings if remedy in c.remedies and len(c.remedies) > 1)


def greatest_day(offers: Sequence[Offer]) -> Fraction:
    """The most that these offers come to in one day, every ceiling kept.

    Never less than the timed doses alone, even where these pass a ceiling.
    """
    bounded = _by_remedy(offers)
    free = sum((o.each * o.doses for o in bounded if not o.ceilings), ZERO)
    held = [offer for offer in bounded if offer.ceilings]
    if not held:
        return free
    timed = sum((offer.each * offer.timed for offer in held), ZERO)
    return free + max(timed, _best(held))


def _by_remedy(offers: Iterable[Offer]) -> list[Offer]:
    """Several herbs of one remedy come in the same doses, so they are one offer."""
    found: dict[tuple[object, ...], Offer] = {}
    for offer in offers:
        key = offer.remedy, offer.timed, offer.doses, offer.ceilings
        before = found.get(key)
        found[key] = replace(offer, each=offer.each + before.each) if before else offer
    return list(found.values())


def _best(offers: Sequence[Offer]) -> Fraction:
    """The greatest sum of doses that the ceilings leave room for.

    For each room that may be left the best sum is kept, offer by offer: every choice of doses is
    in it, and choices that leave the same room are told apart by their sums alone.
    """
    ceilings = tuple(dict.fromkeys(c for offer in offers for c in offer.ceilings))
    best = {tuple(ceiling.most for ceiling in ceilings): ZERO}
    for offer in offers:
        is_in = [ceiling in offer.ceilings for ceiling in ceilings]
        after: dict[tuple[int, ...], Fraction] = {}
        for room, amount in best.items():
            fits = min(left for left, counts in zip(room, is_in, strict=True) if counts)
            for doses in range(min(offer.doses, fits) + 1):
                rest = tuple(n - doses * counts for n, counts in zip(room, is_in, strict=True))
                after[rest] = max(after.get(rest, ZERO), amount + offer.each * doses)
        best = after
    return max(best.values())
