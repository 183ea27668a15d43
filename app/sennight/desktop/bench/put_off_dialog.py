"""Asks to which day something is put off."""

from __future__ import annotations

from datetime import date

from PySide6.QtWidgets import QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, TypedField, explained, read_field
from sennight.desktop.kit.reading import read_date
from sennight.domain.directions.plain_words import plain_day


class PutOffDialog(FormDialog):
    """Takes a day after today; `answer` is it."""

    def __init__(self, parent: QWidget | None, about: str, today: date) -> None:
        super().__init__(parent, self.tr("Put off"), do=self.tr("Put off"))
        self._today = today
        self.answer: date | None = None
        form = FieldForm()
        self.day = TypedField(lambda text: read_date(text, today))
        self._row = form.row(self.tr("To which day"), self.day, help_text=about)
        explained(self._row, self.day, plain_day)
        self._form = form
        self.set_body(form, columns=52, lines=9)

    def is_changed(self) -> bool:
        """Whether something was typed."""
        return bool(self.day.text().strip())

    def submit(self) -> None:
        """Take the day, where it is one to come."""
        self._form.clear_wrong()
        day = read_field(self._row, self.day)
        if day is None and not self.day.text().strip():
            self._row.wrong(self.tr("Enter a day, for example Monday or +2 weeks"))
        elif day is not None and day <= self._today:
            self._row.wrong(self.tr("Enter a day after today"))
        if self._form.to_first_wrong() or day is None:
            return
        self.answer = day
        self.accept()
