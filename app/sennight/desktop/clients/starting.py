"""Starting a course from a client's folder."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtWidgets import QWidget

from sennight.desktop.clients.start_dialog import Start, StartDialog
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.red_flags.flags_banner import FlagsBanner
from sennight.practice.clients import ClientEntry
from sennight.practice.courses import start_course, start_empty_course
from sennight.practice.formula_drafts import formula_drafts
from sennight.practice.opening import OpenPractice
from sennight.practice.protocols import list_protocols
from sennight.practice.supplied_protocols import supplied_protocols


def ask_for_start(
    page: QWidget, practice: OpenPractice, entry: ClientEntry, flags: FlagsBanner, now: datetime
) -> str:
    """Ask for a protocol and a first day, and start a course; its id, empty where none began."""
    own = list_protocols(practice)
    names = {entry.protocol.name for entry in own}
    supplied = [entry for entry in supplied_protocols() if entry.protocol.name not in names]
    today = now.date()
    dialog = StartDialog(page, entry.client, own, today=today, supplied=supplied)
    dialog.keep_draft(practice, "start", entry.id)
    dialog.tell_unsaved([draft.remedy.id for draft in formula_drafts(practice)])
    dialog.tell_flags(flags.asked_words(), stands=flags.stands, is_asked=flags.is_asked)
    started: list[str] = []
    is_saved = saved_from(
        dialog, lambda: started.append(_start(practice, entry.id, dialog.answer, now))
    )
    dialog.deleteLater()
    return started[-1] if is_saved else ""


def _start(practice: OpenPractice, client_id: str, answer: Start | None, now: datetime) -> str:
    if answer is None:
        return ""
    if answer.protocol_id:
        protocol, first = answer.protocol_id, answer.first
        return start_course(practice, client_id, protocol, first, until=answer.until, now=now)
    return start_empty_course(practice, client_id, answer.name, answer.first, now=now)
