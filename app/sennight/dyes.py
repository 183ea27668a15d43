"""The colours of the old plant dyes, shared by screen and print.

Each remedy of a course takes the next dye in order; a pattern and a letter go with it, so
that colour is never the only sign.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Dye:
    """A colour for light and for dark ground, and the pattern that goes with it."""

    name: str
    light: str
    dark: str
    pattern: str


PAPER = Dye("paper", "#FBF8F1", "#1E2422", "plain")
INK = Dye("ink", "#26302B", "#ECE7DB", "plain")
SLATE = Dye("slate", "#56615C", "#A7B2AC", "plain")

DYES = (
    Dye("woad", "#2F5D8A", "#86B3DE", "plain"),
    Dye("lichen", "#4F6F3A", "#A5C987", "falling"),
    Dye("orchil", "#7A4378", "#D3A0D0", "bars"),
    Dye("walnut", "#6B4A32", "#CDA483", "crossed"),
    Dye("weld", "#8A6D00", "#D9B64A", "dots"),
    Dye("madder", "#A23B36", "#EE938B", "rising"),
)
"""Weld and madder come last: cautions, and what is to be avoided, are written in them."""


def dye_of(index: int) -> Dye:
    """The dye of the remedy at a place in its course, counted from 0; they come round again."""
    return DYES[index % len(DYES)]


@dataclass(frozen=True, slots=True)
class ChartColour:
    """What a chart draws one of its inks with, on paper, in the dark and in greys alone."""

    light: str
    dark: str
    grey: str


CHART_COLOURS = {
    "paper": ChartColour("#FBF8F1", "#1E2422", "#FFFFFF"),
    "ground": ChartColour("#F2EFE6", "#272E2B", "#F3F3F3"),
    "ground too": ChartColour("#E8E5DB", "#313936", "#E6E6E6"),
    "flare": ChartColour("#A23B36", "#EE938B", "#3A3A3A"),
    "flare ground": ChartColour("#F3DFD6", "#45302E", "#DCDCDC"),
    "band": ChartColour("#D9DED3", "#3F4B45", "#D2D2D2"),
    "hairline": ChartColour("#A9B0AA", "#5C6863", "#A0A0A0"),
    "quiet": ChartColour("#56615C", "#A7B2AC", "#505050"),
    "ink": ChartColour("#26302B", "#ECE7DB", "#101010"),
    "gate": ChartColour("#4F6F3A", "#A5C987", "#2A2A2A"),
    "today": ChartColour("#A23B36", "#EE938B", "#3A3A3A"),
    "taken": ChartColour("#56615C", "#A7B2AC", "#444444"),
}
"""By the names of the charts' inks; lines differ in their strokes too, and in greys by those."""
GREY_DYE = "#454545"
"""All dyes in greys: their patterns and letters tell them apart."""
