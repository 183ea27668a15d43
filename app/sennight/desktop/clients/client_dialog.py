"""The dialog in which a client's record is made or changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, time
from functools import partial
from itertools import pairwise
from zoneinfo import available_timezones

from PySide6.QtCore import QStringListModel, Qt
from PySide6.QtWidgets import QCheckBox, QComboBox, QCompleter, QLineEdit, QWidget

from sennight.desktop.clients.facts_field import FactsField
from sennight.desktop.clients.reactions_field import ReactionsField
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, FieldRow, TypedField, explained, read_field
from sennight.desktop.kit.reading import read_clock, read_date, read_weight, read_zone
from sennight.desktop.kit.widgets import button, offer_list
from sennight.desktop.parts.standing import age_words
from sennight.domain.amounts import plain_number
from sennight.domain.courses.clients import Client, Fact, Reaction, Sex, Topic
from sennight.domain.day import DEFAULT_TIMES, ClientDay, DayOrderError, Moment
from sennight.domain.directions.plain_words import plain_date, plain_day, plain_moment
from sennight.practice.clients import ClientEntry

Answer = tuple[Client, str, str]
"""A client's record, the contact and the note."""

OFTEN = ("pregnancy", "lactation", "planned-surgery")
"""Conditions that a button takes, since they change from one visit to the next."""

TIMES_ABREAST = 3
"""So many times of day stand in a line."""

TO_NEXT = Qt.FocusReason.TabFocusReason

SEXES = (None, Sex.FEMALE, Sex.MALE)
"""In the order in which the box offers them."""

WIDTH, LEAST_WIDTH = 128, 90
"""Columns of text that the dialog takes with its halves side by side, and with which they fit."""


