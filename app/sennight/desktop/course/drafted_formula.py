"""Giving a formula that has changes which are not saved: they are saved with it, or left out."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.short_dialogs import message_dialog, pick_option
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.courses.courses import Course
from sennight.domain.directions.plain_words import listed
from sennight.domain.remedies.remedies import Remedy
from sennight.practice.drafts import drop_draft
from sennight.practice.formula_drafts import (
    FormulaDraft,
    formula_draft,
    formula_drafts,
    formula_key,
)
from sennight.practice.opening import OpenPractice
from sennight.practice.remedies import list_remedies, save_remedy, why_not_kept

FROM_THE_SHELF = frozenset({"join", "formula"})
"""The decisions that give a remedy of the shelf, in the version that is saved."""


def remedies_to_give(practice: OpenPractice) -> tuple[Remedy, ...]:
    """The remedies on the shelf as saved last, and those that were begun but never saved."""
    shelf = tuple(entry.remedy for entry in list_remedies(practice))
    saved = {remedy.id for remedy in shelf}
    begun = (draft.remedy for draft in formula_drafts(practice))
    return (
        *shelf,
        *(remedy for remedy in begun if remedy.id not in saved and remedy.ingredients),
    )


def tell_what_is_unsaved(practice: OpenPractice, dialog: FormDialog, kind: str) -> None:
    """Say in a decision's dialog which formulas have changes that it leaves out."""
    names = [draft.remedy.name for draft in formula_drafts(practice)]
    if names and kind in FROM_THE_SHELF:
        text = translate("DraftedFormula", "Changes that are not saved are left out: {names}.")
        words = text.format(names=listed(names))
        dialog.foot.addWidget(text_label(words, Role.ALARM, wrap=True))


def with_formulas_saved(
    practice: OpenPractice, before: Course, after: Course, parent: QWidget
) -> Course | None:
    """The course after an edit, with a saved version of each remedy that comes in with it.

    Of one that has changes which are not saved it is asked what is given; None where that is
    nothing. Raises PracticeFileError.
    """
    known = {remedy.id for remedy in before.remedies}
    given: list[Remedy] = []
    for remedy in after.remedies:
        draft = None if remedy.id in known else formula_draft(practice, remedy.id)
        chosen = remedy if draft is None else _chosen(practice, remedy, draft, parent)
        if chosen is None:
            return None
        given.append(chosen)
    return after if tuple(given) == after.remedies else replace(after, remedies=tuple(given))


def _chosen(
    practice: OpenPractice, remedy: Remedy, draft: FormulaDraft, parent: QWidget
) -> Remedy | None:
    """The draft, saved as a version, or the version on the shelf; None for leaving it.

    A draft that cannot be kept as it is is never given: why is told, and the version offered.
    """
    versions = {entry.id: entry.version for entry in list_remedies(practice)}
    saved = versions.get(remedy.id)
    why_not = why_not_kept(draft.remedy)
    save = translate("DraftedFormula", "Save version {n} and give it").format(n=(saved or 0) + 1)
    give = translate("DraftedFormula", "Give version {n}").format(n=saved)
    heading = translate("DraftedFormula", "{name} has changes that are not saved")
    words = (
        heading.format(name=draft.remedy.name),
        why_not or translate("DraftedFormula", "A course is given a saved version."),
    )
    ways = (*(() if why_not else (save,)), *(() if saved is None else (give,)))
    if not ways:
        message_dialog(parent, *words).exec()
        return None
    picked = pick_option(parent, words, ways, stay=translate("DraftedFormula", "Cancel"))
    if picked is None:
        return None
    if ways[picked] == give:
        return remedy
    save_remedy(practice, draft.remedy, note=draft.note)
    drop_draft(practice, formula_key(draft.remedy.id))
    return draft.remedy
