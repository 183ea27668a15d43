"""Photos as grey pictures, the right way up as far as the camera knew."""

from __future__ import annotations

from io import BytesIO

import numpy as np
from numpy.typing import NDArray
from pi_heif import register_heif_opener
from PIL import Image, ImageOps, UnidentifiedImageError

from sennight.reading_sheets.troubles import SheetError, Trouble

Grey = NDArray[np.uint8]
"""Rows of grey, 0 black to 255 white, from above."""
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
