"""Recording a reaction: which remedy, which herbs are suspected, when, and what happened."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QComboBox, QPlainTextEdit, QVBoxLayout, QWidget

from sennight.desktop.course.session import Session
from sennight.desktop.kit.date_field import DateField
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, read_field
from sennight.desktop.kit.plain_text import plain_caption
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.courses.courses import Stop
from sennight.domain.directions.plain_words import listed, plain_date
from sennight.practice.drafts import Json
from sennight.practice.reactions import Reaction


class HerbChoice(QWidget):
    """The herbs of a remedy's formula, each to be ticked."""

    def __init__(self) -> None:
        super().__init__()
        self.boxes: dict[str, QCheckBox] = {}
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(2)

    def show_herbs(
        self, herbs: tuple[str, ...], names: Mapping[str, str]
    ) -> tuple[QCheckBox, ...]:
        """Offer other herbs by their names; one alone is ticked."""
        for box in self.boxes.values():
            self._layout.removeWidget(box)
            box.hide()
            box.deleteLater()
        self.boxes = {herb: QCheckBox(plain_caption(names.get(herb, herb))) for herb in herbs}
        for box in self.boxes.values():
            self._layout.addWidget(box)
            box.setChecked(len(herbs) == 1)
        return tuple(self.boxes.values())

    def setFocus(self, reason: Qt.FocusReason = Qt.FocusReason.OtherFocusReason) -> None:
        """Put the keyboard on the first herb."""
        next(iter(self.boxes.values())).setFocus(reason)

    @property
    def ticked(self) -> tuple[str, ...]:
        """The herbs that are suspected."""
        return tuple(herb for herb, box in self.boxes.items() if box.isChecked())

    def draft_value(self) -> Json:
        """The herbs that are ticked."""
        return list(self.ticked)

    def put_draft_value(self, value: Json) -> None:
        """Tick them again."""
        for herb, box in self.boxes.items():
            box.setChecked(isinstance(value, list) and herb in value)


class ReactionDialog(FormDialog):
    """Says in a sentence what recording does; `answer` has it: the remedy's id, the reaction."""

    def __init__(
        self, session: Session, names: Mapping[str, str], parent: QWidget | None = None
    ) -> None:
        super().__init__(
            parent,
            translate("ReactionDialog", "Record a reaction"),
            do=translate("ReactionDialog", "Record"),
        )
        self.session, self.names, self.today = session, names, session.reading.today
        self.answer: tuple[str, Reaction] | None = None
        self._build()
        self._arrange()
        self._choose_remedy()
        self.remedy.setFocus(Qt.FocusReason.OtherFocusReason)

    def _build(self) -> None:
        self.form = FieldForm()
        self.remedy = QComboBox()
        for remedy in self.session.course.remedies:
            self.remedy.addItem(remedy.name, remedy.id)
        self.day = DateField(self.today, past=True)
        self.day.set_day(min(self.today, self.session.reading.layout.days.last))
        self.herbs = HerbChoice()
        self.what = QPlainTextEdit()
        self.what.setTabChangesFocus(True)
        self.what.setFixedHeight(self.fontMetrics().lineSpacing() * 4)
        self.remedy_row, self.day_row = self.form.line(
            (self.tr("Remedy"), self.remedy), (self.tr("Day"), self.day)
        )
        self.herbs_row = self.form.row(self.tr("Suspected herbs"), self.herbs)
        self.what_row = self.form.row(
            self.tr("What happened"),
            self.what,
            help_text=self.tr("Onset, severity, duration, what was done"),
        )
        self.remedy.currentIndexChanged.connect(self._choose_remedy)
        self.day.textEdited.connect(self.tell)
        self.what.textChanged.connect(lambda: self.what_row.explain(""))

    def _arrange(self) -> None:
        self.effect_label = text_label("", Role.STRONG, wrap=True)
        self.effect_label.setAccessibleName(self.tr("What this does"))
        self.foot.addWidget(self.effect_label)
        note = self.tr(
            "Permanent. If serious: get medical help first. Report it: in the UK to the Yellow "
            "Card scheme of the MHRA, elsewhere to the body where you practise."
        )
        self.foot.addWidget(text_label(note, Role.QUIET, wrap=True))
        body = QWidget()
        layout = QVBoxLayout(body)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.form)
        layout.addStretch(1)
        self.set_body(body, columns=88, lines=38)

    def _choose_remedy(self) -> None:
        remedy = self.session.course.remedy(self.remedy_id)
        herbs = tuple(dict.fromkeys(ingredient.herb for ingredient in remedy.ingredients))
        boxes = self.herbs.show_herbs(herbs, self.names)
        for box in boxes:
            box.toggled.connect(self.tell)
        for before, after in pairwise((self.day, *boxes, self.what)):
            self.setTabOrder(before, after)
        self.tell()

    @property
    def remedy_id(self) -> str:
        """The remedy in hand."""
        return str(self.remedy.currentData())

    def tell(self) -> None:
        """Say in a sentence what recording would do, as far as the fields can be read."""
        for row in (self.day_row, self.herbs_row):
            row.explain("")
        self.effect_label.setText(self._sentence())

    def _sentence(self) -> str:
        try:
            day = self.day.value()
        except ReadingError:
            day = None
        if day is None or not self.herbs.ticked:
            return ""
        herbs = listed([self.names.get(herb, herb) for herb in self.herbs.ticked])
        text = self.tr(
            "{remedy} stops from {day} on. {herbs} will stay on {client}’s record permanently: "
            "every course with it will show a finding to avoid."
        )
        return text.format(
            remedy=self.session.course.remedy(self.remedy_id).name,
            day=plain_date(day),
            herbs=herbs,
            client=self.session.course.client.name,
        )

    def is_changed(self) -> bool:
        """Whether what happened was written down."""
        return bool(self.what.toPlainText().strip())

    def submit(self) -> None:
        """Accept with the reaction, or show at its field what is wrong."""
        day, what = self._day(), self.what.toPlainText().strip()
        if not self.herbs.ticked:
            self.herbs_row.wrong(self.tr("Tick the suspected herbs, all if unsure"))
        if not what:
            self.what_row.wrong(self.tr("Enter what happened; it is recorded and printed"))
        if self.form.to_first_wrong() or day is None:
            return
        name = self.session.course.remedy(self.remedy_id).name
        self.answer = (self.remedy_id, Reaction(day, name, self.herbs.ticked, what))
        self.accept()

    def _day(self) -> date | None:
        """The day, if the course can be stopped on it; what is wrong is shown."""
        day = read_field(self.day_row, self.day)
        if day is None:
            if not self.day_row.is_wrong:
                self.day_row.wrong(self.tr("Enter a date, for example 1 March 2027"))
            return None
        if day > self.today:
            self.day_row.wrong(self.tr("The date is in the future"))
            return None
        stop = Stop(on=self.today, remedy=self.remedy_id, first=day)
        reading = self.session.try_out(self.session.with_decision(stop))
        if isinstance(reading, str):
            self.day_row.wrong(reading)
            return None
        return day
