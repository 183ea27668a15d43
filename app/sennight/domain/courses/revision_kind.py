"""The names of the kinds of revision."""

from __future__ import annotations

from enum import StrEnum


class RevisionKind(StrEnum):
    """The kinds of revision, by the names that course files and practice files know them by."""

    EXTEND = "extend"
    ADVANCE = "advance"
    PAUSE = "pause"
    FLARE = "flare"
    REDIRECT = "redirect"
    STOP = "stop"
    END = "end"
    JOIN = "join"
    REFORMULATE = "reformulate"
    STAY = "stay"
