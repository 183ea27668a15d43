"""The dialog that lists what was typed and is not saved, to go on with it or give it up."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.short_dialogs import confirm
from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.shell.health_words import moment_words
from sennight.practice.drafts import Draft, DraftKey, drop_draft, list_drafts
from sennight.practice.opening import OpenPractice

FINISHED_LATER = frozenset({"remedy", "diary"})
"""Forms that are left unfinished on purpose; every other draft was broken off."""
OUTER_FORMS = frozenset({"client", "diary"})
"""Forms that open others, whose words begin with theirs."""


def broken_off(practice: OpenPractice) -> tuple[Draft, ...]:
    """The drafts of forms that nobody left: the program ended while they were open."""
    return tuple(draft for draft in list_drafts(practice) if draft.kind not in FINISHED_LATER)


def outer_form(kind: str) -> str:
    """The form that can be opened by itself; one within it is opened from there."""
    outer, _, inner = kind.partition("/")
    return outer if inner and outer in OUTER_FORMS else kind


class UnfinishedDialog(FormDialog):
    """`chosen` has the draft to go on with once the dialog was accepted; the newest is first."""

    def __init__(self, parent: QWidget | None, practice: OpenPractice) -> None:
        super().__init__(parent, self.tr("Unfinished work"), do=self.tr("Continue"))
        self._practice = practice
        self._drafts: tuple[Draft, ...] = ()
        self.chosen: Draft | None = None
        self.model = TextTable((self.tr("What"), self.tr("Last typed")), self)
        self.rows = RowsView(self.model, shares=(7, 3))
        self.rows.setAccessibleName(self.tr("Unfinished work"))
        self.rows.entered_row.connect(self.submit)
        self.discard = button(self.tr("Discard…"), kind="link")
        self.discard.clicked.connect(self._discard)
        self.message = text_label("", Role.QUIET, wrap=True)
        body = QWidget()
        layout = QVBoxLayout(body)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.message)
        layout.addWidget(self.rows, 1)
        self.foot.addWidget(self.discard)
        self.set_body(body, columns=90, lines=24)
        self._load()
        self.rows.setFocus()

    def _load(self) -> None:
        self._drafts = list_drafts(self._practice)
        self.model.show_rows(len(self._drafts), self._cells)
        self.message.setText(
            self.tr("Typed, but not saved. It is kept in the practice file until you decide.")
            if self._drafts
            else self.tr("Nothing is unfinished.")
        )
        for part in (self.rows, self.discard, self.main_button):
            part.setVisible(bool(self._drafts))
        self.main_button.setEnabled(bool(self._drafts))  # else Enter would press it
        self.leave_button.setText(self.tr("Later") if self._drafts else self.tr("Close"))

    def _cells(self, row: int) -> tuple[str, ...]:
        draft = self._drafts[row]
        return draft.title, moment_words(draft.typed)

    def _current(self) -> Draft | None:
        row = self.rows.currentIndex().row()
        return self._drafts[row] if 0 <= row < len(self._drafts) else None

    def _discard(self) -> None:
        draft = self._current()
        if draft is not None and confirm(
            self,
            self.tr("Discard this?"),
            self.tr("{title}: what was typed is then gone for good.").format(title=draft.title),
            do=self.tr("Discard"),
            stay=self.tr("Keep"),
        ):
            drop_draft(self._practice, DraftKey(draft.kind, draft.subject))
            self._load()

    def submit(self) -> None:
        """Accept with the draft that the list is on."""
        self.chosen = self._current()
        if self.chosen is not None:
            self.accept()
