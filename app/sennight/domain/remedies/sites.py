"""Places on the body that something is rubbed into, and what is said of each.

A line's site is the practitioner's own words, *right knee only*; the places that they name are
looked up here. Words that name none are kept and say nothing more.
"""

from __future__ import annotations

import re
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Site:
    """A place: its name, other words for it, and whether what hurts there lies deep."""

    name: str
    others: tuple[str, ...] = ()
    is_deep: bool = False
    is_delicate: bool = False
    """Thin skin or near the eyes and the mouth: weaker mixtures, and none near the eyes."""


SITES = (
    Site("fingers", ("finger", "knuckle", "knuckles")),
    Site("thumb", ("thumbs", "base of the thumb")),
    Site("hand", ("hands",)),
    Site("wrist", ("wrists",)),
    Site("elbow", ("elbows",)),
    Site("shoulder", ("shoulders",)),
    Site("neck"),
    Site("upper back"),
    Site("low back", ("lower back", "small of the back", "lumbar spine", "spine"), is_deep=True),
    Site("hip", ("hips",), is_deep=True),
    Site("groin", is_delicate=True),
    Site("thigh", ("thighs",)),
    Site("knee", ("knees",)),
    Site("calf", ("calves",)),
    Site("ankle", ("ankles",)),
    Site("heel", ("heels",)),
    Site("foot", ("feet",)),
    Site("toes", ("toe",)),
    Site("jaw"),
    Site("face", ("cheek", "cheeks", "forehead", "temples"), is_delicate=True),
    Site("chest"),
    Site("belly", ("abdomen", "stomach")),
)
"""The places that have something to say, or are usual in joint complaints (common practice)."""

LITTLE_GETS_THROUGH = (
    "The joint lies deep, so little of what is rubbed in gets through to it. Expect warmth and "
    "ease of the muscles above it"
)
# The guideline on osteoarthritis of the American College of Rheumatology and Arthritis Foundation
# of 2019 says so of the hip (from memory); of the low back: common practice.
DEEP_SOURCE = "ACR and Arthritis Foundation, osteoarthritis guideline 2019 (not yet checked)"

_PLACES = {word: site for site in SITES for word in (site.name, *site.others)}
_NAMED = re.compile(rf"\b(?:{'|'.join(sorted(_PLACES, key=len, reverse=True))})\b", re.IGNORECASE)


def sites_named(words: str) -> tuple[Site, ...]:
    """The places that a line's words name, in their order, each once."""
    found = (_PLACES[match[0].lower()] for match in _NAMED.finditer(" ".join(words.split())))
    return tuple(dict.fromkeys(found))


def is_deep(words: str) -> bool:
    """Whether one of the places named lies deep."""
    return any(site.is_deep for site in sites_named(words))


def is_delicate(words: str) -> bool:
    """Whether one of the places named has delicate skin."""
    return any(site.is_delicate for site in sites_named(words))
