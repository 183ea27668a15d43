"""The dialog in which the practice enters a herb of its own."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLineEdit,
    QWidget,
)

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.drafts import as_list, as_object, leaving_out_what_cannot_be_read
from sennight.desktop.kit.forms import FieldForm, FieldRow, TypedField, explained, read_field
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.materia_medica.words import LEVELS, level_words
from sennight.desktop.parts.amounts_reading import (
    Bounds,
    read_number,
    read_percent,
)
from sennight.desktop.parts.tag_lines import TagLines
from sennight.desktop.parts.tags import tag_words
from sennight.domain.amounts import plain_number
from sennight.domain.herbs.herbs import Level
from sennight.domain.herbs.own_herbs import OwnCaution, OwnHerb
from sennight.knowledge.vocabulary import vocabulary
from sennight.practice.drafts import Json

WIDTH = 108
"""Columns of text of the dialog, and from how many on its halves stand side by side."""


def _read_age(text: str) -> Fraction:
    what = translate("Herbs", "an age in years, for example 12")
    return read_number(text, Bounds(what, 120, from_low=True))


class TagLine(QWidget):
    """A tag, how strongly it holds where that is asked, and a way to take it out."""

    removed = Signal(str)

    def __init__(self, tag: str, meaning: str, level: Level | None) -> None:
        super().__init__()
        name = tag_words(tag)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        label = text_label(name[:1].upper() + name[1:], Role.STRONG, wrap=True)
        label.setToolTip(meaning)
        row.addWidget(label, 1)
        self.box = None if level is None else self._level_box(name, level)
        if self.box is not None:
            row.addWidget(self.box)
        out = button(self.tr("Remove"), kind="link")
        out.setAccessibleName(self.tr("Remove {name}").format(name=name))
        out.clicked.connect(lambda: self.removed.emit(tag))
        row.addWidget(out)

    def _level_box(self, name: str, level: Level) -> QComboBox:
        box = QComboBox()
        box.setAccessibleName(self.tr("How strongly: {name}").format(name=name))
        for choice in LEVELS:
            box.addItem(level_words(choice), choice)
        box.setCurrentIndex(LEVELS.index(level))
        return box


class TagsField(TagLines[TagLine]):
    """Tags of one kind, each on a line with a way to take it out; cautions with a level."""

    def __init__(self, known: dict[str, str], placeholder: str, *, levels: bool = False) -> None:
        super().__init__(known, placeholder)
        self._known, self._levels = known, levels
        self.beneath = text_label("", Role.ALARM, wrap=True)
        self.beneath.hide()
        self._layout.addWidget(self.beneath)
        self.entry.picked.connect(self.add)
        self.entry.unknown.connect(self._update_text)
        self.entry.textEdited.connect(self.beneath.hide)

    def _update_text(self, text: str) -> None:
        self.beneath.setText(text)
        self.beneath.show()

    def add(self, tag: str, level: Level = Level.CAUTION) -> None:
        """One more tag; one that is there already is not added again."""
        self.beneath.hide()
        if tag in self._lines:
            return
        line = TagLine(tag, self._known.get(tag, ""), level if self._levels else None)
        line.removed.connect(self._take_out)
        self._put(tag, line)
        self.changed.emit()

    def level(self, tag: str) -> Level:
        """The level that was chosen for a tag."""
        box = self._lines[tag].box
        return Level(box.currentData()) if box is not None else Level.CAUTION

    def draft_value(self) -> Json:
        """The tags with their levels, and what is half typed."""
        tags = [[tag, str(self.level(tag))] for tag in self.tags]
        return {"typed": self.entry.text(), "tags": [[*pair] for pair in tags]}

    def put_draft_value(self, value: Json) -> None:
        """Take the tags again."""
        with leaving_out_what_cannot_be_read():
            content = as_object(value)
            levels = [
                (str(tag), Level(str(level)))
                for tag, level in map(as_list, as_list(content["tags"]))
            ]
            for tag in self.tags:
                self._take_out(tag)
            for tag, level in levels:
                self.add(tag, level)
            self.entry.setText(str(content["typed"]))

    def is_right(self) -> bool:
        """Whether nothing is left typed that is no tag; else that is shown."""
        if self.entry.text().strip():
            self._update_text(self.entry.problem())
            return False
        return True


class OwnHerbDialog(FormDialog):
    """Asks for a herb of the practice's own; `answer` has it once the dialog was accepted."""

    def __init__(self, parent: QWidget | None, own: OwnHerb, *, is_new: bool) -> None:
        title = translate("Herbs", "New herb of your own") if is_new else own.name
        super().__init__(parent, title, do=translate("Herbs", "Save"))
        self._own = own
        self.answer: OwnHerb | None = None
        self._texts: dict[str, QLineEdit] = {}
        self._left, self._right = FieldForm(), FieldForm()
        self._make_names()
        self._make_figures()
        self._make_tags()
        self._fill(own)
        self.set_body(self.halves(self._left, self._right, columns=WIDTH), columns=WIDTH, lines=42)
        self._before = self._state()
        self._texts["name"].setFocus(Qt.FocusReason.OtherFocusReason)

    def _text(self, key: str, label: str, help_text: str = "") -> FieldRow:
        return self._left.row(label, self._field(key), help_text=help_text)

    def _field(self, key: str) -> QLineEdit:
        self._texts[key] = QLineEdit()
        return self._texts[key]

    def _make_names(self) -> None:
        self._name_row = self._text("name", self.tr("Name"))
        self._texts["name"].textEdited.connect(lambda: self._name_row.explain(""))
        self._text("latin", self.tr("Latin name"))
        self._text("other", self.tr("Other names"), self.tr("With commas between them"))
        self._left.line(
            (self.tr("Family"), self._field("family")), (self.tr("Part used"), self._field("part"))
        )
        self._text("reference", self.tr("Source"))
        self._text("remark", self.tr("Remark"))

    def _make_figures(self) -> None:
        self.age = TypedField(_read_age, placeholder=self.tr("18, if nothing is entered"))
        self.ethanol = TypedField(read_percent, placeholder=self.tr("none"))
        self._age_row, self._ethanol_row = self._right.line(
            (self.tr("Minimum age, years"), self.age),
            (self.tr("Minimum strength, % v/v"), self.ethanol),
        )
        explained(self._age_row, self.age, lambda _: "")
        explained(self._ethanol_row, self.ethanol, lambda _: "")
        self.pregnancy, self.lactation = self._level_box(), self._level_box()
        self._right.line(
            (self.tr("In pregnancy"), self.pregnancy),
            (self.tr("While breastfeeding"), self.lactation),
        )

    def _level_box(self) -> QComboBox:
        box = QComboBox()
        for level in LEVELS:
            box.addItem(level_words(level), level)
        return box

    def _make_tags(self) -> None:
        known, ask = vocabulary(), self.tr("Search")
        facts = {**known.conditions, **known.medicines}
        self.acts = TagsField(dict(known.actions), ask)
        self.cautions = TagsField(facts, ask, levels=True)
        self.constituents = TagsField(dict(known.constituents), ask)
        self._right.row(self.tr("Actions"), self.acts)
        self._right.row(self.tr("Cautions: conditions and medicines"), self.cautions)
        self._right.row(self.tr("Constituents"), self.constituents)

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
        for caution in own.cautions:
            self.cautions.add(caution.tag, caution.level)

    def _state(self) -> tuple[str, ...]:
        tags = (*self.acts.tags, "", *self.cautions.tags, "", *self.constituents.tags)
        fields = (field.text() for field in self.findChildren(QLineEdit))
        boxes = (box.currentText() for box in self.findChildren(QComboBox))
        return (*tags, *fields, *boxes)

    def is_changed(self) -> bool:
        """Whether something was typed or chosen."""
        return self._state() != self._before

    def submit(self) -> None:
        """Take the herb, where all can be read."""
        texts = {key: " ".join(field.text().split()) for key, field in self._texts.items()}
        age = read_field(self._age_row, self.age)
        ethanol = read_field(self._ethanol_row, self.ethanol)
        if texts["name"]:
            self._name_row.explain("")
        else:
            self._name_row.wrong(self.tr("Enter a name"))
        fields = (self.acts, self.cautions, self.constituents)
        wrong = [field for field in fields if not field.is_right()]
        if self._left.to_first_wrong() or self._right.to_first_wrong() or wrong:
            return
        others = (name.strip() for name in texts["other"].split(","))
        held = {caution.tag: caution.text for caution in self._own.cautions}
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
