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
        "a corner of the sheet is missing, covered or merges with what lies beside it; take the "
        "whole sheet with its four black squares, with some space around it"
    )
    NO_BOXES = (
        "the boxes are not where they were printed: the sheet is too bent or the photo is "
        "blurred; lay the sheet flat and take it again from above"
    )
    TOO_SMALL = "the sheet is too small in the photo; move closer until it fills the picture"


class SheetError(Exception):
    """A photo that cannot be read."""

    def __init__(self, trouble: Trouble) -> None:
        super().__init__(trouble.value)
        self.trouble = trouble