class ClientDialog(FormDialog):
    """Asks for a client's record; `answer` has it once the dialog was accepted.

    `past_reactions` are reactions that the client told of, to be recorded for good; `names` are
    those of the herbs by their ids, the practice's own among them.
    """

    def __init__(
        self,
        parent: QWidget | None,
        entry: ClientEntry | None = None,
        *,
        names: Mapping[str, str],
        today: date,
    ) -> None:
        title = self.tr("Change client") if entry else self.tr("New client")
        do = self.tr("Save") if entry else self.tr("Create client")
        super().__init__(parent, title, do=do)
        self._today, self._names = today, names
        self._note = entry.note if entry else ""
        self._was = entry.client if entry else Client("")
        self.answer: Answer | None = None
        self.past_reactions: tuple[Reaction, ...] = ()
        self._make_person()
        self._make_day()
        self._make_facts()
        self._fill(self._was, entry.contact if entry else "")
        body = self.halves(self._left, self._right, columns=LEAST_WIDTH, shares=(2, 3))
        self.set_body(body, columns=WIDTH, lines=31)
        self._before = self._state()
        self.name.setFocus(Qt.FocusReason.OtherFocusReason)

    # Layout

    def _make_person(self) -> None:
        self.name, self.contact = QLineEdit(), QLineEdit()
        read_past = partial(read_date, today=self._today, past=True)
        self.born = TypedField(read_past, placeholder=self.tr("1 May 1970"))
        self.weight = TypedField(read_weight, placeholder=self.tr("not known"))
        self._left = FieldForm()
        self._name_row = self._left.row(self.tr("Name"), self.name)
        self._born_row, self._weight_row = self._left.line(
            (self.tr("Born"), self.born), (self.tr("Weight in kg"), self.weight)
        )
        self.sex = QComboBox()
        self.sex.addItems([self.tr("not recorded"), self.tr("female"), self.tr("male")])
        self._left.row(self.tr("Sex"), self.sex)
        self._left.row(self.tr("Contact"), self.contact)
        self.name.textEdited.connect(lambda: self._name_row.explain(""))
        explained(self._born_row, self.born, self._born_words)
        explained(self._weight_row, self.weight, lambda _: "")

    def _born_words(self, born: date) -> str:
        if born > self._today:
            return self.tr("The date is in the future")
        return f"{plain_day(born)}, {age_words(born, self._today)}"

    def _make_day(self) -> None:
        """The client's day and zone: the usual ones, until somebody asks for others."""
        self.unfold = button(self.tr("Other time zone or times of day…"), kind="link")
        self.unfold.clicked.connect(self._unfold)
        self._left.place(self.unfold)
        self._day_form = FieldForm()
        self._left.place(self._day_form)
        self._make_zone()
        self.times: dict[Moment, TypedField[time]] = {}
        self._time_rows: dict[Moment, FieldRow] = {}
        moments = tuple(Moment)
        for start in range(0, len(moments), TIMES_ABREAST):
            group = moments[start : start + TIMES_ABREAST]
            for moment in group:
                usual = DEFAULT_TIMES[moment].strftime("%H:%M")
                self.times[moment] = TypedField(read_clock, placeholder=usual)
            rows = self._day_form.narrow_line(*((_moment(m), self.times[m]) for m in group))
            self._time_rows |= dict(zip(group, rows, strict=True))
        for moment, row in self._time_rows.items():
            explained(row, self.times[moment], lambda _: "")
        typed: tuple[QLineEdit, ...] = (self.zone, *self.times.values())
        for field in typed:
            field.textChanged.connect(self._unfold)
        self._day_form.hide()

    def _make_zone(self) -> None:
        self.zone = TypedField(read_zone, placeholder=self.tr("as this computer"))
        self.zone.setCompleter(_zone_completer(self.zone))
        self._zone_row = self._day_form.row(
            self.tr("Time zone"),
            self.zone,
            help_text=self.tr("For reminders, where the client lives: Europe/London"),
        )
        explained(self._zone_row, self.zone, lambda _: "")

    def _unfold(self) -> None:
        """Show the zone and the times of day."""
        if self._day_form.isHidden():
            was_pressed = self.unfold.hasFocus()
            self.unfold.hide()
            self._day_form.show()
            self.grow()
            if was_pressed:
                self.zone.setFocus(Qt.FocusReason.OtherFocusReason)

    def _make_facts(self) -> None:
        ask, today = self.tr("Type a name"), self._today
        self.conditions = FactsField(Topic.CONDITIONS, ask, today=today, often=OFTEN)
        self.medicines = FactsField(
            Topic.MEDICINES, self.tr("Type a name and dose: ramipril 5 mg"), today=today
        )
        self.allergies = FactsField(Topic.ALLERGIES, ask, today=today)
        self.medicines.has_condition = self.conditions.holds
        self.medicines.present.connect(lambda tag: self.conditions.add(Fact(tag)))
        self.reactions = ReactionsField(self._was.reactions, self._names, today=today)
        self._right = FieldForm()
        how = self.tr("Enter adds what is typed. Enter in an empty field goes on to the next.")
        self._right.say(how)
        self._right.row(self.tr("Conditions"), self.conditions)
        self._right.row(self.tr("Medicines"), self.medicines)
        self._right.row(self.tr("Allergies"), self.allergies)
        self._right.row(self.tr("Reactions to herbs"), self.reactions)
        fields = tuple(self._fields.values())
        for field, after in pairwise(fields):
            field.entry.onward.connect(partial(after.entry.setFocus, TO_NEXT))
        fields[-1].entry.onward.connect(self.submit)
        for field in fields:
            field.changed.connect(self.grow)

    @property
    def _asked(self) -> dict[Topic, QCheckBox]:
        return {
            Topic.CONDITIONS: self.conditions.all_asked,
            Topic.MEDICINES: self.medicines.all_asked,
            Topic.ALLERGIES: self.allergies.all_asked,
            Topic.REACTIONS: self.reactions.all_asked,
        }

    # Values

    def _fill(self, client: Client, contact: str) -> None:
        self.name.setText(client.name)
        self.contact.setText(contact)
        self.born.setText(plain_date(client.born) if client.born else "")
        self.weight.setText(plain_number(client.weight_kg) if client.weight_kg else "")
        self.zone.setText(client.zone or "")
        for moment, at in client.day.times.items():
            if at != DEFAULT_TIMES[moment]:
                self.times[moment].setText(at.strftime("%H:%M"))
        for topic, field in self._fields.items():
            for fact in client.facts(topic):
                field.add(fact)
        for topic, box in self._asked.items():
            box.setChecked(topic in client.asked)
        self.sex.setCurrentIndex(SEXES.index(client.sex))

    @property
    def _fields(self) -> dict[Topic, FactsField]:
        return {
            Topic.CONDITIONS: self.conditions,
            Topic.MEDICINES: self.medicines,
            Topic.ALLERGIES: self.allergies,
        }

    def _state(self) -> tuple[object, ...]:
        """All that can be typed or chosen, to see whether something changed."""
        facts = (fact for field in self._fields.values() for fact in ("", *field.state))
        boxes = (box.isChecked() for box in self._asked.values())
        texts = (field.text() for field in self.findChildren(QLineEdit))
        return (*facts, *boxes, *self.reactions.added, self.sex.currentIndex(), *texts)

    def is_changed(self) -> bool:
        """Whether anything differs from what the dialog began with."""
        return self._state() != self._before

    def submit(self) -> None:
        """Accept with the record as typed, or show what is wrong at its field."""
        client = self._client()
        if self._left.to_first_wrong() or self._day_is_wrong() or client is None:
            return
        self.answer = (client, self.contact.text().strip(), self._note)
        self.past_reactions = tuple(self.reactions.added)
        self.accept()

    def _day_is_wrong(self) -> bool:
        if any(row.is_wrong for row in self._day_form.rows):
            self._unfold()
        return self._day_form.to_first_wrong()

    def _client(self) -> Client | None:
        """The record; None where something is wrong with it, which is then shown."""
        name = self.name.text().strip()
        if not name:
            self._name_row.wrong(self.tr("Enter a name"))
        born = read_field(self._born_row, self.born)
        if born and born > self._today:
            self._born_row.wrong(self.tr("Enter a date of birth in the past"))
        weight, zone = (
            read_field(self._weight_row, self.weight),
            read_field(self._zone_row, self.zone),
        )
        day = self._day()
        conditions, medicines, allergies = (
            field.facts() for field in (self.conditions, self.medicines, self.allergies)
        )
        if not name or day is None or None in (conditions, medicines, allergies):
            return None
        return replace(
            self._was,
            name=name,
            born=born,
            zone=zone,
            weight_kg=weight,
            conditions=conditions or (),
            medicines=medicines or (),
            allergies=allergies or (),
            reactions=(*self._was.reactions, *self.reactions.added),
            day=day,
            asked=tuple(topic for topic, box in self._asked.items() if box.isChecked()),
            sex=SEXES[self.sex.currentIndex()],
        )

    def _day(self) -> ClientDay | None:
        times = {}
        for moment, row in self._time_rows.items():
            row.explain("")
            value = read_field(row, self.times[moment])
            if value is not None:
                times[moment] = value
        try:
            return ClientDay.at(times)
        except DayOrderError as error:
            self._time_rows[error.moment].wrong(
                self.tr("This must be later than the one before it")
            )
            return None


def _moment(moment: Moment) -> str:
    name = plain_moment(moment)
    return name[:1].upper() + name[1:]


def _zone_completer(field: QLineEdit) -> QCompleter:
    completer = QCompleter(QStringListModel(sorted(available_timezones()), field), field)
    completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
    completer.setFilterMode(Qt.MatchFlag.MatchContains)
    completer.setPopup(offer_list())
    return completer
