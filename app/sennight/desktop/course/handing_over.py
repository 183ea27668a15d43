"""To the phone: a QR code of a link that works once, shown while this dialog is open."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QRect, QSize, Qt, QTimer
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QComboBox, QVBoxLayout, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.reminders.phone_steps import phone_steps
from sennight.practice.hand_over import (
    HandOverError,
    Link,
    LinkState,
    Squares,
    open_link,
    own_addresses,
    qr_squares,
)

_LOOK_EVERY = 500
"""Milliseconds between two looks at the link."""
_SMALLEST_SQUARE = 4
"""Pixels of one square of the code: cameras read no smaller ones from a screen."""


class QrView(QWidget):
    """A QR code, black on white whatever the theme, since cameras expect it so."""

    def __init__(self) -> None:
        super().__init__()
        self.squares: Squares = ()
        self.setVisible(False)

    def show_code(self, squares: Squares) -> None:
        """Show this code; nothing where it has no squares."""
        self.squares = squares
        self.setVisible(bool(squares))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Large enough for a camera."""
        side = len(self.squares) * _SMALLEST_SQUARE
        return QSize(side, side)

    def minimumSizeHint(self) -> QSize:
        """It does not give way."""
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - Qt's name
        """Draw the squares, each of whole pixels."""
        count = len(self.squares)
        if not count:
            return
        painter = QPainter(self)
        side = min(self.width(), self.height()) // count
        painter.fillRect(QRect(0, 0, side * count, side * count), Qt.GlobalColor.white)
        for top, row in enumerate(self.squares):
            for left, is_dark in enumerate(row):
                if is_dark:
                    place = QRect(left * side, top * side, side, side)
                    painter.fillRect(place, Qt.GlobalColor.black)


class HandOverDialog(FormDialog):
    """Opens a link to one calendar file when asked to, and closes it behind itself."""

    def __init__(
        self,
        calendar: Path,
        name: str,
        parent: QWidget | None = None,
        *,
        find_addresses: Callable[[], tuple[str, ...]] = own_addresses,
    ) -> None:
        super().__init__(
            parent,
            translate("HandOverDialog", "To the phone"),
            do=translate("HandOverDialog", "Show the code"),
        )
        self.calendar = calendar
        self.link: Link | None = None
        self.address = QComboBox()
        self.address.addItems(find_addresses())
        self.code = QrView()
        self.status = text_label("", Role.STRONG, wrap=True)
        self.leave_button.setText(self.tr("Close"))
        self.clock = QTimer(self)
        self.clock.setInterval(_LOOK_EVERY)
        self.clock.timeout.connect(self.look)
        self._lay_out_body(name)

    def _lay_out_body(self, name: str) -> None:
        body = QWidget()
        room = QVBoxLayout(body)
        room.setContentsMargins(0, 0, 0, 0)
        room.addWidget(text_label(self._whose_network(), wrap=True))
        form = FieldForm()
        form.row(self.tr("This computer’s address"), self.address)
        room.addWidget(form)
        room.addWidget(self.code, 0, Qt.AlignmentFlag.AlignLeft)
        for phone in phone_steps(name, by_link=True):
            steps = " ".join(phone.steps)
            room.addWidget(text_label(f"{phone.phone}: {steps}", Role.QUIET, wrap=True))
        room.addStretch(1)
        self.foot.addWidget(self.status)
        self.set_body(body, columns=80, lines=40)
        if not self.address.count():
            self.main_button.setEnabled(False)
            self.status.setText(
                self.tr(
                    "This computer is not on a home or practice network. Send the calendar "
                    "file by e-mail instead."
                )
            )

    def _whose_network(self) -> str:
        return self.tr(
            "The phone must be on the practice’s own Wi-Fi, the same as this computer. The file "
            "is sent unencrypted, so do not use a guest network or one that strangers use. The "
            "link works once, for one phone, and closes after ten minutes or with "
            "this window."
        )

    def submit(self) -> None:
        """Open a link and show its code."""
        try:
            self.link = open_link(self.calendar, self.address.currentText())
        except HandOverError as error:
            self.status.setText(str(error))
            return
        self.code.show_code(qr_squares(self.link.url))
        self.code.setAccessibleName(self.link.url)
        self.address.setEnabled(False)
        self.main_button.setEnabled(False)
        self.clock.start()
        self.look()

    def look(self) -> None:
        """Say how the link stands."""
        if self.link is None:
            return
        match self.link.state:
            case LinkState.OPEN:
                minutes, seconds = divmod(self.link.seconds_left, 60)
                text = self.tr("{link}\nListening on {address}, port {port}, for {left} more.")
                self.status.setText(
                    text.format(
                        link=self.link.url,
                        address=self.link.address,
                        port=self.link.port,
                        left=f"{minutes}:{seconds:02}",
                    )
                )
                return
            case LinkState.TAKEN:
                self.status.setText(self.tr("The phone has taken the file. The link is closed."))
            case LinkState.EXPIRED | LinkState.CLOSED:
                self.status.setText(self.tr("The link is closed; nobody has used it."))
        self._put_away()

    def _put_away(self) -> None:
        """The code of a link that is closed is shown no longer; another can be opened."""
        self.clock.stop()
        self.code.show_code(())
        self.address.setEnabled(True)
        self.main_button.setText(self.tr("Show a new code"))
        self.main_button.setEnabled(True)

    def done(self, result: int) -> None:
        """Close the link with the dialog."""
        self.clock.stop()
        if self.link is not None:
            self.link.close()
        super().done(result)
