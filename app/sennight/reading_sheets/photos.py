"""Photos as grey pictures, the right way up as far as the camera knew."""

from __future__ import annotations

from io import BytesIO

import numpy as np
from pi_heif import register_heif_opener
from PIL import Image, ImageOps, UnidentifiedImageError

from sennight.reading_sheets.light import Grey
from sennight.reading_sheets.troubles import SheetError, Trouble

_MOST_PIXELS = 120_000_000
_LONGEST_SIDE = 4000
"""More than this adds nothing: ten dots a millimetre on A4 are enough."""


def grey_photo(content: bytes) -> Grey:
    """The photo in a JPEG, PNG or HEIC file; raises SheetError where it is none of these."""
    register_heif_opener()
    try:
        with Image.open(BytesIO(content), formats=("JPEG", "PNG", "HEIF")) as picture:
            if picture.width * picture.height > _MOST_PIXELS:
                raise SheetError(Trouble.TOO_LARGE)
            picture.draft("L", (_LONGEST_SIDE // 2, _LONGEST_SIDE // 2))
            upright = ImageOps.exif_transpose(picture.convert("L"))
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError) as error:
        raise SheetError(Trouble.NO_PICTURE) from error
    upright.thumbnail((_LONGEST_SIDE, _LONGEST_SIDE))
    return np.asarray(upright, dtype=np.uint8)


def grey_pixels(pixels: bytes, width: int, height: int, stride: int) -> Grey:
    """A picture given as rows of blue, green, red and a byte unused, from above."""
    picture = Image.frombuffer("RGB", (width, height), pixels, "raw", "BGRX", stride, 1)
    return np.asarray(picture.convert("L"), dtype=np.uint8)


def as_png(pixels: bytes, width: int, height: int) -> bytes:
    """Rows of grey, a byte a point, as a PNG file."""
    target = BytesIO()
    Image.frombuffer("L", (width, height), pixels, "raw", "L", 0, 1).save(target, "PNG")
    return target.getvalue()
