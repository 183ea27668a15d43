"""The dialog in which a batch is handed over to a client, with its labels."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from PySide6.QtWidgets import QCheckBox, QComboBox, QLineEdit, QWidget

from sennight.desktop.dispensary.reading import read_amount, read_count, read_found
from sennight.desktop.dispensary.words import amount_words, unit_words
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, TypedField, explained, read_field
from sennight.desktop.kit.name_field import NameField
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.translating import translate
from sennight.domain.amounts import rounded
from sennight.domain.dispensary.batches import Batch
from sennight.domain.remedies.letters import letter_of
from sennight.domain.supply.quantities import Quantity
from sennight.practice.dispensing import Handing, Wanting
from sennight.practice.wanted import Wanted

Courses = Callable[[str], tuple[Wanting, ...]]


@dataclass(frozen=True, slots=True)
class LabelWish:
    """On which stock labels are wanted, from which label on, and how many each container has."""

    stock: str
    start: int
    in_two: bool


@dataclass(frozen=True, slots=True)
class Offers:
    """What there is to choose from: clients' ids by their names, their courses that go on, label
    stocks; who hands over, unless another name is typed, and what a container held last or, where
    there was none, usually holds."""

    clients: Mapping[str, str]
    courses: Courses
    stocks: tuple[str, ...]
    by: str
    container: Fraction | None = None


class HandOverDialog(FormDialog):
    """Asks who gets how much; `answer` is what to hand over, `labels` how to print them."""

    def __init__(
        self,
        parent: QWidget | None,
        batch: Batch,
        left: Fraction,
        offers: Offers,
    ) -> None:
        title = translate("Dispensary", "Hand over {remedy}, batch {number}")
        super().__init__(
            parent,
            title.format(remedy=batch.remedy.name, number=batch.number),
            do=translate("Dispensary", "Hand over"),
        )
        self._batch, self._left = batch, left
        self._clients, self._courses = offers.clients, offers.courses
        self._choices: tuple[Wanting, ...] = ()
        self.answer: Handing | None = None
        self.labels: LabelWish | None = None
        self._form = FieldForm()
        self._make_fields(offers.by, offers.container)
        self._make_labels(offers.stocks)
        self._form.keep_together()
        self.set_body(self._form, columns=84, lines=31)

    def _make_fields(self, by: str, container: Fraction | None) -> None:
        self.client, self.course = NameField(self._clients), QComboBox()
        self.containers, self.each = TypedField(read_count), TypedField(read_amount)
        self.by = QLineEdit(by)
        unit = self._batch.amount.unit
        usual = container or self._left
        self.containers.setText("1")
        self.each.setText(rounded(min(usual, self._left), 2))
        self._client_row = self._form.row(self.tr("Client"), self.client)
        self._course_row = self._form.row(
            self.tr("For"), self.course, help_text=self.tr("Choose a client first.")
        )
        self._containers_row, self._each_row, self._by_row = self._form.line(
            (self.tr("Containers"), self.containers),
            (self.tr("Each, {unit}").format(unit=unit_words(unit)), self.each),
            (self.tr("Handed over by"), self.by),
        )
        self.left = TypedField(read_found)
        label = self.tr("Still at home, {unit}").format(unit=unit_words(unit))
        self._left_row = self._form.row(label, self.left)
        explained(self._left_row, self.left, lambda _: self._say_had())
        for row, field in ((self._containers_row, self.containers), (self._each_row, self.each)):
            explained(row, field, self._say_left)
        self.client.textChanged.connect(self._show_courses)
        self.course.currentIndexChanged.connect(self._show_left)
        self._show_left()

    def _show_left(self) -> None:
        """Ask what is left where there was anything before."""
        had = self._had
        self._left_row.setVisible(had > 0)
        self._left_row.explain(self._say_had())
        if not had:
            self.left.clear()

    @property
    def _had(self) -> Fraction:
        """What the client was given of it before."""
        place = self.course.currentIndex()
        return self._choices[place].had if 0 <= place < len(self._choices) else Fraction(0)

    def _say_had(self) -> str:
        told = self.tr("Of {amount} handed over before. Leave it empty where it was not counted.")
        return told.format(amount=amount_words(self._had, self._batch.amount.unit))

    def _say_left(self, _value: Fraction) -> str:
        left = amount_words(self._left, self._batch.amount.unit)
        return self.tr("{left} left of this batch").format(left=left)

    def _make_labels(self, stocks: tuple[str, ...]) -> None:
        self.with_labels = QCheckBox(self.tr("Labels"))
        self.with_labels.setChecked(True)
        self.stock, self.start = QComboBox(), TypedField(read_count)
        self.stock.addItems(stocks)
        self.start.setText("1")
        self.in_two = QCheckBox(self.tr("Two labels a container (small bottles)"))
        self._form.row("", self.with_labels)
        self.with_labels.setAccessibleName(self.with_labels.text())
        self._stock_row, self._start_row = self._form.line(
            (self.tr("Print on"), self.stock), (self.tr("From label"), self.start)
        )
        self._form.row("", self.in_two)
        self.in_two.setAccessibleName(self.in_two.text())
        self.with_labels.toggled.connect(self._show_labels)

    def _show_labels(self) -> None:
        is_on = self.with_labels.isChecked()
        for part in (self.stock, self.start, self.in_two):
            part.setEnabled(is_on)

    def _show_courses(self) -> None:
        """The remedies of the client's courses that are made by the batch's formula."""
        self.course.clear()
        client = self._clients.get(self.client.matching_label() or "")
        self._choices = self._courses(client) if client else ()
        for wanting in self._choices:
            self.course.addItem(self._wanting_words(wanting))
        if self._choices:
            self._course_row.beneath.hide()
        else:
            none = (
                self.tr("No course of this client takes a remedy of this formula.")
                if client
                else ""
            )
            self._course_row.explain(none)

    def _wanting_words(self, wanting: Wanting) -> str:
        course = wanting.entry.course
        place = [remedy.id for remedy in course.remedies].index(wanting.remedy)
        name = f"{letter_of(place)} {course.remedy(wanting.remedy).name}"
        if not wanting.plan:
            return f"{name} – {course.protocol.name}"
        template = self.tr("{name}, kept for a flare-up – {course}")
        return template.format(name=name, course=course.protocol.name)

    def fill_in(self, want: Wanted) -> None:
        """Begin with a client, a remedy of a course, and how many containers are wanted of it."""
        names = (name for name, known in self._clients.items() if known == want.client_id)
        self.client.setText(next(names))
        keys = [(wanting.entry.id, wanting.remedy) for wanting in self._choices]
        wanted = want.what.course, want.what.bottle.remedy
        if wanted in keys:
            self.course.setCurrentIndex(keys.index(wanted))
        self.containers.setText(str(want.what.containers or 1))

    def is_changed(self) -> bool:
        """Whether a client was named."""
        return bool(self.client.typed)

    def submit(self) -> None:
        """Take what is to be handed over, where all is said."""
        self._form.clear_wrong()
        place = self.course.currentIndex()
        if place < 0:
            self._client_row.wrong(self.tr("Choose a client whose course takes this formula"))
        by = " ".join(self.by.text().split())
        if not by:
            self._by_row.wrong(self.tr("Enter who hands it over"))
        containers = read_field(self._containers_row, self.containers)
        each = read_field(self._each_row, self.each)
        if containers and each and containers * each > self._left:
            self._each_row.wrong(self._say_left(each))
        left = read_field(self._left_row, self.left)
        if left is not None and left > self._had:
            self._left_row.wrong(self._say_had())
        if containers is None or each is None or self._form.to_first_wrong():
            return
        wanting = self._choices[place]
        amount = Quantity(each, self._batch.amount.unit)
        self.answer = Handing(
            self._batch.id, wanting.entry.id, wanting.remedy, int(containers), amount, by, left
        )
        self.labels = self._wish()
        self.accept()

    def _wish(self) -> LabelWish | None:
        if not self.with_labels.isChecked():
            return None
        try:
            start = self.start.value()
        except ReadingError:
            start = None
        return LabelWish(self.stock.currentText(), int(start or 1), self.in_two.isChecked())
