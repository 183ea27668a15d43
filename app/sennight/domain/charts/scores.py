"""The chart of one measure: its ratings over time on the phases, with what matters and gates."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from sennight.domain.amounts import plain_number
from sennight.domain.charts.drawing import (
    Align,
    Box,
    Dot,
    Drawing,
    Ink,
    Lines,
    Shape,
    Stroke,
    Words,
)
from sennight.domain.charts.time_axis import (
    TimeAxis,
    grounds,
    phase_names,
    revision_flags,
    today_line,
    week_numbers,
)
from sennight.domain.courses.stretches import Layout
from sennight.domain.follow_up.gates import GateReading
from sennight.domain.follow_up.measures import NO_OWN, Measures
from sennight.domain.follow_up.progress import Progress
from sennight.domain.follow_up.progress_words import ratings_words

_FIGURE_HIGH, _FIGURE_WIDE = 0.6, 2.5
"""Half a figure’s height, and how far it may reach beside its dot, in sizes of text."""
DRAWN_WHOLE = 10
"""A scale up to here is drawn whole; of a longer one, what was rated and a tenth more."""


@dataclass(frozen=True, slots=True)
class Scale:
    """A measure's values from `bottom` (the lower) up to `top`, in the drawing's units."""

    low: int
    high: int
    top: float
    bottom: float

    def up(self, value: Fraction) -> float:
        """Where a value is; what is off the scale is brought to its ends."""
        within = min(max(value, Fraction(self.low)), Fraction(self.high))
        share = (within - self.low) / (self.high - self.low)
        return self.bottom - float(share) * (self.bottom - self.top)


@dataclass(frozen=True, slots=True)
class ScoreChart:
    """What a chart of a measure is drawn from: its ratings, its gates, the course and today."""

    progress: Progress
    gates: tuple[GateReading, ...]
    layout: Layout
    today: date
    measures: Measures = NO_OWN

    @property
    def ends(self) -> tuple[int, int]:
        """The least and the most that is drawn."""
        low, high = self.measures.scale(self.progress.id)
        if high > DRAWN_WHOLE:
            largest = max(score.value for score in self.progress.ratings)
            high = max(low + 1, int(-(-largest * 11 // 10)))
        return low, high


def charts_of(
    rated: Sequence[Progress],
    gates: Sequence[GateReading],
    layout: Layout,
    today: date,
    measures: Measures = NO_OWN,
) -> tuple[ScoreChart, ...]:
    """A chart for each measure, with the gates that wait for it."""
    return tuple(
        ScoreChart(
            each,
            tuple(gate for gate in gates if gate.gate.measure == each.id),
            layout,
            today,
            measures,
        )
        for each in rated
    )


def score_drawing(
    chart: ScoreChart, axis: TimeAxis, height: float, *, is_named: bool, is_numbered: bool
) -> Drawing:
    """Draw a chart; phases are named above it and weeks numbered beneath where that is wanted."""
    text = axis.text
    top = text * (1.5 if is_named else 0.5)
    bottom = height - text * (1.5 if is_numbered else 0.4)
    low, high = chart.ends
    scale = Scale(low, high, top, bottom)
    shapes: list[Shape] = [*grounds(axis, chart.layout, top, bottom)]
    shapes += _band(chart, axis, scale)
    shapes += _ends(axis, scale)
    shapes += _gates(chart, axis, scale)
    shapes += revision_flags(axis, chart.layout, top)
    shapes += today_line(axis, chart.today, top, bottom)
    shapes += _ratings(chart, axis, scale)
    if is_named:
        shapes += phase_names(axis, chart.layout, text * 0.7)
    if is_numbered:
        shapes += week_numbers(axis, chart.layout.course.start, height - text * 0.7)
    return Drawing(axis.right + text, height, tuple(shapes), ratings_words(chart.progress))


def _band(chart: ScoreChart, axis: TimeAxis, scale: Scale) -> Iterator[Shape]:
    """From the first rating, either way, as far as a change does not matter yet."""
    change = chart.progress.matters
    if change is None:
        return
    first = chart.progress.first
    high, low = scale.up(first + change), scale.up(first - change)
    left = axis.middle(chart.progress.ratings[0].day)
    yield Box(left, high, axis.right - left, low - high, Ink.BAND)
    for y in (high, low):
        yield Lines(((left, y), (axis.right, y)), Ink.QUIET, 0.7, Stroke.DOTTED)


def _ends(axis: TimeAxis, scale: Scale) -> Iterator[Shape]:
    """The scale's ends as lines, with their figures at the left."""
    for value, y in ((scale.high, scale.top), (scale.low, scale.bottom)):
        yield Lines(((axis.left, y), (axis.right, y)), Ink.HAIRLINE)
        x = axis.left - axis.text * 0.5
        yield Words(x, y, str(value), axis.text, Ink.QUIET, Align.END)


