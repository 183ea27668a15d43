"""The choices of giving: which papers and how, what the phone gets, what is saved beside them."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Generic, TypeVar

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QLineEdit, QVBoxLayout, QWidget

from sennight.desktop.kit.forms import MOST_IN_A_PATH, FieldForm
from sennight.desktop.kit.paper import A4, LETTER, usual_paper
from sennight.desktop.kit.translating import translate
from sennight.domain.papers import PaperKind
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.take_home.choices import FOLDED, SMALL, ClockHours, Print, Reach
from sennight.practice.given_papers import PARTS, GiveChoices

MINUTES = (5, 10, 15, 30, 60)
_TICKED = (PaperKind.HANDOUT, PaperKind.DIARY, PaperKind.REMINDERS)

Value = TypeVar("Value")


class Pick(QComboBox, Generic[Value]):
    """One of a few values, each under its words."""

    def __init__(self, values: Sequence[tuple[Value, str]], first: Value) -> None:
        super().__init__()
        self.values = [value for value, _ in values]
        self.addItems([words for _, words in values])
        self.pick(first)

    def pick(self, value: Value) -> None:
        """Choose a value; KeyError-free: one that is not offered is left alone."""
        if value in self.values:
            self.setCurrentIndex(self.values.index(value))

    @property
    def value(self) -> Value:
        """The value that is chosen."""
        return self.values[self.currentIndex()]


class GiveFields(QObject):
    """All fields, and what they come to; `changed` after each change."""

    changed = Signal()

    def __init__(self, usual: ReminderChoices) -> None:
        super().__init__()
        self.parts = {kind: QCheckBox(part_words(kind)) for kind in PARTS}
        for kind in _TICKED:
            self.parts[kind].setChecked(True)
        self.paper = Pick(_papers(), usual_paper())
        self.letters = Pick(_sizes(), Print.STANDARD)
        self.hours = Pick(_clocks(), ClockHours.TWENTY_FOUR)
        self.reach = Pick(_reaches(), Reach.REVIEW)
        self.zone = Pick(_zones(usual.zone), usual.zone)
        self.alarm = Pick(_alerts(usual.alarm), usual.alarm)
        self.joined = Pick(_joins(usual.join_within), usual.join_within)
        self.discreet = QCheckBox(self.tr("Hide remedy names on the lock screen"))
        self.markers = QCheckBox(self.tr("Also add phases, days off and reviews"))
        self.markers.setChecked(usual.markers)
        self.by_phase = QCheckBox(self.tr("One calendar file per phase"))
        self.fresh = QCheckBox(self.tr("A fresh calendar, if the phone shows reminders twice"))
        self.named = QCheckBox(self.tr("Put the client’s name in the file names"))
        self.signs = QCheckBox(self.tr("Print [?] for letters that the font lacks"))
        self.email = QCheckBox(self.tr("Also an e-mail file with all of it attached"))
        self.subscribed = QLineEdit()
        self.subscribed.setMaxLength(MOST_IN_A_PATH)
        self.boxes = (
            *self.parts.values(),
            *(self.discreet, self.markers, self.by_phase, self.fresh),
            *(self.named, self.signs, self.email),
        )
        for box in self.boxes:
            box.toggled.connect(self.changed)
        picks = (self.paper, self.letters, self.hours, self.reach)
        for pick in (*picks, self.zone, self.alarm, self.joined):
            pick.currentIndexChanged.connect(self.changed)
        self.subscribed.textChanged.connect(self.changed)

    def choices(self) -> GiveChoices:
        """What was chosen."""
        subscribed = self.subscribed.text().strip()
        return GiveChoices(
            ReminderChoices(
                zone=self.zone.value,
                discreet=self.discreet.isChecked(),
                alarm=self.alarm.value,
                join_within=self.joined.value,
                markers=self.markers.isChecked(),
                by_phase=self.by_phase.isChecked(),
            ),
            paper=self.paper.value,
            letters=self.letters.value,
            hours=self.hours.value,
            reach=self.reach.value,
            fresh=self.fresh.isChecked(),
            named=self.named.isChecked(),
            replace_missing=self.signs.isChecked(),
            email=self.email.isChecked(),
            subscribed=Path(subscribed).expanduser() if subscribed else None,
            parts=frozenset(kind for kind, box in self.parts.items() if box.isChecked()),
        )

    def _how_to_print(self) -> str:
        """What a booklet asks of the printer; nothing for other papers."""
        if self.paper.value != FOLDED:
            return ""
        return self.tr("Print on both sides, flipped on the short edge; then fold.")

    def pages(self) -> tuple[tuple[str, QWidget], ...]:
        """The fields on pages, each with its name: papers, print, reminders, files."""
        papers, reminders, saving = FieldForm(), FieldForm(), FieldForm()
        paper, *_ = papers.line(
            (self.tr("Paper"), self.paper), (self.tr("Size of print"), self.letters)
        )
        self.paper.currentIndexChanged.connect(lambda: paper.explain(self._how_to_print()))
        papers.line((self.tr("Clock"), self.hours), (self.tr("Until"), self.reach))
        reminders.row(self.tr("Time zone"), self.zone)
        reminders.line((self.tr("Alert"), self.alarm), (self.tr("Combine doses"), self.joined))
        saving.row(self.tr("Folder synced with the phone (optional)"), self.subscribed)
        return (
            (self.tr("Papers"), _page(*self.parts.values())),
            (self.tr("Print"), _page(papers, self.signs)),
            (self.tr("Reminders"), _page(reminders, self.discreet, self.markers)),
            (self.tr("Files"), _page(self.named, self.email, self.by_phase, self.fresh, saving)),
        )


def _page(*parts: QWidget) -> QWidget:
    page = QWidget()
    layout = QVBoxLayout(page)
    layout.setContentsMargins(0, 0, 0, 0)
    for part in parts:
        layout.addWidget(part)
    layout.addStretch(1)
    return page


def part_words(kind: PaperKind) -> str:
    """What can be given, in words."""
    words = {
        PaperKind.HANDOUT: translate("GiveFields", "Handout"),
        PaperKind.DIARY: translate("GiveFields", "Diary sheet"),
        PaperKind.REMINDERS: translate("GiveFields", "Calendar for the phone"),
        PaperKind.START_LETTER: translate("GiveFields", "Letter to doctor and pharmacist"),
        PaperKind.PRACTITIONER: translate("GiveFields", "Practitioner’s copy"),
        PaperKind.REVIEW: translate("GiveFields", "Review summary"),
    }
    return words[kind]


def _papers() -> list[tuple[str, str]]:
    folded = translate("GiveFields", "A5 booklet, folded from A4")
    return [(A4, A4), (LETTER, LETTER), (SMALL, SMALL), (FOLDED, folded)]


def _sizes() -> list[tuple[Print, str]]:
    return [
        (Print.STANDARD, translate("GiveFields", "Standard")),
        (Print.LARGE, translate("GiveFields", "Large print")),
    ]


def _clocks() -> list[tuple[ClockHours, str]]:
    return [
        (ClockHours.TWENTY_FOUR, translate("GiveFields", "24-hour (18:30)")),
        (ClockHours.TWELVE, translate("GiveFields", "12-hour (6:30 pm)")),
    ]


def _reaches() -> list[tuple[Reach, str]]:
    return [
        (Reach.REVIEW, translate("GiveFields", "The next visit")),
        (Reach.WHOLE, translate("GiveFields", "The course’s end")),
    ]


def _zones(own: str | None) -> list[tuple[str | None, str]]:
    phone = (None, translate("GiveFields", "The phone’s own, wherever it is"))
    if own is None:
        return [phone]
    words = translate("GiveFields", "The client’s: {zone}")
    return [(own, words.format(zone=own.replace("_", " "))), phone]


def _alerts(usual: int | None) -> list[tuple[int | None, str]]:
    none = translate("GiveFields", "None")
    at = translate("GiveFields", "At the time")
    before = translate("GiveFields", "{minutes} minutes before")
    offered = sorted({*MINUTES, *([usual] if usual else [])})
    return [
        (0, at),
        *((minutes, before.format(minutes=minutes)) for minutes in offered),
        (None, none),
    ]


def _joins(usual: int) -> list[tuple[int, str]]:
    never = translate("GiveFields", "Each on its own")
    within = translate("GiveFields", "Within {minutes} minutes")
    offered = sorted({*MINUTES, *([usual] if usual else [])})
    return [(0, never), *((minutes, within.format(minutes=minutes)) for minutes in offered)]
