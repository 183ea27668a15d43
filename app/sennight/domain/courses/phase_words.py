"""What a phase holds beside directions, in plain words for a client."""

from __future__ import annotations

from collections.abc import Mapping

from sennight.domain.courses.protocols import Advice, Ceiling, Line
from sennight.domain.day import ClientDay
from sennight.domain.directions.plain_words import listed, plain_timing, times_over

_ENDS = (".", "!", "?", "…")


def line_remarks(line: Line) -> tuple[str, ...]:
    """Where and how a line is used, a sentence each; none where nothing is said of it."""
    where = (f"Where: {_ended(line.site)}",) if line.site else ()
    return (*where, _sentence(line.note)) if line.note else where


def advice_words(advice: Advice, day: ClientDay) -> str:
    """Advice as a sentence, with when it is for: `Walk for 20 minutes: once a day, at lunch.`"""
    if advice.timing is None:
        return _sentence(advice.text)
    said = advice.text.rstrip(" .:;,")
    return f"{_sentence(said).removesuffix('.')}: {plain_timing(advice.timing, day)}."


def ceiling_words(ceiling: Ceiling, names: Mapping[str, str]) -> str:
    """A ceiling over remedies as a sentence; remedies by their names, or their ids."""
    remedies = [names.get(remedy, remedy) for remedy in ceiling.remedies]
    often = times_over(ceiling.most)
    if len(remedies) == 1:
        return f"{remedies[0]}: no more than {often} in a day."
    return f"{listed(remedies)}, all together: no more than {often} in a day."


def _sentence(text: str) -> str:
    return _ended(f"{text[:1].upper()}{text[1:]}")


def _ended(text: str) -> str:
    return text if text.endswith(_ENDS) else f"{text}."
