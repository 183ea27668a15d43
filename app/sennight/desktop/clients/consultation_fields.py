"""What a consultation is written into: a free field, one for each heading, and its particulars."""

from __future__ import annotations

from datetime import date, time

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.kit.date_field import DateField
from sennight.desktop.kit.drafts import as_list, as_object, leaving_out_what_cannot_be_read
from sennight.desktop.kit.forms import TypedField
from sennight.desktop.kit.growing_field import GrowingField
from sennight.desktop.kit.reading import ReadingError, read_clock
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.kit.wrapped_row import WrappedRow
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.follow_up.consultations import (
    LONGEST_MINUTES,
    Appointment,
    Consultation,
    ConsultationKind,
    written_parts,
)
from sennight.domain.follow_up.story import kind_title
from sennight.practice.drafts import Json

KINDS = tuple(ConsultationKind)
LENGTHS = ("15", "30", "45", "60", "75", "90")
"""Minutes that are offered; any other number may be typed."""

FREE = ""
"""The heading of what is written without one."""


def read_minutes(text: str) -> int:
    """A length in minutes, typed as `45` or `45 min`; raises ReadingError."""
    figures = text.strip().removesuffix("minutes").removesuffix("min").strip()
    minutes = int(figures) if figures.isdecimal() else 0
    if not 1 <= minutes <= LONGEST_MINUTES:
        raise ReadingError(translate("Consultations", "Enter a number of minutes, for example 45"))
    return minutes


def _in_a_row(*parts: QWidget) -> QWidget:
    """Parts side by side."""
    row = QWidget()
    layout = QHBoxLayout(row)
    layout.setContentsMargins(0, 0, 0, 0)
    for part in parts:
        layout.addWidget(part)
    return row


