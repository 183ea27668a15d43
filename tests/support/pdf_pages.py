"""Reads printed pages back: every piece of text with its place, size and colour."""

from __future__ import annotations

from collections.abc import Iterator
from ctypes import c_float, c_uint
from dataclasses import dataclass
from io import BytesIO
from typing import Any

import pypdfium2 as pdfium  # type: ignore[import-untyped]
from pypdf import PdfReader
from pypdfium2 import raw


@dataclass(frozen=True)
class Run:
    """A run of text as it was shown: points from the page's lower left corner."""

    page: int
    text: str
    x: float
    y: float
    size: float
    colour: tuple[float, ...]
    font: str


def runs(data: bytes) -> list[Run]:
    """All runs of text, page by page, in the order in which they were drawn."""
    with pdfium.PdfDocument(data) as document:
        return [run for number, page in enumerate(document, 1) for run in _of_page(page, number)]


def _of_page(page: pdfium.PdfPage, number: int) -> Iterator[Run]:
    """The runs of a page; those within marks and feet keep an origin of their own."""
    words = page.get_textpage()
    for one in page.get_objects([raw.FPDF_PAGEOBJ_TEXT], max_depth=4, textpage=words):
        matrix = one.get_matrix()
        said = " ".join(one.extract().split())
        if said:
            size = one.get_font_size() * matrix.d
            font = one.get_font().get_base_name()
            yield Run(number, said, matrix.e, matrix.f, size, _colour(one), font)


def _colour(one: pdfium.PdfTextObj) -> tuple[float, ...]:
    parts = [c_uint() for _ in range(4)]
    assert raw.FPDFPageObj_GetFillColor(one.raw, *parts)
    return tuple(part.value / 255 for part in parts[:3])


def page_texts(data: bytes) -> list[str]:
    """The text of each page, every run of white space as one space."""
    with pdfium.PdfDocument(data) as document:
        return [" ".join(page.get_textpage().get_text_range().split()) for page in document]


def tags(data: bytes) -> list[tuple[str, str]]:
    """The tree of tags as a list, in reading order: tag and the words for a picture."""
    catalogue: Any = PdfReader(BytesIO(data)).trailer["/Root"]
    return list(_below(catalogue["/StructTreeRoot"]["/K"][0].get_object()))


def _below(element: Any) -> Iterator[tuple[str, str]]:  # noqa: ANN401 - the library's
    for kid in (kid.get_object() for kid in element["/K"]):
        if "/S" in kid:
            yield str(kid["/S"])[1:], str(kid.get("/Alt", ""))
            yield from _below(kid)


def contrast(one: tuple[float, ...], two: tuple[float, ...]) -> float:
    """WCAG 2.2 contrast ratio: (L1 + 0.05) ÷ (L2 + 0.05), L on linear sRGB."""
    high, low = sorted((_luminance(one), _luminance(two)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def _luminance(colour: tuple[float, ...]) -> float:
    red, green, blue = (_linear(c) for c in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    return float(channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4)


@dataclass(frozen=True)
class Rule:
    """A level line: its ends, height and thickness in points, from the lower left corner."""

    page: int
    left: float
    right: float
    y: float
    thickness: float


def level_rules(data: bytes) -> list[Rule]:
    """All level lines that are stroked on the pages themselves, page by page."""
    with pdfium.PdfDocument(data) as document:
        return [rule for number, page in enumerate(document, 1) for rule in _rules(page, number)]


def _rules(page: pdfium.PdfPage, number: int) -> Iterator[Rule]:
    for one in page.get_objects([raw.FPDF_PAGEOBJ_PATH], max_depth=1):
        thickness = c_float()
        assert raw.FPDFPageObj_GetStrokeWidth(one.raw, thickness)
        left, bottom, right, top = one.get_bounds()
        if top - bottom < 3 * thickness.value < right - left:
            yield Rule(number, left, right, (top + bottom) / 2, thickness.value)
