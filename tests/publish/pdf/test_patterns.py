"""The patterns that tell dyes apart without colour, in charts and on the card."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from sennight.dyes import DYES
from sennight.publish.handout import marks
from sennight.publish.pdf import drawings


class Recorder:
    """A canvas that notes in which way lines go: up or down to the right, or straight up."""

    def __init__(self) -> None:
        self.ways: set[str] = set()

    def line(self, x: float, y: float, to_x: float, to_y: float) -> None:
        (left, low), (right, high) = sorted([(x, y), (to_x, to_y)])
        way = "up" if left == right else "rising" if high > low else "falling"
        self.ways.add(way)

    def circle(self, *_: float, stroke: int, fill: int) -> None:
        assert (stroke, fill) == (0, 1)
        self.ways.add("dot")


def in_chart(pattern: str, canvas: Any) -> None:  # noqa: ANN401 - stands for a canvas
    draw = drawings._PATTERNS.get(pattern)
    if draw is not None:
        draw(canvas, (0, 0, 30, 10))


def on_card(pattern: str, canvas: Any) -> None:  # noqa: ANN401
    marks._PATTERNS[pattern](canvas, 0, 0, 30, 10)


@pytest.mark.parametrize("draw", [in_chart, on_card])
def test_each_dye_has_a_pattern_that_looks_as_it_is_called(
    draw: Callable[[str, Recorder], None],
) -> None:
    seen = {}
    for dye in DYES:
        canvas = Recorder()
        draw(dye.pattern, canvas)
        seen[dye.pattern] = canvas.ways
    assert seen == {
        "plain": set(),
        "rising": {"rising"},
        "falling": {"falling"},
        "crossed": {"rising", "falling"},
        "bars": {"up"},
        "dots": {"dot"},
    }
