"""What the program remembers of its window between two runs; nothing about clients."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings, QStandardPaths

from sennight.desktop.kit.theme import SCALES


class Scheme(StrEnum):
    """Which theme is wanted."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"


class Settings:
    """The settings file: an ini file with the keys named here, each with its default.

    A value that no longer makes sense, after a hand edit for instance, reads as the default.
    """

    def __init__(self, path: Path) -> None:
        self._store = QSettings(str(path), QSettings.Format.IniFormat)

    @property
    def scheme(self) -> Scheme:
        """Light, dark, or as the system."""
        value = str(self._store.value("look/scheme", Scheme.SYSTEM.value))
        return Scheme(value) if value in list(Scheme) else Scheme.SYSTEM

    @scheme.setter
    def scheme(self, scheme: Scheme) -> None:
        self._store.setValue("look/scheme", scheme.value)

    @property
    def scale(self) -> int:
        """The size of text in percent: one of SCALES."""
        value = str(self._store.value("look/scale", SCALES[0]))
        return int(value) if value in map(str, SCALES) else SCALES[0]

    @scale.setter
    def scale(self, scale: int) -> None:
        self._store.setValue("look/scale", scale)

    @property
    def geometry(self) -> QByteArray:
        """Where the window was and how large; empty before the first run ends."""
        value = self._store.value("window/geometry")
        return value if isinstance(value, QByteArray) else QByteArray()

    @geometry.setter
    def geometry(self, geometry: QByteArray) -> None:
        self._store.setValue("window/geometry", geometry)

    def flush(self) -> None:
        """Write what has changed to the file now."""
        self._store.sync()


def settings_path() -> Path:
    """The settings file in the user's configuration folder."""
    kind = QStandardPaths.StandardLocation.AppConfigLocation
    return Path(QStandardPaths.writableLocation(kind)) / "sennight.ini"
