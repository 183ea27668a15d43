"""The dialogs in which the practice enters herbs and ranges of its own."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QBoxLayout,
    QComboBox,
    QHBoxLayout,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.clients.facts_field import TagField
from sennight.desktop.clients.standing import tag_words
from sennight.desktop.dialogs import Sheet
from sennight.desktop.forms import Form, Row, TypedField, explained, take
from sennight.desktop.materia_medica.words import LEVELS, level_words
from sennight.desktop.range_bar import form_words, grams_text
from sennight.desktop.remedies.amounts_reading import (
    Bounds,
    ratio_text,
    read_number,
    read_percent,
    read_ratio,
)
from sennight.desktop.theme import Role
from sennight.desktop.translating import translate
from sennight.desktop.widgets import button, words
from sennight.domain.amounts import plain_number
from sennight.domain.herbs import Herb, Level
from sennight.domain.own_herbs import OwnCaution, OwnHerb, OwnRange, published_maximum
from sennight.domain.ranges import TakenAs
from sennight.vocabulary import vocabulary

WIDTH = 120


def _read_age(text: str) -> Fraction:
    what = translate("Herbs", "An age in years, such as 12")
    return read_number(text, Bounds(what, 120, from_low=True))


def _read_daily(text: str) -> Fraction:
    what = translate("Herbs", "An amount a day, such as 3")
    return read_number(text, Bounds(what, 10_000, from_low=True))


class TagsField(QWidget):
    """Tags of one kind, each on a line with a way to take it out; cautions with a level."""

    changed = Signal()

    def __init__(self, known: dict[str, str], placeholder: str, *, levels: bool = False) -> None:
        super().__init__()
        self._known, self._levels = known, levels
        self._lines: dict[str, tuple[QWidget, QComboBox | None]] = {}
        self.entry = TagField(known)
        self.entry.setPlaceholderText(placeholder)
        self.beneath = words("", Role.ALARM, wrap=True)
        self.beneath.hide()
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(4)
        self._layout.addWidget(self.entry)
        self._layout.addWidget(self.beneath)
        self.setFocusProxy(self.entry)
        self.entry.picked.connect(self._picked)
        self.entry.unknown.connect(self._say)
        self.entry.textEdited.connect(self.beneath.hide)

    def _say(self, text: str) -> None:
        self.beneath.setText(text)
        self.beneath.show()

    def _picked(self, tag: str) -> None:
        self.add(tag)

    def add(self, tag: str, level: Level = Level.CAUTION) -> None:
        """One more tag; one that is there already is not added again."""
        self.beneath.hide()
        if tag in self._lines:
            return
        name = tag_words(tag)
        line, box = QWidget(), self._level_box(name, level) if self._levels else None
        row = QHBoxLayout(line)
        row.setContentsMargins(0, 0, 0, 0)
        label = words(name[:1].upper() + name[1:], Role.STRONG, wrap=True)
        label.setToolTip(self._known.get(tag, ""))
        row.addWidget(label, 1)
        if box is not None:
            row.addWidget(box)
        out = button(self.tr("Take out"), kind="link")
        out.setAccessibleName(self.tr("Take out {name}").format(name=name))
        out.clicked.connect(lambda: self._take_out(tag))
        row.addWidget(out)
        self._layout.addWidget(line)
        self._lines[tag] = line, box
        self.changed.emit()

    def _level_box(self, name: str, level: Level) -> QComboBox:
        box = QComboBox()
        box.setAccessibleName(self.tr("How strongly: {name}").format(name=name))
        for one in LEVELS:
            box.addItem(level_words(one), one)
        box.setCurrentIndex(LEVELS.index(level))
        return box

    def _take_out(self, tag: str) -> None:
        line, _box = self._lines.pop(tag)
        self._layout.removeWidget(line)
        line.hide()
        line.deleteLater()
        self.entry.setFocus(Qt.FocusReason.OtherFocusReason)
        self.changed.emit()

    @property
    def tags(self) -> tuple[str, ...]:
        """The tags that are in it now."""
        return tuple(self._lines)

    def level(self, tag: str) -> Level:
        """The level that was chosen for a tag."""
        box = self._lines[tag][1]
        return Level(box.currentData()) if box is not None else Level.CAUTION

    def is_right(self) -> bool:
        """Whether nothing is left typed that is no tag; else that is shown."""
        if self.entry.text().strip():
            self._say(self.entry.problem())
            return False
        return True


class OwnHerbDialog(Sheet):
    """Asks for a herb of the practice's own; `answer` has it once the dialog was accepted."""

    def __init__(self, parent: QWidget | None, own: OwnHerb, *, is_new: bool) -> None:
        title = translate("Herbs", "New herb of your own") if is_new else own.name
        super().__init__(parent, title, do=translate("Herbs", "Save"))
        self._own = own
        self.answer: OwnHerb | None = None
        self._texts: dict[str, QLineEdit] = {}
        self._left, self._right = Form(), Form()
        self._make_names()
        self._make_figures()
        self._make_tags()
        self._fill(own)
        self.set_body(self._columns(), columns=WIDTH, lines=42)
        self._before = self._state()
        self._texts["name"].setFocus(Qt.FocusReason.OtherFocusReason)

    def _columns(self) -> QWidget:
        body, gap = QWidget(), self.fontMetrics().height()
        layout = QBoxLayout(self.direction(WIDTH), body)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(gap * 2)
        layout.addWidget(self._left, 1, Qt.AlignmentFlag.AlignTop)
        layout.addWidget(self._right, 1, Qt.AlignmentFlag.AlignTop)
        return body

    def _text(self, key: str, label: str, help_text: str = "") -> Row:
        self._texts[key] = QLineEdit()
        return self._left.row(label, self._texts[key], help_text=help_text)

    def _make_names(self) -> None:
        self._name_row = self._text("name", self.tr("Name"))
        self._texts["name"].textEdited.connect(lambda: self._name_row.explain(""))
        self._text("latin", self.tr("Latin name"))
        self._text("other", self.tr("Other names"), self.tr("With commas between them"))
        self._text("family", self.tr("Family"))
        self._text("part", self.tr("Part used"))
        self._text("reference", self.tr("Where you have it from"))
        self._text("remark", self.tr("Remark"))

    def _make_figures(self) -> None:
        self.age = TypedField(_read_age, placeholder=self.tr("18, if nothing is entered"))
        self.ethanol = TypedField(read_percent, placeholder=self.tr("none"))
        self._age_row, self._ethanol_row = self._left.line(
            (self.tr("From what age, years"), self.age),
            (self.tr("Least strength, % v/v"), self.ethanol),
        )
        explained(self._age_row, self.age, lambda _: "")
        explained(self._ethanol_row, self.ethanol, lambda _: "")
        self.pregnancy, self.lactation = self._level_box(), self._level_box()
        self._left.line(
            (self.tr("In pregnancy"), self.pregnancy),
            (self.tr("While breast-feeding"), self.lactation),
        )

    def _level_box(self) -> QComboBox:
        box = QComboBox()
        for level in LEVELS:
            box.addItem(level_words(level), level)
        return box

    def _make_tags(self) -> None:
        known, ask = vocabulary(), self.tr("Type a word")
        facts = {**known.conditions, **known.medicines}
        self.acts = TagsField(dict(known.actions), ask)
        self.cautions = TagsField(facts, ask, levels=True)
        self.constituents = TagsField(dict(known.constituents), ask)
        self._right.row(self.tr("Actions"), self.acts)
        self._right.row(self.tr("Cautions: conditions and medicines"), self.cautions)
        self._right.row(self.tr("What it holds"), self.constituents)

    def _fill(self, own: OwnHerb) -> None:
        for key in ("name", "latin", "family", "part", "reference", "remark"):
            self._texts[key].setText(getattr(own, key))
        self._texts["other"].setText(", ".join(own.other_names))
        self.age.setText("" if own.min_age is None else plain_number(own.min_age))
        self.ethanol.setText("" if own.min_ethanol is None else plain_number(own.min_ethanol))
        self.pregnancy.setCurrentIndex(LEVELS.index(own.pregnancy))
        self.lactation.setCurrentIndex(LEVELS.index(own.lactation))
        for field, tags in ((self.acts, own.actions), (self.constituents, own.constituents)):
            for tag in tags:
                field.add(tag)
        for one in own.cautions:
            self.cautions.add(one.tag, one.level)

    def _state(self) -> tuple[str, ...]:
        tags = (*self.acts.tags, "", *self.cautions.tags, "", *self.constituents.tags)
        fields = (field.text() for field in self.findChildren(QLineEdit))
        boxes = (box.currentText() for box in self.findChildren(QComboBox))
        return (*tags, *fields, *boxes)

    def is_changed(self) -> bool:
        """Whether something was typed or chosen."""
        return self._state() != self._before

    def carry_on(self) -> None:
        """Take the herb, where all can be read."""
        texts = {key: " ".join(one.text().split()) for key, one in self._texts.items()}
        age = take(self._age_row, self.age)
        ethanol = take(self._ethanol_row, self.ethanol)
        if texts["name"]:
            self._name_row.explain("")
        else:
            self._name_row.wrong(self.tr("A name is expected here"))
        fields = (self.acts, self.cautions, self.constituents)
        wrong = [field for field in fields if not field.is_right()]
        if self._left.to_first_wrong() or wrong:
            return
        others = (name.strip() for name in texts["other"].split(","))
        held = {one.tag: one.text for one in self._own.cautions}
        self.answer = replace(
            self._own,
            name=texts["name"],
            latin=texts["latin"],
            family=texts["family"],
            part=texts["part"],
            reference=texts["reference"],
            remark=texts["remark"],
            other_names=tuple(name for name in others if name),
            actions=self.acts.tags,
            constituents=self.constituents.tags,
            cautions=tuple(
                OwnCaution(tag, self.cautions.level(tag), held.get(tag, ""))
                for tag in self.cautions.tags
            ),
            pregnancy=Level(self.pregnancy.currentData()),
            lactation=Level(self.lactation.currentData()),
            min_age=age,
            min_ethanol=ethanol,
        )
        self.accept()


