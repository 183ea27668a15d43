"""A field for a day: typed in any usual way, or picked from a small calendar.

What was understood stands beneath the field in full, so that no short form is taken wrongly.
"""

from __future__ import annotations

from datetime import date
from functools import partial

from PySide6.QtCore import QPoint, QSize, Qt
from PySide6.QtGui import QIcon, QKeyEvent
from PySide6.QtWidgets import QLineEdit

from sennight.desktop.kit.forms import TypedField
from sennight.desktop.kit.icons import mark
from sennight.desktop.kit.month_popup import MonthPopup
from sennight.desktop.kit.reading import ReadingError, read_date
from sennight.desktop.kit.translating import translate
from sennight.domain.directions.plain_words import plain_date

LONGEST = date(2026, 9, 30)
"""No date is longer in words than those of September."""


class DateField(TypedField[date]):
    """A day; `past` where it cannot be one to come. Alt and Down, or F4, open the calendar."""

    def __init__(self, today: date, *, past: bool = False, placeholder: str = "") -> None:
        super().__init__(partial(read_date, today=today, past=past), placeholder=placeholder)
        self._today, self._past = today, past
        side = self.fontMetrics().height()
        picture = QIcon(mark("calendar", self.palette().placeholderText().color(), side))
        self.pick = self.addAction(picture, QLineEdit.ActionPosition.TrailingPosition)
        self.pick.setText(translate("DateField", "Pick a day"))
        self.pick.setToolTip(translate("DateField", "Pick a day (Alt+Down)"))
        self.pick.triggered.connect(self.open_calendar)
        self.popup: MonthPopup | None = None

    def set_day(self, day: date | None) -> None:
        """Write a day into the field."""
        self.setText(plain_date(day) if day else "")

    def minimumSizeHint(self) -> QSize:
        """Room for any date, and for the picture of the calendar."""
        metrics, least = self.fontMetrics(), super().minimumSizeHint()
        date_wide = metrics.horizontalAdvance(plain_date(LONGEST)) + metrics.height() * 3
        return QSize(max(least.width(), date_wide), least.height())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Open the calendar; everything else types."""
        is_alt_down = (
            event.key() == Qt.Key.Key_Down and event.modifiers() & Qt.KeyboardModifier.AltModifier
        )
        if is_alt_down or event.key() == Qt.Key.Key_F4:
            self.open_calendar()
        else:
            super().keyPressEvent(event)

    def open_calendar(self) -> None:
        """Show the month of what is typed, else of today; a day that is chosen is typed."""
        try:
            day = self.value() or self._today
        except ReadingError:
            day = self._today
        self.popup = MonthPopup(day, self._today, self, latest=self._today if self._past else None)
        self.popup.grid.chosen.connect(self._choose)
        self.popup.move(self.mapToGlobal(QPoint(0, self.height())))
        self.popup.show()
        self.popup.grid.setFocus(Qt.FocusReason.PopupFocusReason)

    def _choose(self, day: date) -> None:
        if self.popup is not None:
            self.popup.close()
        self.set_day(day)
        self.textEdited.emit(self.text())
        self.editingFinished.emit()
        self.setFocus(Qt.FocusReason.PopupFocusReason)