def _wrapped(*parts: QWidget) -> QWidget:
    """Parts side by side, those beneath for which there is no room."""
    row = QWidget()
    layout = WrappedRow(row)
    layout.setSpacing(row.fontMetrics().height() // 2)
    for part in parts:
        layout.addWidget(part)
    policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
    policy.setHeightForWidth(True)
    row.setSizePolicy(policy)
    return row


class ConsultationFields(QWidget):
    """A draft field of its own: kind, day, length, what is written, and the next appointment.

    Headings that a draft or an earlier consultation has are shown beside the practice's own.
    """

    edited = Signal()

    def __init__(self, headings: tuple[str, ...], *, today: date) -> None:
        super().__init__()
        self._today = today
        self.texts: dict[str, GrowingField] = {}
        self._labels: dict[str, QLabel] = {}
        self._make_particulars()
        self._grid = QGridLayout()
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setColumnStretch(1, 1)
        self._lay_out()
        for heading in (FREE, *headings):
            self._add(heading)

    # Layout

    def _make_particulars(self) -> None:
        self.kind = QComboBox()
        self.kind.addItems([kind_title(kind) for kind in KINDS])
        self.kind.setAccessibleName(self.tr("Kind of consultation"))
        self.day = DateField(self._today, placeholder=plain_date(self._today), past=True)
        self.day.setAccessibleName(self.tr("Day of the consultation"))
        self.minutes = QComboBox()
        minutes = QLineEdit()
        minutes.setAccessibleName(self.tr("Length in minutes"))
        self.minutes.setLineEdit(minutes)
        self.minutes.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.minutes.addItems(["", *LENGTHS])
        self.minutes.setAccessibleName(self.tr("Length in minutes"))
        self.next_day = DateField(self._today, placeholder=self.tr("22 March, +3 w"))
        self.next_day.setAccessibleName(self.tr("Day of the next appointment"))
        on_the_card = self.tr("It is printed on the client's card as the next visit.")
        self.next_day.setToolTip(on_the_card)
        self.next_day.setAccessibleDescription(on_the_card)
        self.next_at = TypedField(read_clock, placeholder="09:30")
        self.next_at.setAccessibleName(self.tr("Time of the next appointment"))
        self.beneath = text_label("", Role.ALARM, wrap=True)
        self.beneath.hide()
        digits = self.fontMetrics().horizontalAdvance("0")
        self.day.setMinimumWidth(digits * 15)
        self.next_day.setMinimumWidth(digits * 15)
        self.minutes.setFixedWidth(digits * 12)
        self.next_at.setFixedWidth(digits * 11)
        self.kind.currentIndexChanged.connect(self.edited)
        for field in self._typed:
            field.textEdited.connect(self._typed_into)

    @property
    def _typed(self) -> tuple[QLineEdit, ...]:
        length = self.minutes.lineEdit()
        lines = (self.day, self.next_day, self.next_at)
        return (*lines, length) if length else lines

    def _lay_out(self) -> None:
        minutes = text_label(self.tr("min"), Role.QUIET)
        self.particulars = _wrapped(self.kind, self.day, _in_a_row(self.minutes, minutes))
        before, between = self.tr("Next appointment"), self.tr("at")
        self.appointment = _wrapped(
            text_label(before, Role.QUIET),
            self.next_day,
            _in_a_row(text_label(between, Role.QUIET), self.next_at),
        )
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(self._grid)
        layout.addWidget(self.particulars)
        layout.addWidget(self.appointment)
        layout.addWidget(self.beneath)

    def set_headings(self, headings: tuple[str, ...]) -> None:
        """Other headings in their order; those under which something is written stay as well."""
        written = {head: field.toPlainText() for head, field in self.texts.items()}
        used = tuple(head for head, text in written.items() if head and text.strip())
        for heading in tuple(self._labels):
            for part in (self._labels.pop(heading), self.texts.pop(heading)):
                self._grid.removeWidget(part)
                part.hide()
                part.deleteLater()
        for heading in dict.fromkeys((*headings, *used)):
            self._add(heading)
            self.texts[heading].setPlainText(written.get(heading, ""))

    def _add(self, heading: str) -> None:
        field = GrowingField()
        field.setProperty("kind", "written" if heading else "free")
        field.setAccessibleName(heading or self.tr("Notes"))
        field.textChanged.connect(self._typed_into)
        row = self._grid.rowCount()
        if heading:
            label = text_label(heading, Role.QUIET)
            label.setBuddy(field)
            at = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop
            self._grid.addWidget(label, row, 0, at)
            self._grid.addWidget(field, row, 1)
            self._labels[heading] = label
        else:
            self._grid.addWidget(field, row, 0, 1, 2)
        self.texts[heading] = field

    def _typed_into(self) -> None:
        self.beneath.hide()
        self.edited.emit()

    @property
    def free(self) -> GrowingField:
        """What is written without a heading."""
        return self.texts[FREE]

    def show_all(self, *, shown: bool) -> None:
        """Show the headings and particulars, or the free field alone."""
        for part in (self.particulars, self.appointment, *self._labels.values()):
            part.setVisible(shown)
        for heading, field in self.texts.items():
            field.setVisible(shown or heading == FREE)

    # Values

    @property
    def is_empty(self) -> bool:
        """Whether nothing is written and no appointment typed."""
        written = (field.toPlainText().strip() for field in self.texts.values())
        return not any(written) and not self.next_day.text().strip()

    def clear(self, kind: ConsultationKind) -> None:
        """Nothing is written; a consultation of that kind, today."""
        self.kind.setCurrentIndex(KINDS.index(kind))
        for field in self._typed:
            field.clear()
        for text in self.texts.values():
            text.clear()
        self.beneath.hide()

    def put(self, consultation: Consultation) -> None:
        """Show a consultation as it was kept."""
        self.clear(consultation.kind)
        self.day.setText(plain_date(consultation.day))
        self.minutes.setEditText(str(consultation.minutes or ""))
        after = consultation.next
        self.next_day.setText(plain_date(after.day) if after else "")
        self.next_at.setText(f"{after.at:%H:%M}" if after and after.at else "")
        for part in consultation.parts:
            self._write(part.heading, part.text)

    def _write(self, heading: str, text: str) -> None:
        if heading not in self.texts:
            self._add(heading)
        self.texts[heading].setPlainText(text)

    def consultation(self) -> Consultation | None:
        """What is typed; None where something is wrong with it, which is then shown."""
        try:
            return self._read()
        except ReadingError as error:
            self.wrong(str(error))
        except ValueError:
            self.wrong(self.tr("The next appointment must come after the consultation"))
        return None

    def _read(self) -> Consultation:
        length = self.minutes.currentText().strip()
        return Consultation(
            self.day.value() or self._today,
            KINDS[self.kind.currentIndex()],
            written_parts(
                tuple((head, field.toPlainText()) for head, field in self.texts.items())
            ),
            read_minutes(length) if length else None,
            self._appointment(),
        )

    def _appointment(self) -> Appointment | None:
        day: date | None = self.next_day.value()
        at: time | None = self.next_at.value()
        if day is None and at is not None:
            raise ReadingError(self.tr("Enter the day of the next appointment"))
        return None if day is None else Appointment(day, at)

    def wrong(self, text: str) -> None:
        """Say what is wrong."""
        self.beneath.setText(text)
        self.beneath.show()

    # What is typed, kept on disk

    def draft_value(self) -> Json:
        """All that is typed and chosen."""
        return {
            "kind": str(KINDS[self.kind.currentIndex()]),
            "day": self.day.text(),
            "minutes": self.minutes.currentText(),
            "next": self.next_day.text(),
            "at": self.next_at.text(),
            "parts": [[head, field.toPlainText()] for head, field in self.texts.items()],
        }

    def put_draft_value(self, value: Json) -> None:
        """Hold it again."""
        with leaving_out_what_cannot_be_read():
            content = as_object(value)
            self.kind.setCurrentIndex(KINDS.index(ConsultationKind(str(content["kind"]))))
            self.day.setText(str(content["day"]))
            self.minutes.setEditText(str(content["minutes"]))
            self.next_day.setText(str(content["next"]))
            self.next_at.setText(str(content["at"]))
            for part in as_list(content["parts"]):
                heading, text = map(str, as_list(part))
                if text or heading in self.texts:
                    self._write(heading, text)
            self.edited.emit()