class OwnRangeDialog(Sheet):
    """Asks for a range of the practice's own for one herb and form.

    `answer` is the range, `dropped` the form whose range is to be taken back.
    """

    def __init__(
        self,
        parent: QWidget | None,
        herb: Herb,
        supplied: Herb | None,
        ranges: tuple[OwnRange, ...],
    ) -> None:
        title = translate("Herbs", "Own range for {herb}").format(herb=herb.name)
        super().__init__(parent, title, do=translate("Herbs", "Save"))
        self._herb, self._supplied = herb, supplied
        self._ranges = {one.form: one for one in ranges}
        self.answer: OwnRange | None = None
        self.dropped: TakenAs | None = None
        self._fields = Form()
        self._make_fields()
        self.said = words("", Role.ALARM, wrap=True)
        self.foot.addWidget(self.said)
        told = self.tr(
            "An own range goes before the published ones wherever amounts are compared, and is "
            "marked as the practice's own. The published ones stay beside it."
        )
        self.foot.addWidget(words(told, Role.QUIET, wrap=True))
        self._fields.keep_together()
        self.set_body(self._fields, columns=74, lines=36)
        self._show_form()

    def _make_fields(self) -> None:
        self.form = QComboBox()
        for form in TakenAs:
            self.form.addItem(form_words(form), form)
        self.low, self.high = TypedField(_read_daily), TypedField(_read_daily)
        self.ratio = TypedField(read_ratio, placeholder="1:5")
        self.reference = QLineEdit()
        self._fields.row(self.tr("Taken as"), self.form)
        self._low_row, self._high_row = self._fields.line(
            (self.tr("Least a day"), self.low), (self.tr("Most a day"), self.high)
        )
        self._ratio_row = self._fields.row(self.tr("Of a tincture in the ratio"), self.ratio)
        self._fields.row(self.tr("Where you have it from"), self.reference)
        self.drop = button(self.tr("Go by the published range again"), kind="link")
        self._fields.row("", self.drop)
        self.drop.setAccessibleName(self.drop.text())
        for row, field in (
            (self._low_row, self.low),
            (self._high_row, self.high),
            (self._ratio_row, self.ratio),
        ):
            explained(row, field, lambda _: "")
            field.textChanged.connect(self._say_beyond)
        self.form.currentIndexChanged.connect(self._show_form)
        self.drop.clicked.connect(self._drop)

    @property
    def _form(self) -> TakenAs:
        """The form chosen; Qt gives its text back alone."""
        return TakenAs(self.form.currentData())

    def _show_form(self) -> None:
        form = self._form
        liquid, one = form is TakenAs.LIQUID, self._ranges.get(form)
        unit = "mL" if liquid else "g"
        self._low_row.label.setText(self.tr("Least a day, {unit}").format(unit=unit))
        self._high_row.label.setText(self.tr("Most a day, {unit}").format(unit=unit))
        self._ratio_row.setVisible(liquid)
        self.low.setText(plain_number(one.low) if one else "")
        self.high.setText(plain_number(one.high) if one else "")
        self.ratio.setText(ratio_text(one.ratio) if one and one.ratio else "")
        self.reference.setText(one.reference if one else "")
        self.drop.setVisible(one is not None)
        self._say_beyond()

    def _read(self) -> OwnRange | None:
        """The range as typed; None where something is missing or wrong, then shown."""
        low, high = take(self._low_row, self.low), take(self._high_row, self.high)
        liquid = self._form is TakenAs.LIQUID
        ratio = take(self._ratio_row, self.ratio) if liquid else None
        if low is None or high is None or (liquid and ratio is None):
            return None
        reference = " ".join(self.reference.text().split())
        return OwnRange(self._herb.id, self._form, low, high, ratio, reference)

    def _say_beyond(self) -> None:
        """Say where the range goes beyond what is published, while it is typed."""
        try:
            low, high, ratio = self.low.value(), self.high.value(), self.ratio.value()
        except ValueError:
            low = high = ratio = None
        self.said.setText("")
        form = self._form
        if low is None or high is None or (form is TakenAs.LIQUID and ratio is None):
            return
        one = OwnRange(self._herb.id, form, low, high, ratio)
        most = published_maximum(one, self._supplied)
        if most is not None:
            told = self.tr("This goes beyond the published most of {most} g of dried herb a day.")
            self.said.setText(told.format(most=grams_text(most)))

    def carry_on(self) -> None:
        """Take the range, where it is one."""
        for row, field in ((self._low_row, self.low), (self._high_row, self.high)):
            if not field.text().strip():
                row.wrong(self.tr("An amount a day is expected here, such as 3"))
        if self._form is TakenAs.LIQUID and not self.ratio.text().strip():
            self._ratio_row.wrong(self.tr("A ratio is expected here, such as 1:5"))
        one = self._read()
        if one is not None and (one.low > one.high or one.high <= 0):
            self._high_row.wrong(
                self.tr("The most is expected to be above 0 and not below the least")
            )
            one = None
        if one is None:
            self._fields.to_first_wrong()
            return
        self.answer = one
        self.accept()

    def _drop(self) -> None:
        self.dropped = self._form
        self.accept()
