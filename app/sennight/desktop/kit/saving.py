"""Saving what a dialog asked for, without losing it where it cannot be saved."""

from __future__ import annotations

from collections.abc import Callable

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.short_dialogs import message_dialog
from sennight.desktop.kit.translating import translate
from sennight.practice.opening import PracticeFileError


def saved_from(dialog: FormDialog, save: Callable[[], object]) -> bool:
    """Run a dialog and save what it asked for; whether that was done.

    Where it cannot be saved, that is told, and the dialog comes back with all that was typed.
    """
    dialog.is_saved_later = True
    while dialog.exec():
        try:
            save()
        except PracticeFileError as error:
            message_dialog(dialog, translate("Saving", "Could not be saved"), str(error)).exec()
        else:
            dialog.forget_draft()
            return True
    return False
