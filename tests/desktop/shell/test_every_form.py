"""Every dialog with typed fields keeps what is typed, and brings all of it back.

Each is opened in the real window as a practitioner would open it. Every field in it is typed
into, ticked or chosen from; the program then ends, and what the dialog holds when it is opened
again must be the same. A dialog that is in none of the two lists below fails.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections import Counter
from collections.abc import Iterator

import pytest
from PySide6.QtWidgets import (
    QAbstractButton,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QWidget,
)
from pytestqt.qtbot import QtBot

import sennight.desktop
from sennight.desktop.course.diary.diary import DiaryDialog
from sennight.desktop.course.diary.scores import ScoresDialog
from sennight.desktop.course.diary.sheet_answers import Spot
from sennight.desktop.course.diary.sheet_dialog import SheetDialog
from sennight.desktop.kit.dialogs import FormDialog, dialog_of
from sennight.desktop.kit.drafts import value_of
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Settings
from sennight.practice.drafts import Json, list_drafts
from sennight.practice.sheet_pages import BoxState
from support.every_dialog import OPENED, in_dialog
from support.sample_practice import TODAY, Sample

NOTHING_IS_TYPED = {
    "BatchDialog": "only told",
    "ChangesDialog": "only told",
    "KeysDialog": "only told",
    "ProblemsDialog": "only told",
    "CompareDialog": "only looked at",
    "ProtocolRecordDialog": "only told",
    "PracticeDialog": "its folder is a setting, saved when it is chosen",
    "RestoreDialog": "a choice from a list",
    "UnfinishedDialog": "a choice from a list",
    "VersionsSheet": "a choice from a list",
    "VersionsDialog": "only looked at",
    "LookBack": "only looked at",
    "handing_over.HandOverDialog": "only told",
    "GiveDialog": "choices for papers, with no word about the client in them",
    "ReportDialog": "a choice of paper",
    "ImportDialog": "the file that it is about has to be chosen again",
    "RecallDialog": "only told",
    "SupplyDialog": "only looked at",
}
"""The dialogs that keep no draft, and why."""


@pytest.fixture
def frame(
    qtbot: QtBot, sample: Sample, appearance: Appearance, settings: Settings
) -> Iterator[MainWindow]:
    made = MainWindow(sample.practice, appearance, settings, today=lambda: TODAY)
    qtbot.addWidget(made)
    made.show()
    yield made
    made.hide()


ONLY_SHARED = {"FormDialog", "PaperDialog", "InPlace", "Decision", "CalculatorDialog"}
"""What dialogs have in common; none is shown itself."""


def every_dialog() -> set[str]:
    """The names of all dialogs that the program can show."""
    for module in pkgutil.walk_packages(sennight.desktop.__path__, "sennight.desktop."):
        importlib.import_module(module.name)
    found, known = list[type[FormDialog]](), [FormDialog]
    while known:
        dialog = known.pop()
        known += [sub for sub in dialog.__subclasses__() if sub.__module__.startswith("sennight.")]
        if dialog.__name__ not in ONLY_SHARED:
            found.append(dialog)
    names = Counter(dialog.__name__ for dialog in found)
    return {name_of(dialog, alone=names[dialog.__name__] == 1) for dialog in found}


def name_of(dialog: type[FormDialog], *, alone: bool) -> str:
    """A dialog's name, with its module's where another has the same."""
    module = dialog.__module__.rpartition(".")[2]
    return dialog.__name__ if alone else f"{module}.{dialog.__name__}"


def test_every_dialog_is_in_one_of_the_lists() -> None:
    kept = {name.partition(" ")[0] for name in OPENED}
    assert not kept & NOTHING_IS_TYPED.keys()
    assert every_dialog() == kept | NOTHING_IS_TYPED.keys()


def values(dialog: FormDialog) -> dict[str, Json]:
    return {name: value_of(field) for name, field in dialog.draft_fields().items()}


def typed_into(dialog: FormDialog) -> list[QWidget]:
    """What can be typed into, ticked or chosen from, in the order in which it was made."""
    kinds = (QLineEdit, QPlainTextEdit, QComboBox, QAbstractButton)
    return [
        field
        for kind in kinds
        for field in dialog.findChildren(kind)
        if dialog_of(field) is dialog
        and not field.isHidden()
        and not (isinstance(field, QAbstractButton) and not field.isCheckable())
        and not (isinstance(field, QLineEdit) and field.isReadOnly())
    ]


def type_something(field: QWidget, number: int) -> bool:
    """Type into a field, so that it holds something else; whether it could be."""
    match field:
        case QLineEdit():
            field.setCursorPosition(len(field.text()))
            field.insert(f" typed {number}")
        case QPlainTextEdit():
            field.setPlainText(f"typed {number}")
        case QComboBox():
            before = field.currentText()
            field.setCurrentIndex(field.count() - 1 if field.currentIndex() == 0 else 0)
            return field.currentText() != before
        case QAbstractButton():
            field.setChecked(not field.isChecked())
    return True


def test_all_that_is_typed_is_there_again(frame: MainWindow, sample: Sample) -> None:
    """In one window, since that takes longer to come up than all dialogs together."""
    for name in OPENED:
        typed, again, afresh, untouched = seen(name, frame, sample)
        assert again == typed, name
        assert afresh == untouched, name
        assert list_drafts(sample.practice) == (), name


def seen(name: str, frame: MainWindow, sample: Sample) -> list[dict[str, Json]]:
    """What a dialog held: typed into, opened again, without the draft, and before all that."""
    held: list[dict[str, Json]] = []

    def type_all(dialog: FormDialog) -> None:
        assert type(dialog).__name__ == name.partition(" ")[0].rpartition(".")[2]
        assert dialog.draft is not None, name
        before_all = values(dialog)
        if isinstance(dialog, DiaryDialog):
            dialog.model.set_taken([0, 1], [0], 2)
        if isinstance(dialog, SheetDialog):
            dialog.answers.said[Spot("D", 3)] = BoxState.MARKED
        if isinstance(dialog, ScoresDialog):
            dialog.model.put(0, 0, "12 and wrong")
        for kind in (QComboBox, QLineEdit, QPlainTextEdit, QAbstractButton):
            for number, field in enumerate(typed_into(dialog)):
                before = values(dialog)
                if isinstance(field, kind) and type_something(field, number):
                    assert values(dialog) != before, (name, field.accessibleName())
        held.extend((values(dialog), before_all))
        dialog.draft.stop()

    def look(dialog: FormDialog) -> None:
        assert dialog.draft is not None
        again = values(dialog)
        dialog.draft.start_afresh()
        held[1:1] = [again, values(dialog)]

    in_dialog(name, type_all, frame, sample)
    assert list_drafts(sample.practice), name
    in_dialog(name, look, frame, sample)
    return held
