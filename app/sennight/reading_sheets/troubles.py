"""Why a sheet cannot be read, and what to do about it."""

from __future__ import annotations

from enum import Enum


class Trouble(Enum):
    """A reason, in words for the person who took the photo."""

    NO_PICTURE = (
        "this is not a JPEG, PNG or HEIC picture or a PDF; save or export the photo as JPEG"
    )
    TOO_LARGE = "the picture is too large; take it with an ordinary camera setting"
    TOO_DARK = "the photo is too dark; take it again by a window or with a lamp"
    BLURRED = "the photo is blurred; hold the phone still and tap the sheet to make it sharp"
    NO_CODE = (
        "the square code at the upper right is not in the photo or is covered; take the whole "
        "sheet, flat, from above"
    )
    OTHER_SHEET = (
        "the sheet belongs to another course or to another version of the grid; give the "
        "diary.json "
        "that was made with this sheet"
    )
    CORNER = (
        "corners of the sheet are missing, covered or merge with what lies beside them, and the "
        "rest is not enough to go by; take the whole sheet with its four black squares, with some "
        "space around it"
    )
    NO_BOXES = (
        "many boxes are covered or not where they were printed: something lies on the sheet, "
        "it is too bent or the photo is blurred; lay the sheet flat and take it again from above"
    )
    TOO_SMALL = "the sheet is too small in the photo; move closer until it fills the picture"


class SheetError(Exception):
    """A photo that cannot be read."""

    def __init__(self, trouble: Trouble) -> None:
        super().__init__(trouble.value)
        self.trouble = trouble