def _gates(chart: ScoreChart, axis: TimeAxis, scale: Scale) -> Iterator[Shape]:
    """The level at which each gate is met, over the days of its phase; beside it the figure."""
    for gate in chart.gates:
        level = gate.level
        if level is None or not gate.run.span.touches(axis.days):
            continue
        left, right = axis.room_of(gate.run.span)
        y = scale.up(level)
        yield Lines(((left, y), (right, y)), Ink.GATE, 1.4, Stroke.DASHED)
        word = "or less" if gate.gate.wants.wants_less else "or more"
        told = f"gate: {_short(level)} {word}"
        side = -1 if y - scale.top > axis.text * 1.2 else 1
        yield Words(
            right - axis.text * 0.4,
            y + side * axis.text * 0.7,
            told,
            axis.text,
            Ink.GATE,
            Align.END,
            right - left,
        )


def _short(level: Fraction) -> str:
    """A level to two decimals; it is only drawn beside the line that stands for it exactly."""
    return plain_number(Fraction(round(level * 100), 100))


def _ratings(chart: ScoreChart, axis: TimeAxis, scale: Scale) -> Iterator[Shape]:
    """The ratings, those in a flare-up hollow; the last with its figure."""
    text, ratings = axis.text, chart.progress.ratings
    points = [(axis.middle(score.day), scale.up(score.value)) for score in ratings]
    if len(points) > 1:
        yield Lines(tuple(points), Ink.INK, text / 7)
    flares = [run.span for run in chart.layout.flares]
    for score, (x, y) in zip(ratings, points, strict=True):
        in_flare = any(score.day in span for span in flares)
        yield Dot(x, y, text * 0.26, Ink.INK, is_hollow=in_flare)
    yield _last(chart, axis, scale, points[-1])


def _last(chart: ScoreChart, axis: TimeAxis, scale: Scale, at: tuple[float, float]) -> Shape:
    """The last rating's figure, above its dot where there is room, and clear of today's line.

    No gate's line goes through it: below, or further off, where one would.
    """
    (x, y), text = at, axis.text
    told = plain_number(chart.progress.ratings[-1].value)
    is_crossed = 0 <= axis.middle(chart.today) - x < text * 2.5 and x - text * 2 > axis.left
    align, shift = (Align.END, -0.2) if is_crossed else (Align.START, 0.4)
    lines = tuple(_gates_beside(chart, axis, scale, x))
    place = next(
        (
            place
            for place in _figure_places(y, scale, text)
            if all(abs(place - line) > text * _FIGURE_HIGH for line in lines)
        ),
        y - text * 0.9,
    )
    return Words(x + text * shift, place, told, text, align=align, is_strong=True)


def _figure_places(y: float, scale: Scale, text: float) -> tuple[float, ...]:
    """Where a dot's figure may stand, the best first: near it, then further off; on the scale."""
    side = 1 if y - scale.top <= text * 1.4 else -1
    near = (y + side * text * 0.9, y - side * text * 0.9)
    far = (y + side * text * 1.7, y - side * text * 1.7)
    return *near, *(place for place in far if scale.top < place < scale.bottom)


def _gates_beside(chart: ScoreChart, axis: TimeAxis, scale: Scale, x: float) -> Iterator[float]:
    """How high the lines of gates are that pass a figure at x, at either side of it."""
    reach = axis.text * _FIGURE_WIDE
    for gate in chart.gates:
        left, right = axis.room_of(gate.run.span)
        if gate.level is not None and left < x + reach and right > x - reach:
            yield scale.up(gate.level)
