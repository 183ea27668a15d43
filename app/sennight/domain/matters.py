"""What needs attention: its kinds, by themselves, since a window begins with a list of them."""

from __future__ import annotations

from enum import StrEnum


class Matter(StrEnum):
    """What needs attention; the values are kept in the practice file."""

    RED_FLAG = "red flag"
    FINDING = "finding"
    FLARE = "flare"
    APPOINTMENT = "appointment"
    ORDER = "order"
    REVIEW = "review"
    DIARY = "diary"
    BEGIN = "begin"
    PHASE = "phase"
    PAUSE = "pause"
    RESUME = "resume"
    FLARE_END = "flare end"
    OFF = "off"
    BACK = "back"
    END = "end"
