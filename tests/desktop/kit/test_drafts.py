"""A keeper: at most a second later on disk, and nothing of a record is changed back."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtWidgets import QDialog, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.kit import drafts as drafts_module
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.draft_note import DraftNote
from sennight.desktop.kit.drafts import DraftKeeper
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.saving import saved_from
from sennight.practice.drafts import DraftKey, list_drafts, typed_in
from sennight.practice.opening import OpenPractice, PracticeFileError
from support.next_dialog import in_next_dialog


class Names(FormDialog):
    """Two names."""

    def __init__(self, first: str = "", last: str = "") -> None:
        super().__init__(None, "Names", do="Save")
        form = FieldForm()
        self.first, self.last = QLineEdit(first), QLineEdit(last)
        form.line(("First", self.first), ("Last", self.last))
        self.set_body(form, columns=30, lines=10)

    def is_changed(self) -> bool:
        return bool(self.first.text())


New = Callable[..., Names]


@pytest.fixture
def new(qtbot: QtBot, empty_practice: OpenPractice) -> New:
    def made(first: str = "", last: str = "") -> Names:
        dialog = Names(first, last)
        qtbot.addWidget(dialog, before_close_func=QWidget.hide)  # in view it would ask
        dialog.keep_draft(empty_practice, "names", "n1", about="Una")
        dialog.show()
        return dialog

    return made


def kept(practice: OpenPractice) -> list[dict[str, object]]:
    return [dict(typed_in(draft).fields) for draft in list_drafts(practice)]


def test_what_is_typed_is_on_disk_within_two_seconds(
    qtbot: QtBot, new: New, empty_practice: OpenPractice
) -> None:
    dialog = new()
    qtbot.keyClicks(dialog.first, "Una")
    qtbot.waitUntil(lambda: kept(empty_practice) == [{"First": "Una"}], timeout=2000)
    assert [draft.title for draft in list_drafts(empty_practice)] == ["Names – Una"]
    dialog.first.clear()
    assert dialog.draft is not None
    dialog.draft.keep()
    assert kept(empty_practice) == []


def note_of(dialog: QWidget) -> str:
    note = dialog.findChild(DraftNote)
    assert isinstance(note, DraftNote)
    return note.message.text() if not note.isHidden() else ""


def test_only_what_was_typed_comes_back_and_what_changed_meanwhile_is_told(new: New) -> None:
    """The record has another last name and another first name than when it was typed over."""
    dialog = new("Una", "Example")
    assert note_of(dialog) == ""
    dialog.first.setText("Unna")
    assert dialog.draft is not None
    dialog.draft.stop()
    later = new("Una", "Sample")
    assert (later.first.text(), later.last.text()) == ("Unna", "Sample")
    assert "please check" not in note_of(later)
    assert later.draft is not None
    later.draft.stop()
    again = new("Uma", "Sample")
    assert again.first.text() == "Unna"
    assert note_of(again).endswith("please check: First.")
    again.findChild(DraftNote).discard.click()  # type: ignore[union-attr]
    assert (again.first.text(), note_of(again)) == ("Uma", "")


def test_a_dialog_that_is_done_or_given_up_has_no_draft(
    new: New, empty_practice: OpenPractice
) -> None:
    for given_up in (False, True):
        dialog = new()
        dialog.first.setText("Una")
        assert dialog.draft is not None
        dialog.draft.keep()
        assert kept(empty_practice)
        if given_up:
            in_next_dialog(QDialog.accept)  # close without saving
            dialog.reject()
        else:
            dialog.accept()
        assert kept(empty_practice) == []


def test_a_draft_stays_until_what_was_asked_for_is_saved(
    new: New, empty_practice: OpenPractice
) -> None:
    """A save that fails, told in a dialog of its own, leaves all that was typed on disk."""
    dialog, seen = new(), []
    dialog.first.setText("Una")

    def save() -> None:
        seen.append(kept(empty_practice))
        if len(seen) == 1:
            in_next_dialog(told)
            raise PracticeFileError("the disk is full")

    def told(message: QDialog) -> None:
        in_next_dialog(QDialog.accept)
        message.accept()

    assert dialog.draft is not None
    dialog.draft.keep()
    dialog.hide()  # it comes up again as a modal one
    in_next_dialog(QDialog.accept)
    assert saved_from(dialog, save)
    assert seen == [[{"First": "Una"}]] * 2
    assert kept(empty_practice) == []


def test_what_cannot_be_kept_on_disk_is_told_and_held_by_the_page(
    qtbot: QtBot, empty_practice: OpenPractice, monkeypatch: pytest.MonkeyPatch
) -> None:
    page, told = QWidget(), list[str]()
    qtbot.addWidget(page)
    note = QLineEdit(page)
    keeper = DraftKeeper(page, empty_practice, lambda: {"Note": note})
    keeper.refused.connect(told.append)
    keeper.begin(DraftKey("note", "1"), "Note")
    note.setText("mornings")

    def full(*_: object, **__: object) -> None:
        raise PracticeFileError("the disk is full")

    with monkeypatch.context() as patch:
        patch.setattr(drafts_module, "keep_draft", full)
        assert not keeper.keep()
        assert not keeper.keep()
    assert told == ["the disk is full"]
    note.clear()
    keeper.begin(DraftKey("note", "2"), "Note")
    assert not keeper.is_kept
    note.clear()
    keeper.begin(DraftKey("note", "1"), "Note")
    assert note.text() == "mornings"
    assert keeper.keep()
    assert keeper.is_kept
    assert told == ["the disk is full", ""]
