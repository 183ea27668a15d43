"""What else the client rates: the fields by which a measure is added to the grid of scores."""

from __future__ import annotations

from enum import Enum
from fractions import Fraction
from typing import assert_never

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from sennight.desktop.course.diary.scores_model import ScoresModel, number_in
from sennight.desktop.kit.drafts import Fields
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button
from sennight.domain.follow_up.measures import Better, Measure

MOST_LETTERS = 60
"""Of the name of a measure."""
MOST_OF_SOURCE = 200


class Kind(Enum):
    """What can be added."""

    ACTIVITY = "activity"
    RATING = "rating"
    FIGURE = "figure"


_KINDS: tuple[tuple[Kind, Better], ...] = (
    (Kind.ACTIVITY, Better.MORE),
    (Kind.RATING, Better.LESS),
    (Kind.RATING, Better.MORE),
    (Kind.FIGURE, Better.LESS),
    (Kind.FIGURE, Better.MORE),
)


def _words(kind: Kind, better: Better) -> str:
    match kind:
        case Kind.ACTIVITY:
            return translate("NewMeasure", "An activity, 0 to 10")
        case Kind.RATING if better is Better.LESS:
            return translate("NewMeasure", "A rating, 0 to 10, lower is better")
        case Kind.RATING:
            return translate("NewMeasure", "A rating, 0 to 10, higher is better")
        case Kind.FIGURE if better is Better.LESS:
            return translate("NewMeasure", "A figure, lower is better")
        case Kind.FIGURE:
            return translate("NewMeasure", "A figure, higher is better")
        case _:
            assert_never(kind)


class NewMeasure(QWidget):
    """Fields under the grid, in two lines but for an activity; `added` says that a column came."""

    added = Signal()
    refused = Signal(str)

    def __init__(self, model: ScoresModel) -> None:
        super().__init__()
        self._model = model
        self.kind, self.called = QComboBox(), QLineEdit()
        self.unit, self.high, self.matters = QLineEdit(), QLineEdit(), QLineEdit()
        self.source = QLineEdit()
        self.kind.addItems([_words(*kind) for kind in _KINDS])
        self.kind.setAccessibleName(self.tr("What to add"))
        self.called.setAccessibleName(self.tr("What it is called"))
        self.called.setPlaceholderText(self.tr("such as climbing stairs"))
        self.unit.setAccessibleName(self.tr("Its unit"))
        self.unit.setPlaceholderText(self.tr("unit, such as kg"))
        self.high.setAccessibleName(self.tr("Highest value"))
        self.high.setPlaceholderText(self.tr("highest"))
        self.matters.setAccessibleName(self.tr("The smallest change that matters, if known"))
        self.matters.setPlaceholderText(self.tr("change that matters"))
        self.source.setAccessibleName(self.tr("Who says that such a change matters"))
        self.source.setPlaceholderText(self.tr("where that is from"))
        self.source.setMaxLength(MOST_OF_SOURCE)
        self.called.setMaxLength(MOST_LETTERS)
        self.add_button = button(self.tr("Add a column"))
        self.add_button.setAutoDefault(False)
        self.add_button.clicked.connect(self.add)
        room, upper, lower = QVBoxLayout(self), QHBoxLayout(), QHBoxLayout()
        room.setContentsMargins(0, 0, 0, 0)
        for part in (self.kind, self.called, self.add_button):
            upper.addWidget(part)
        for part in (self.unit, self.high, self.matters, self.source):
            lower.addWidget(part)
        upper.setStretchFactor(self.called, 2)
        lower.setStretchFactor(self.source, 2)
        room.addLayout(upper)
        room.addLayout(lower)
        self.kind.currentIndexChanged.connect(self._show_fields)
        self._show_fields()

    @property
    def fields(self) -> tuple[QLineEdit, ...]:
        """Those in which Enter adds the column."""
        return self.called, self.unit, self.high, self.matters, self.source

    def draft_fields(self) -> Fields:
        """What is typed and not added yet."""
        return {
            "kind": self.kind,
            "called": self.called,
            "unit": self.unit,
            "high": self.high,
            "matters": self.matters,
            "source": self.source,
        }

    def _show_fields(self) -> None:
        kind, _ = _KINDS[self.kind.currentIndex()]
        self.unit.setVisible(kind is Kind.FIGURE)
        self.high.setVisible(kind is Kind.FIGURE)
        for part in (self.matters, self.source):
            part.setVisible(kind is not Kind.ACTIVITY)

    def add(self) -> None:
        """Add what was named, or say what is missing."""
        name = " ".join(self.called.text().split())
        why = self._add(name)
        if why:
            self.refused.emit(why)
            self.called.setFocus()
            return
        for field in self.fields:
            field.clear()
        self.added.emit()

    def _add(self, name: str) -> str:
        kind, better = _KINDS[self.kind.currentIndex()]
        if kind is Kind.ACTIVITY:
            return self._model.add_activity(name)
        high = number_in(self.high.text().strip()) if kind is Kind.FIGURE else Fraction(10)
        if not high or high.denominator > 1:
            return self.tr("Enter the highest value, a whole number above 0.")
        typed = self.matters.text().strip()
        matters = number_in(typed) if typed else None
        if typed and not matters:
            return self.tr("The change that matters is a number above 0, or left empty.")
        unit = " ".join(self.unit.text().split()) if kind is Kind.FIGURE else ""
        source = " ".join(self.source.text().split()) if matters else ""
        return self._model.add_own(
            Measure(name, name, better, high=high, unit=unit, matters=matters, source=source)
        )
