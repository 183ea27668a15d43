"""The time zone that this machine is set to."""

from __future__ import annotations

import os
from pathlib import Path
from zoneinfo import available_timezones

_LOCALTIME = Path("/etc/localtime")


def machine_zone() -> str | None:
    """The machine's zone as an IANA name; None where it cannot be told, as on Windows.

    TZ goes first, as it does for the C library; then what /etc/localtime points to.
    """
    known = available_timezones()
    named = os.environ.get("TZ", "").removeprefix(":")
    if named:
        return named if named in known else None
    parts = _LOCALTIME.resolve().parts
    if "zoneinfo" not in parts:
        return None
    zone = "/".join(parts[parts.index("zoneinfo") + 1 :])
    return zone if zone in known else None
