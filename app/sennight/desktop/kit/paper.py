"""The paper that this machine's country prints on."""

from __future__ import annotations

from PySide6.QtCore import QLocale

A4, LETTER = "A4", "Letter"


def usual_paper() -> str:
    """Letter where people measure in inches as in the United States, A4 elsewhere."""
    in_inches = QLocale.MeasurementSystem.ImperialUSSystem
    return LETTER if QLocale.system().measurementSystem() == in_inches else A4
