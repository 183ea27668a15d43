"""A course as it would be, drawn beneath the same course as it is: its phases and flares."""

from __future__ import annotations

from collections.abc import Iterator

from sennight.domain.charts.drawing import Align, Box, Drawing, Ink, Shape, Stroke, Words
from sennight.domain.charts.time_axis import TimeAxis
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.courses.plan import PhaseRun
from sennight.domain.courses.stretches import Layout
from sennight.domain.directions.plain_words import listed, plain_date

BAND = 1.5
"""The height of a band, in sizes of text."""


def ghost_height(text: float) -> float:
    """How high it is drawn: a band for now, and one for then."""
    return text * (BAND * 2 + 0.4)


def ghost_drawing(now: Layout, then: Layout, axis: TimeAxis) -> Drawing:
    """The phases as they are, filled, and beneath them as they would be, in dashes."""
    text, height = axis.text, axis.text * BAND
    shapes = [
        Words(axis.left - text * 0.3, height / 2, "now", text, Ink.QUIET, Align.END),
        Words(axis.left - text * 0.3, height * 1.6, "then", text, Ink.QUIET, Align.END),
        *_band(axis, now, 0, height, is_ghost=False),
        *_band(axis, then, height + text * 0.2, height, is_ghost=True),
    ]
    words = f"Now: {_words(now)}. Then: {_words(then)}."
    return Drawing(axis.right + text, ghost_height(text), tuple(shapes), words)


def _band(
    axis: TimeAxis, layout: Layout, top: float, height: float, *, is_ghost: bool
) -> Iterator[Shape]:
    for n, run in enumerate(layout.phases):
        if run.span.touches(axis.days):
            left, right = axis.room_of(run.span)
            if is_ghost:
                yield Box(left, top, right - left, height, None, Ink.INK, Stroke.DASHED)
            else:
                yield Box(left, top, right - left, height, Ink.GROUND_TOO if n % 2 else Ink.GROUND)
            gap = axis.text * 0.4
            room = right - left - gap
            name = phase_title(run.phase.id)
            yield Words(left + gap, top + height / 2, name, axis.text, Ink.QUIET, room=room)
    for run in layout.flares:
        if run.span.touches(axis.days):
            left, right = axis.room_of(run.span)
            yield Box(left, top, right - left, height, Ink.FLARE_GROUND, Ink.FLARE, Stroke.DASHED)


def _words(layout: Layout) -> str:
    return listed([_run_words(run) for run in (*layout.phases, *layout.flares)]) or "nothing"


def _run_words(run: PhaseRun) -> str:
    return f"{phase_title(run.phase.id)} until {plain_date(run.span.last)}"
