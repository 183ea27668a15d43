"""The dialog for a reaction that a client tells of, to a herb that they took elsewhere."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from sennight.desktop.clients.chosen_tags import ChosenTags
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, TypedField, read_field
from sennight.desktop.kit.reading import read_date
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.courses.clients import Harm, Outcome
from sennight.practice.reactions import Reaction

HARMS = (None, *Harm)
OUTCOMES = (None, *Outcome)


def harm_words(harm: Harm | None) -> str:
    """How bad a reaction was, in words."""
    names = {
        None: translate("Reactions", "not recorded"),
        Harm.MILD: translate("Reactions", "mild"),
        Harm.MODERATE: translate("Reactions", "moderate"),
        Harm.SEVERE: translate("Reactions", "severe"),
    }
    return names[harm]


def outcome_words(outcome: Outcome | None) -> str:
    """What was done after a reaction, in words."""
    names = {
        None: translate("Reactions", "not recorded"),
        Outcome.GOES_ON: translate("Reactions", "still taking it"),
        Outcome.LESS: translate("Reactions", "takes less"),
        Outcome.STOPPED: translate("Reactions", "stopped"),
    }
    return names[outcome]


class PastReactionDialog(FormDialog):
    """Asks for a reaction; `answer` has it once the dialog was accepted."""

    """`names` are those of the herbs that may be suspected, by their ids."""

    def __init__(self, parent: QWidget | None, names: Mapping[str, str], *, today: date) -> None:
        super().__init__(parent, self.tr("A reaction in the past"), do=self.tr("Add"))
        self._today, self._names = today, names
        self.answer: Reaction | None = None
        self._make_form()
        note = self.tr("It is permanent once the client's record is saved.")
        self.foot.addWidget(text_label(note, Role.QUIET, wrap=True))
        self.set_body(self.form, columns=72, lines=24)
        self.herbs.entry.setFocus(Qt.FocusReason.OtherFocusReason)

    def _make_form(self) -> None:
        self.form = FieldForm()
        names = self._names
        self.herbs = ChosenTags(
            names,
            lambda herb: names[herb],
            self.tr("Type a herb"),
        )
        self.remedy, self.what = QLineEdit(), QLineEdit()
        read_past = partial(read_date, today=self._today, past=True)
        self.day = TypedField(read_past, placeholder=self.tr("1 May 2019"))
        self.harm, self.outcome = QComboBox(), QComboBox()
        self.harm.addItems([harm_words(harm) for harm in HARMS])
        self.outcome.addItems([outcome_words(outcome) for outcome in OUTCOMES])
        self.herbs_row = self.form.row(self.tr("Suspected herbs"), self.herbs)
        self.what_row = self.form.row(self.tr("What happened"), self.what)
        self.remedy_row, self.day_row = self.form.line(
            (self.tr("What was taken"), self.remedy), (self.tr("Day, or about"), self.day)
        )
        self.form.line((self.tr("Severity"), self.harm), (self.tr("What was done"), self.outcome))
        self.herbs.changed.connect(lambda: self.herbs_row.explain(""))
        self.what.textEdited.connect(lambda: self.what_row.explain(""))
        self.day.textEdited.connect(lambda: self.day_row.explain(""))

    def is_changed(self) -> bool:
        """Whether anything was typed or chosen."""
        typed = (self.what, self.remedy, self.day, self.herbs.entry)
        return bool(self.herbs.tags) or any(field.text().strip() for field in typed)

    def submit(self) -> None:
        """Accept with the reaction, or show at its field what is wrong."""
        what, day = self.what.text().strip(), read_field(self.day_row, self.day)
        if not self.herbs.is_right():
            return
        if not self.herbs.tags:
            self.herbs_row.wrong(self.tr("Choose the suspected herbs"))
        if not what:
            self.what_row.wrong(self.tr("Enter what happened"))
        if day is None and not self.day_row.is_wrong:
            self.day_row.wrong(self.tr("Enter a date, for example 1 May 2019"))
        if day is not None and day > self._today:
            self.day_row.wrong(self.tr("The date is in the future"))
        if self.form.to_first_wrong() or day is None:
            return
        remedy = self.remedy.text().strip() or self.tr("taken elsewhere")
        harm, outcome = HARMS[self.harm.currentIndex()], OUTCOMES[self.outcome.currentIndex()]
        self.answer = Reaction(day, remedy, self.herbs.tags, what, harm, outcome)
        self.accept()
