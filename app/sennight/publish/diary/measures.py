"""The sizes of a diary sheet, in millimetres from the paper's upper left corner."""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.lib.units import mm

from sennight.publish.pdf.style import PAPERS

MARK, EDGE = 9.0, 6.0
"""A corner mark's side, and how far it is from the paper's edges."""
CODE = 16.0
QUIET = 3.0
"""The white around the code (ISO/IEC 18004 asks for four squares)."""
LEFT = 18.0
"""Where text and boxes begin, beside the weeks' names."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """How large a sheet is set: boxes, the steps from one to the next, and type in points.

    Rows are as far apart as the page has room for, within their least and most height.
    """

    box: float
    least_row: float
    most_row: float
    least_column: float
    most_column: float
    group: float
    """The least width of a time of the day: two lines of type that read from below."""
    gap: float
    """Between two times of the day."""
    date: float
    """The width of a day's name."""
    change: float
    score: float
    week_gap: float
    most_weeks: int
    type: float
    leading: float
    heading: float


STANDARD = Sizes(
    box=6,
    least_row=6.4,
    most_row=7.4,
    least_column=6.8,
    most_column=12,
    group=10.6,
    gap=2.4,
    date=24,
    change=5.4,
    score=6.4,
    week_gap=0.6,
    most_weeks=4,
    type=12,
    leading=15,
    heading=18,
)
LARGE = Sizes(
    box=7.5,
    least_row=8.2,
    most_row=9.6,
    least_column=8.5,
    most_column=14,
    group=14,
    gap=2.2,
    date=34,
    change=7.8,
    score=8.2,
    week_gap=1.4,
    most_weeks=2,
    type=18,
    leading=20.5,
    heading=22,
)


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper, in millimetres, and how large it is set."""

    name: str
    width: float
    height: float
    sizes: Sizes

    @property
    def right(self) -> float:
        """Where text and boxes end."""
        return self.width - LEFT

    @property
    def code_left(self) -> float:
        """Where the code begins, beside the upper right mark."""
        return self.width - EDGE - MARK - QUIET - CODE

    @property
    def bottom(self) -> float:
        """Where boxes end, above the foot."""
        return self.height - EDGE - self.sizes.leading / mm - 2

    @property
    def marks(self) -> tuple[tuple[float, float], ...]:
        """The upper left corners of the marks: above left and right, below left and right."""
        across = (EDGE, self.width - EDGE - MARK)
        return tuple((x, y) for y in (EDGE, self.height - EDGE - MARK) for x in across)


def paper_of(name: str, *, large: bool = False) -> Paper:
    """A paper by its name, A4 or Letter; ValueError where we have none of that name."""
    if name not in PAPERS:
        raise ValueError(f"no paper size “{name}”; expected one of {', '.join(PAPERS)}")
    width, height = PAPERS[name]
    return Paper(name, round(width / mm, 2), round(height / mm, 2), LARGE if large else STANDARD)
