"""The first start: the practice's card, where its file lies, or the demo practice first."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.file_dialogs import ask_for_file, ask_for_folder, ask_where
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.path_field import PathField
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.short_dialogs import choose
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.kit.wrapped_row import WrappedRow
from sennight.desktop.shell.card_dialog import CardForm
from sennight.desktop.shell.settings import Settings
from sennight.domain.practices import PracticeCard
from sennight.practice.card import begin_practice, change_practice_card
from sennight.practice.opening import OpenPractice

SUFFIX = ".sennight"
WIDE, SIDE_BY_SIDE = 118, 94
"""Columns of text of the dialog; from how many on the card and the files stand side by side."""


@dataclass(frozen=True, slots=True)
class GoOn:
    """The practice that is open is the one to work in."""


@dataclass(frozen=True, slots=True)
class OpenThis:
    """Another practice file is the one to open."""

    path: Path


@dataclass(frozen=True, slots=True)
class LookAtDemo:
    """The demo practice is to be looked at first."""


FirstAnswer = GoOn | OpenThis | LookAtDemo


class FirstStartDialog(FormDialog):
    """Asks for the card and the files of a new practice.

    Once it was accepted, either `way` has another way on, or `card`, `path` and `second` are
    what the practice is to be created with.
    """

    def __init__(self, parent: QWidget | None, path: Path, settings: Settings) -> None:
        super().__init__(parent, self.tr("Welcome to Sennight"), do=self.tr("Create practice"))
        self.leave_button.setText(self.tr("Not now"))
        self.way: FirstAnswer | None = None
        self._begun_at = path
        self.card_form = CardForm(PracticeCard(""), asks_for_labels=False)
        self.card_form.keep_together()
        self.place = PathField(path, self._look_for_file, self.tr("Change where the file lies"))
        self.second = PathField(
            settings.second_folder, self._look_for_folder, self.tr("Choose the second folder")
        )
        body = self.halves(self.card_form, self._files_form(), columns=SIDE_BY_SIDE)
        self._make_foot()
        self.set_body(body, columns=WIDE, lines=28)
        self._before = self._typed()
        self.card_form.name.setFocus(Qt.FocusReason.OtherFocusReason)

    def _files_form(self) -> FieldForm:
        form = self._files = FieldForm()
        self._place_row = form.row(
            self.tr("Practice file"),
            self.place,
            help_text=self.tr(
                "Everything is kept in this one file. Nothing leaves this computer."
            ),
        )
        self._second_row = form.row(
            self.tr("Second backup folder (optional)"),
            self.second,
            help_text=self.tr(
                "A backup is made every day beside the file, and copied here as well: best on "
                "another disk."
            ),
        )
        form.heading(self.tr("What Sennight does not do"))
        for text in (
            self.tr("It does not make a diagnosis."),
            self.tr(
                "It does not replace your own judgement, a licence to practise or the law where "
                "you work."
            ),
            self.tr(
                "It never says that something is safe. It shows what is on record; finding "
                "nothing does not mean that it is safe."
            ),
        ):
            form.place(text_label(text, wrap=True))
        form.keep_together()
        return form

    def _make_foot(self) -> None:
        self.demo_button = button(self.tr("Look at the demo practice first"))
        self.open_button = button(self.tr("Open a practice file…"), kind="link")
        self.demo_button.clicked.connect(lambda: self._leave_for(LookAtDemo()))
        self.open_button.clicked.connect(self._open_other)
        row = WrappedRow()
        row.setSpacing(self.fontMetrics().height() // 2)
        row.addWidget(self.demo_button)
        row.addWidget(
            text_label(self.tr("Invented clients and courses to try everything on."), Role.QUIET)
        )
        row.addWidget(self.open_button)
        self.foot.addLayout(row)

    def _typed(self) -> tuple[PracticeCard, Path | None, Path | None]:
        return self.card_form.card(), self.place.path(), self.second.path()

    def is_changed(self) -> bool:
        """Whether anything was typed."""
        return self._typed() != self._before

    def submit(self) -> None:
        """Accept with a card that has a name, a place for the file and a folder that is there."""
        self._files.clear_wrong()
        self.card_form.clear_wrong()
        is_whole = self.card_form.check()
        self._check_files()
        if is_whole and not self._files.to_first_wrong():
            self.accept()

    @property
    def card(self) -> PracticeCard:
        """The card as typed."""
        return self.card_form.card()

    @property
    def path(self) -> Path:
        """Where the practice file is to be."""
        path = self.place.path() or self._begun_at
        return path if path.suffix else path.with_suffix(SUFFIX)

    def _check_files(self) -> None:
        if self.path != self._begun_at:
            if not self.path.parent.is_dir():
                text = self.tr("There is no folder {folder}; choose an existing one")
                self._place_row.wrong(text.format(folder=self.path.parent))
            elif self.path.exists():
                self._place_row.wrong(
                    self.tr("There is a file of that name; choose another name, or open the file")
                )
        folder = self.second.path()
        if folder is not None and not folder.is_dir():
            text = self.tr(
                "There is no folder {folder}; choose an existing one, or leave it empty"
            )
            self._second_row.wrong(text.format(folder=folder))

    def _look_for_file(self) -> Path | None:
        kinds = self.tr("Practice files (*{suffix})").format(suffix=SUFFIX)
        return ask_where(self, self.tr("Where the practice file lies"), self.path.name, kinds)

    def _look_for_folder(self) -> Path | None:
        now = self.second.path() or Path.home()
        return ask_for_folder(self, self.tr("Second backup folder"), str(now))

    def _open_other(self) -> None:
        path = ask_for_file(self, self.tr("Open a practice"))
        if path is not None:
            self._leave_for(OpenThis(path))

    def _leave_for(self, way: FirstAnswer) -> None:
        """Leave by another way; what was typed stays a draft, for when the way leads back."""
        self.way = way
        if not self.is_changed():
            self.forget_draft()
        elif self.draft is not None:
            self.draft.stop()
        QDialog.reject(self)


def ask_at_first_start(practice: OpenPractice, settings: Settings) -> FirstAnswer:
    """Ask what a practice that has no card yet is to be, and save that."""
    dialog = FirstStartDialog(None, practice.path, settings)
    dialog.keep_draft(practice, "first-start")

    def create() -> None:
        if dialog.path == practice.path:
            change_practice_card(practice, dialog.card)
        else:
            begin_practice(dialog.path, dialog.card)
            dialog.way = OpenThis(dialog.path)
        settings.second_folder = dialog.second.path()
        settings.flush()

    saved_from(dialog, create)
    way = dialog.way or GoOn()
    dialog.deleteLater()
    return way


def wants_own_practice(parent: QWidget) -> bool:
    """Tell what the demo is, and whether one's own practice is to be opened instead."""
    return choose(
        parent,
        translate("FirstStart", "This is the demo practice"),
        translate(
            "FirstStart",
            "Everybody and everything in it is invented. You can change all of it; nothing is "
            "kept when it is closed.",
        ),
        do=translate("FirstStart", "Open my own practice"),
        stay=translate("FirstStart", "Stay in the demo"),
    )
