"""Saves that do not wait until the disk has them.

What waiting guards against is a loss of power, which no test brings about; a process that is
killed loses nothing either way. Tests save thousands of times.
"""

from __future__ import annotations

from sennight.store import connecting

AS_SHIPPED = connecting.SYNCHRONOUS
"""What the program itself asks of SQLite."""


def wait_for_no_disk() -> None:
    """From now on, in every practice file that this process opens."""
    connecting.SYNCHRONOUS = "OFF"
