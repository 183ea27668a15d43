"""Red flags that stand: told first on the client's pages until a later check has none."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from sennight.desktop.kit.paper_dialog import hand_out
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.red_flags.flags_dialog import RedFlagsDialog
from sennight.desktop.red_flags.referral_dialog import ReferralDialog
from sennight.domain.directions.plain_words import plain_date
from sennight.practice.card import practice_card
from sennight.practice.clients import client_entry
from sennight.practice.letters import taken_now
from sennight.practice.opening import OpenPractice
from sennight.practice.papers import About, NameParts
from sennight.practice.red_flags import (
    RedFlagCheck,
    Referral,
    flags_of,
    list_checks,
    record_check,
    red_flags,
)


class FlagsBanner(QFrame):
    """The last check of one client where it found something; asks anew, writes the letter."""

    changed = Signal()

    def __init__(
        self, practice: OpenPractice, now: Callable[[], datetime], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setObjectName("banner")
        self._practice, self._now = practice, now
        self._client_id = ""
        self.check: RedFlagCheck | None = None
        self.message = text_label("", Role.STRONG, wrap=True)
        self.signs = text_label("", wrap=True)
        self.letter = button(self.tr("Referral letter…"))
        self.again = button(self.tr("Check again…"))
        self.letter.clicked.connect(self.write_letter)
        self.again.clicked.connect(self.ask)
        texts = QVBoxLayout()
        texts.setSpacing(2)
        texts.addWidget(self.message)
        texts.addWidget(self.signs)
        self._layout = QHBoxLayout(self)
        self._layout.addLayout(texts, 1)
        for link in (self.letter, self.again):
            self._layout.addWidget(link, 0, Qt.AlignmentFlag.AlignTop)
        self.hide()

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self._layout.setContentsMargins(
            theme.unit * 3, theme.unit * 2, theme.unit * 3, theme.unit * 2
        )
        self._layout.setSpacing(theme.unit * 2)
        for label in (
            self.message,
            self.signs,
        ):  # else each asks for the height of a narrow column
            label.setMinimumHeight(theme.line)

    @property
    def today(self) -> date:
        """The day it is here."""
        return self._now().date()

    def show_client(self, client_id: str) -> None:
        """Show what stands for a client, by the last check; nothing where it found nothing."""
        self._client_id = client_id
        checks = list_checks(self._practice, client_id)
        self.check = checks[-1] if checks else None
        flags = flags_of(self.check, red_flags()) if self.check else ()
        if self.check and flags:
            template = self.tr("Red flags on {day}. {action}.")
            self.message.setText(
                template.format(day=plain_date(self.check.day), action=flags[0].action)
            )
            self.signs.setText("; ".join(flag.sign for flag in flags) + ".")
            self.setAccessibleName(self.message.text())
        self.setVisible(bool(flags))

    @property
    def stands(self) -> bool:
        """Whether the last check found something."""
        return bool(self.check and self.check.ticked)

    @property
    def is_asked(self) -> bool:
        """Whether anybody ever asked for red flags."""
        return self.check is not None

    def asked_words(self) -> str:
        """When red flags were asked for last, in words."""
        if self.check is None:
            return self.tr("Red flags: not asked yet.")
        if self.stands:
            return self.message.text()
        template = self.tr("No red flag on {day}.")
        return template.format(day=plain_date(self.check.day))

    def short_words(self) -> str:
        """The same under a heading that says what it is about."""
        if self.check is None:
            return self.tr("Not asked yet")
        template = self.tr("Found on {day}") if self.stands else self.tr("None on {day}")
        return template.format(day=plain_date(self.check.day))

    def ask(self) -> None:
        """Ask for the signs, and keep the answers."""
        name = client_entry(self._practice, self._client_id).client.name
        ticked = self.check.ticked if self.check else ()
        sheet = RedFlagsDialog(name, self.window(), today=self.today, ticked=ticked)
        sheet.keep_draft(self._practice, "red-flags", self._client_id)
        if saved_from(sheet, lambda: self._keep(sheet.answer)):
            self.show_client(self._client_id)
            self.changed.emit()
        sheet.deleteLater()

    def _keep(self, answer: RedFlagCheck | None) -> None:
        if answer is not None:
            record_check(self._practice, self._client_id, answer, now=self._now())

    def write_letter(self) -> None:
        """Make the referral letter, and write it where the user says."""
        if self.check is None:
            return
        client = client_entry(self._practice, self._client_id).client
        card = practice_card(self._practice)
        taken = taken_now(self._practice, self._client_id, self.today)
        referral = Referral(client, self.check, taken)
        sheet = ReferralDialog(referral, card, self.window(), today=self.today)
        sheet.keep_draft(self._practice, "referral", self._client_id, about=client.name)
        sheet.is_saved_later = True
        if sheet.exec():
            about = About(self._client_id, NameParts(client.name))
            title, now = self.tr("Referral letter"), self._now()
            if hand_out(sheet, title, self._practice, about, now=now):
                sheet.forget_draft()
                self.changed.emit()
        sheet.deleteLater()
