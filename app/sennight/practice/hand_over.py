"""To the phone in the room: a calendar file by a link that works once.

The window goes through here; what listens on the network is `sennight.handover`.
"""

from __future__ import annotations

from pathlib import Path

from sennight.handover.addresses import own_addresses
from sennight.handover.link import HandOverError, Link, LinkState, ServedFile
from sennight.handover.qr_code import Squares, qr_squares

MEDIA_TYPE = "text/calendar; charset=utf-8"
SERVED_NAME = "reminders.ics"
"""The file's name on the phone: the one that it was given here may name the client."""

__all__ = [
    "HandOverError",
    "Link",
    "LinkState",
    "Squares",
    "open_link",
    "own_addresses",
    "qr_squares",
]


def open_link(calendar: Path, address: str) -> Link:
    """A link to a calendar file on one of this machine's addresses; raises HandOverError."""
    try:
        content = calendar.read_bytes()
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise HandOverError(f"{calendar} cannot be read ({why}); save the files again") from error
    return Link(ServedFile(SERVED_NAME, MEDIA_TYPE, content), address)
