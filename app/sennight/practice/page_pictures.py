"""Papers as pictures, to be looked at before they are given, and to be printed."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sennight.publish.pdf.pictures import PagePicture as PagePicture  # noqa: PLC0414 - for screens


def page_picture(pdf: bytes, number: int, *, dots_per_inch: float) -> PagePicture:
    """A page of a paper, counted from 0; only one thread at a time may draw."""
    from sennight.publish.pdf import pictures

    return pictures.page_picture(pdf, number, dots_per_inch=dots_per_inch)
