"""Formulas that are being worked on: what is in the editor and was not saved as a version yet."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sennight.domain.remedies.remedies import Remedy
from sennight.practice.drafts import Draft, DraftKey, Json, draft_of, list_drafts, typed_in
from sennight.practice.opening import OpenPractice
from sennight.store.errors import UnreadableError
from sennight.store.snapshots import read_remedy, write_remedy

KIND, FIELD = "remedy", "formula"
"""The word of the editor, and its one field."""


@dataclass(frozen=True, slots=True)
class FormulaDraft:
    """A formula with its note as it was left in the editor; `remedy.id` is the remedy's own."""

    remedy: Remedy
    note: str
    typed: datetime


def formula_key(remedy_id: str) -> DraftKey:
    """The key of a remedy's draft."""
    return DraftKey(KIND, remedy_id)


def formula_to_json(remedy: Remedy, note: str) -> Json:
    """A formula as a draft keeps it."""
    return {"remedy": write_remedy(remedy), "note": note}


def formula_from_json(value: Json) -> tuple[Remedy, str] | None:
    """The remedy and its note again; None where they cannot be read."""
    if not isinstance(value, dict):
        return None
    try:
        return read_remedy(str(value.get("remedy"))), str(value.get("note", ""))
    except UnreadableError:
        return None


def formula_draft(practice: OpenPractice, remedy_id: str) -> FormulaDraft | None:
    """A remedy's draft; None where all of it is saved, or it cannot be read."""
    draft = draft_of(practice, formula_key(remedy_id))
    return None if draft is None else _formula_of(draft)


def formula_drafts(practice: OpenPractice) -> tuple[FormulaDraft, ...]:
    """All formulas that are not saved, the newest first."""
    drafts = (_formula_of(draft) for draft in list_drafts(practice) if draft.kind == KIND)
    return tuple(draft for draft in drafts if draft is not None)


def _formula_of(draft: Draft) -> FormulaDraft | None:
    content = formula_from_json(typed_in(draft).fields.get(FIELD))
    return None if content is None else FormulaDraft(*content, draft.typed)
