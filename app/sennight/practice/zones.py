"""The time zone that this machine is set to, and how old the rules of zones are."""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path
from zoneinfo import available_timezones

import tzdata

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


def zone_data_notice(today: date, version: str = tzdata.IANA_VERSION) -> str:
    """What to say of zone rules that are more than a year old; empty where they are not.

    `version` is the year of their release with a letter, such as 2026f, so a year is counted
    from the end of that one.
    """
    year = int(version[:4])
    if today < date(year + 2, 1, 1):
        return ""
    return (
        f"the time zone rules are of {year}: where clocks have been changed by law since, "
        "reminders may be an hour off; install a newer version of the program"
    )
