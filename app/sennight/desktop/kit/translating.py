"""Texts that the user sees, outside widgets: `translate("Context", "text")`.

Widgets call their own `tr`. Both names are what Qt's extraction tool looks for.
"""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

translate = QCoreApplication.translate
