"""What a client is told of one remedy beyond what holds for its form."""

from __future__ import annotations

from collections.abc import Iterator

from sennight.domain.remedies.remedies import Remedy


def remedy_words(remedy: Remedy) -> tuple[str, ...]:
    """Lines about how this remedy is taken."""
    return tuple(_lines(remedy))


def _lines(remedy: Remedy) -> Iterator[str]:
    if remedy.stirred_into:
        yield f"Stir each dose into {remedy.stirred_into}."
    elif remedy.form.facts.has_spoon:
        yield "Stir each dose into water, yoghurt or porridge."
