"""Asking for red flags: signs that call for a doctor, ticked or not, on a day."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from sennight.desktop.kit.date_field import DateField
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.drafts import Fields
from sennight.desktop.kit.forms import FieldForm, read_field
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import restyle, text_label
from sennight.domain.directions.plain_words import counted
from sennight.practice.red_flags import RedFlag, RedFlagCheck, flags_of, red_flags


class FlagBox(QCheckBox):
    """A box whose arrows go to the next sign."""

    stepped = Signal(int)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and Down step through the list."""
        if event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up):
            self.stepped.emit(1 if event.key() == Qt.Key.Key_Down else -1)
        else:
            super().keyPressEvent(event)


class FlagLine(QWidget):
    """One sign: a box, the sign in words and, once it is ticked, what to do."""

    def __init__(self, flag: RedFlag) -> None:
        super().__init__()
        self.flag = flag
        self.box = FlagBox()
        self.box.setAccessibleName(flag.sign)
        self.box.setAccessibleDescription(flag.action)
        self.sign = text_label(flag.sign, wrap=True)
        self.action = text_label(flag.action, Role.ALARM, wrap=True)
        self.action.hide()
        texts = QVBoxLayout()
        texts.setSpacing(2)
        texts.addWidget(self.sign)
        texts.addWidget(self.action)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.box, 0, Qt.AlignmentFlag.AlignTop)
        layout.addLayout(texts, 1)
        self.box.toggled.connect(self._mark)

    def _mark(self, on: bool) -> None:  # noqa: FBT001 - a signal's
        self.action.setVisible(on)
        self.sign.setProperty("role", "strong" if on else "text")
        restyle(self.sign)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A click on the words ticks as one on the box does."""
        self.box.toggle()
        super().mouseReleaseEvent(event)


class RedFlagsDialog(FormDialog):
    """The list of signs; `answer` has the check once the sheet was accepted."""

    def __init__(
        self,
        client: str,
        parent: QWidget | None = None,
        *,
        today: date,
        ticked: Collection[str] = (),
    ) -> None:
        title = translate("RedFlagsDialog", "Red flags: ask {name}").format(name=client)
        super().__init__(parent, title, do=translate("RedFlagsDialog", "Record"))
        self.today = today
        self.answer: RedFlagCheck | None = None
        self.lines = tuple(FlagLine(flag) for flag in red_flags())
        self._build()
        self._before = tuple(ticked)
        for n, line in enumerate(self.lines):
            line.box.setChecked(line.flag.id in ticked)
            line.box.toggled.connect(self.tell)
            line.box.stepped.connect(lambda by, at=n: self._step(at + by))
        self.tell()
        self.lines[0].box.setFocus(Qt.FocusReason.OtherFocusReason)

    def _build(self) -> None:
        self.day = DateField(self.today, past=True)
        self.day.set_day(self.today)
        self.day.setMaximumWidth(self.fontMetrics().horizontalAdvance("n") * 30)
        self.form = FieldForm()
        (self.day_row,) = self.form.line((self.tr("Asked on"), self.day))
        self.reason = QLineEdit()
        self.reason_row = self.form.row(
            self.tr("Why no longer there"),
            self.reason,
            help_text=self.tr("Who looked at the signs recorded before, and what was found"),
        )
        self.reason.textEdited.connect(lambda: self.reason_row.explain(""))
        self.message = text_label("", Role.STRONG, wrap=True)
        self.message.setAccessibleName(self.tr("What this means"))
        body = QWidget()
        layout = QVBoxLayout(body)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(self.fontMetrics().height() // 2)
        for line in self.lines:
            layout.addWidget(line)
        layout.addStretch(1)
        self.foot.addWidget(self.form)
        self.foot.addWidget(self.message)
        self.set_body(body, columns=100, lines=44)

    def draft_fields(self) -> Fields:
        """The signs as well."""
        signs = {line.flag.id: line.box for line in self.lines}
        return {**super().draft_fields(), **signs}

    def _step(self, to: int) -> None:
        if 0 <= to < len(self.lines):
            self.lines[to].box.setFocus(Qt.FocusReason.TabFocusReason)
            self._body.ensureWidgetVisible(self.lines[to])

    @property
    def ticked(self) -> tuple[str, ...]:
        """The ids of the signs that are there."""
        return tuple(line.flag.id for line in self.lines if line.box.isChecked())

    @property
    def clears(self) -> bool:
        """Whether a sign that was recorded before is not there any more."""
        return not set(self._before) <= set(self.ticked)

    def tell(self) -> None:
        """Say what the answers mean, the most urgent advice first."""
        flags = flags_of(RedFlagCheck(self.today, self.ticked), red_flags())
        if not flags:
            self.message.setText(self.tr("No sign recorded. This does not rule anything out."))
        else:
            count = counted(len(flags), self.tr("sign"))
            self.message.setText(f"{count}. {flags[0].action}.")
        self.reason_row.setVisible(self.clears)
        self.message.setProperty("role", "alarm" if flags else "strong")
        restyle(self.message)

    def is_changed(self) -> bool:
        """Whether other signs are ticked than at first."""
        return set(self.ticked) != set(self._before)

    def submit(self) -> None:
        """Accept with the answers."""
        self.day_row.explain("")
        day = read_field(self.day_row, self.day)
        if day is None or day > self.today:
            if not self.day_row.is_wrong:
                self.day_row.wrong(self.tr("Enter the day it was asked, today or earlier"))
            self.form.to_first_wrong()
            return
        reason = self.reason.text().strip() if self.clears else ""
        if self.clears and not reason:
            self.reason_row.wrong(self.tr("Enter why a sign recorded before is no longer there"))
            self.form.to_first_wrong()
            return
        self.answer = RedFlagCheck(day, self.ticked, reason)
        self.accept()
