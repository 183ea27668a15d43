"""Whether the system asks that nothing moves: read once, when the window is there.

Windows and macOS have a setting for it. On Linux the desktop's portal is asked, which answers for
GNOME and its like; what GTK and KDE keep in files stands for the rest. Who says nothing has
nothing against motion.
"""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from sennight.desktop.kit.motion import allow_motion

if TYPE_CHECKING:
    from PySide6.QtDBus import QDBusPendingCallWatcher

PORTAL = ("org.freedesktop.portal.Desktop", "/org/freedesktop/portal/desktop")
SETTINGS = "org.freedesktop.portal.Settings"

ANSWER_MS = 300
"""After so long without an answer the portal is taken not to be there."""

PORTAL_ASKS = (
    ("org.freedesktop.appearance", "reduced-motion", 1),
    ("org.gnome.desktop.interface", "enable-animations", False),
)
"""What is asked of the portal, and the answer that stands for no motion."""

FILE_ASKS = (
    ("gtk-4.0/settings.ini", "Settings", "gtk-enable-animations", ("0", "false")),
    ("gtk-3.0/settings.ini", "Settings", "gtk-enable-animations", ("0", "false")),
    ("kdeglobals", "KDE", "animationdurationfactor", ("0",)),
)
"""A file of settings, its section and key, and what stands there for no motion."""

_MOST_WRAPPED = 4
"""So often a value may be wrapped."""

_CLIENT_AREA_ANIMATION = 0x1042
"""SPI_GETCLIENTAREAANIMATION of Windows."""


class MotionWish(QObject):
    """Lets things move, once it is known that the system does not ask for rest.

    Nothing waits for the portal's answer: until then nothing moves.
    """

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._asks = list(PORTAL_ASKS)

    def read(self) -> None:
        """Ask the system; things move from the answer on."""
        if sys.platform == "win32":
            allow_motion(is_allowed=not _windows_asks())
        elif sys.platform == "darwin":
            allow_motion(is_allowed=not mac_asks(Path.home()))
        elif not any(file_asks(_config_folder())):
            self._ask_portal()

    def _ask_portal(self) -> None:
        # Not with the window: nothing else needs the bus.
        from PySide6 import QtDBus  # noqa: PLC0415

        bus = QtDBus.QDBusConnection.sessionBus()
        if not self._asks or not bus.isConnected():
            allow_motion(is_allowed=True)
            return
        namespace, key, rest = self._asks.pop(0)
        call = QtDBus.QDBusMessage.createMethodCall(*PORTAL, SETTINGS, "Read")
        call.setArguments([namespace, key])
        watcher = QtDBus.QDBusPendingCallWatcher(bus.asyncCall(call, ANSWER_MS), self)
        watcher.finished.connect(lambda: self._answered(watcher, rest))

    def _answered(self, watcher: QDBusPendingCallWatcher, rest: object) -> None:
        """Ask the next, unless this one asks for rest; a refusal asks for nothing."""
        watcher.deleteLater()
        if watcher.isError() or innermost(watcher.reply().arguments()) != rest:
            self._ask_portal()


def _windows_asks() -> bool:  # pragma: no cover - there alone
    moves = ctypes.c_int(1)
    library = getattr(ctypes, "windll").user32  # noqa: B009 - which other systems have not
    library.SystemParametersInfoW(_CLIENT_AREA_ANIMATION, 0, ctypes.byref(moves), 0)
    return not moves.value


def mac_asks(home: Path) -> bool:
    """Whether the settings of macOS in a home folder ask for less motion."""
    import plistlib  # noqa: PLC0415 - no other system needs it

    kept = home / "Library" / "Preferences" / "com.apple.universalaccess.plist"
    try:
        values = plistlib.loads(kept.read_bytes())
    except (OSError, plistlib.InvalidFileException):
        return False
    return isinstance(values, dict) and bool(values.get("reduceMotion"))


def _config_folder() -> Path:
    return Path(os.environ.get("XDG_CONFIG_HOME") or Path.home() / ".config")


def file_asks(folder: Path) -> Iterator[bool]:
    """For each file of settings in a folder, whether it asks for no motion."""
    from configparser import ConfigParser, Error  # noqa: PLC0415 - not before the window

    for name, section, key, wanted in FILE_ASKS:
        settings = ConfigParser(interpolation=None, strict=False)
        try:
            settings.read(folder / name, encoding="utf-8")
        except (OSError, UnicodeDecodeError, Error):
            continue
        yield settings.get(section, key, fallback="").strip().lower() in wanted


def innermost(arguments: list[object]) -> object:
    """The value of the portal's answer, which it wraps once or twice; None where it has none."""
    value = arguments[0] if arguments else None
    for _ in range(_MOST_WRAPPED):
        unwrap = getattr(value, "variant", None) or getattr(value, "asVariant", None)
        value = unwrap() if unwrap else value
    return value
