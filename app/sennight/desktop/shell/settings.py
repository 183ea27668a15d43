"""What the program remembers of its window between two runs; nothing about clients."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path

from PySide6.QtCore import QByteArray, QCoreApplication, QSettings, QStandardPaths

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

    @property
    def practice(self) -> Path | None:
        """The practice file that was opened last, None where it is the usual one."""
        return self._path("practice/file")

    @practice.setter
    def practice(self, path: Path | None) -> None:
        self._set_path("practice/file", path)

    @property
    def second_folder(self) -> Path | None:
        """The folder that each backup is copied to, None where none was chosen."""
        return self._path("practice/second-backups")

    @second_folder.setter
    def second_folder(self, folder: Path | None) -> None:
        self._set_path("practice/second-backups", folder)

    def _path(self, key: str) -> Path | None:
        value = self._store.value(key, "")
        return Path(value) if isinstance(value, str) and value.strip() else None

    def _set_path(self, key: str, path: Path | None) -> None:
        if path is None:
            self._store.remove(key)
        else:
            self._store.setValue(key, str(path))

    def flush(self) -> None:
        """Write what has changed to the file now."""
        self._store.sync()


NAME = "sennight"
"""The program's name in the paths of its folders."""


def settings_path() -> Path:
    """The settings file in the user's configuration folder."""
    return _own_folder(QStandardPaths.StandardLocation.AppConfigLocation) / "sennight.ini"


def usual_path() -> Path:
    """The practice file in the user's data folder, whether they are there or not."""
    return _own_folder(QStandardPaths.StandardLocation.AppDataLocation) / "practice.sennight"


def practice_path(settings: Settings) -> Path:
    """The practice file to open where none is named: the last one opened, or the usual one."""
    return settings.practice or usual_path()


def _own_folder(kind: QStandardPaths.StandardLocation) -> Path:
    QCoreApplication.setApplicationName(NAME)  # the folders carry it; no window is needed
    return Path(QStandardPaths.writableLocation(kind))
