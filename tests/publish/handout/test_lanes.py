"""One remedy on one day of the sheet of weeks: all that is drawn stays in its cell."""

from __future__ import annotations

from ctypes import c_float
from io import BytesIO
from itertools import pairwise

import pypdfium2 as pdfium  # type: ignore[import-untyped]
import pytest
from pypdfium2 import raw
from reportlab.pdfgen.canvas import Canvas

from sennight.domain.schedule.weeks import RemedyMark, State
from sennight.publish.handout.lanes import MOST_BOXES, Box, draw_lane
from sennight.publish.pdf.typeface import register_faces

CELL = Box(100, 200, 72, 16)
OUTLINE = 0.7


def drawn(mark: RemedyMark, cell: Box = CELL) -> list[tuple[float, float]]:
    """Left and right of each box to tick, from left to right; with its outline in the cell."""
    register_faces()
    buffer = BytesIO()
    canvas = Canvas(buffer)
    draw_lane(canvas, mark, cell)
    canvas.save()
    boxes = []
    with pdfium.PdfDocument(buffer.getvalue()) as document:
        for path in document[0].get_objects([raw.FPDF_PAGEOBJ_PATH], max_depth=1):
            thickness = c_float()
            assert raw.FPDFPageObj_GetStrokeWidth(path.raw, thickness)
            left, _, right, _ = path.get_bounds()
            if thickness.value == pytest.approx(OUTLINE):
                assert cell.x <= left < right <= cell.x + cell.width
                boxes.append((left + thickness.value, right - thickness.value))
    return sorted(boxes)


@pytest.mark.parametrize("doses", range(1, MOST_BOXES + 1))
@pytest.mark.parametrize("width", [60, 72, 90])
def test_a_box_for_each_dose_stands_in_the_days_cell(doses: int, width: float) -> None:
    boxes = drawn(RemedyMark(0, "t1", State.TAKEN, doses), Box(100, 200, width, 16))
    assert len(boxes) == doses
    assert all(one[1] < two[0] for one, two in pairwise(boxes))


def test_many_doses_have_one_box_with_their_number() -> None:
    assert len(drawn(RemedyMark(0, "t1", State.TAKEN, MOST_BOXES + 1))) == 1
