"""Keeps the application in the look that is wanted: the system's or the user's."""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QFontDatabase
from PySide6.QtWidgets import QApplication

from sennight.desktop.kit.theme import BASE_POINTS, SCALES, Theme, install_theme, make_theme
from sennight.desktop.shell.settings import Scheme, Settings

LARGEST_SYSTEM_POINTS = 13.0


class Appearance(QObject):
    """The look in force; `changed` carries every new one, after it was applied."""

    changed = Signal(object)

    def __init__(self, app: QApplication, settings: Settings) -> None:
        super().__init__(app)
        self._app, self._settings = app, settings
        system = QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont).pointSizeF()
        self._points = min(max(BASE_POINTS, system), LARGEST_SYSTEM_POINTS)
        self.theme: Theme = self._wanted()
        install_theme(app, self.theme)
        app.styleHints().colorSchemeChanged.connect(self._refresh)

    def _wanted(self) -> Theme:
        scheme = self._settings.scheme
        if scheme is Scheme.SYSTEM:
            dark = self._app.styleHints().colorScheme() is Qt.ColorScheme.Dark
        else:
            dark = scheme is Scheme.DARK
        return make_theme(dark=dark, scale=self._settings.scale, points=self._points)

    def _refresh(self) -> None:
        self.theme = self._wanted()
        install_theme(self._app, self.theme)
        self.changed.emit(self.theme)

    @property
    def scheme(self) -> Scheme:
        """What was chosen: light, dark or as the system."""
        return self._settings.scheme

    def choose_scheme(self, scheme: Scheme) -> None:
        """Light, dark or as the system, from now on."""
        self._settings.scheme = scheme
        self._refresh()

    def choose_scale(self, scale: int) -> None:
        """A size of text, one of SCALES, from now on."""
        self._settings.scale = scale
        self._refresh()

    def step_scale(self, by: int) -> None:
        """The next larger (1) or smaller (-1) size of text; the ends stay."""
        at = SCALES.index(self._settings.scale) + by
        self.choose_scale(SCALES[min(max(at, 0), len(SCALES) - 1)])
