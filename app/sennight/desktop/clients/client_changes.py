"""Changes of a client's record, asked for in dialogs and saved."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime

from PySide6.QtWidgets import QWidget

from sennight.desktop.clients.client_dialog import Answer, ClientDialog
from sennight.desktop.clients.fact_dialog import (
    FactsDialog,
    InPlace,
    PersonDialog,
    ReactionsDialog,
    lay_beneath,
)
from sennight.desktop.kit.saving import saved_from
from sennight.domain.courses.clients import Client, Topic
from sennight.practice.clients import ClientEntry, change_client
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs


class ClientChanges:
    """What can be asked of a client's record on a page."""

    def __init__(self, page: QWidget, practice: OpenPractice, now: Callable[[], datetime]) -> None:
        self._page, self._practice, self._now = page, practice, now

    @property
    def _names(self) -> Mapping[str, str]:
        return known_herbs(self._practice).names

    def facts(
        self, before: ClientEntry, topic: Topic | None, under: QWidget
    ) -> ClientEntry | None:
        """Change the facts under a topic, in a dialog beneath them; None where nothing was saved.

        Without a topic, age and weight.
        """
        dialog = self._dialog(topic, before)
        kind = f"client-{topic or 'person'}"
        dialog.keep_draft(self._practice, kind, before.id, about=before.client.name)
        lay_beneath(dialog, under)

        def after() -> ClientEntry | None:
            return _with_client(before, dialog.client) if dialog.client else None

        is_saved = saved_from(dialog, lambda: self._save(after(), dialog))
        dialog.deleteLater()
        return after() if is_saved else None

    def _dialog(self, topic: Topic | None, entry: ClientEntry) -> InPlace:
        client, today = entry.client, self._now().date()
        if topic is None:
            return PersonDialog(self._page, client, today=today)
        if topic is Topic.REACTIONS:
            return ReactionsDialog(self._page, client, self._names, today=today)
        return FactsDialog(self._page, client, topic, today=today)

    def whole(self, before: ClientEntry) -> ClientEntry | None:
        """Change the whole record; None where nothing was saved."""
        dialog = ClientDialog(self._page, before, names=self._names, today=self._now().date())
        dialog.keep_draft(self._practice, "client", before.id, about=before.client.name)

        def after() -> ClientEntry | None:
            return _answered(before, dialog.answer) if dialog.answer else None

        is_saved = saved_from(dialog, lambda: self._save(after(), dialog))
        dialog.deleteLater()
        return after() if is_saved else None

    def _save(self, after: ClientEntry | None, dialog: InPlace | ClientDialog) -> None:
        """Save the record, and for good the reactions of the past."""
        if after is not None:
            change_client(self._practice, after, dialog.past_reactions)


def _answered(before: ClientEntry, answer: Answer) -> ClientEntry:
    client, contact, _ = answer
    return replace(_with_client(before, client), contact=contact)


def _with_client(before: ClientEntry, client: Client) -> ClientEntry:
    """The record with what was typed; reactions are recorded apart."""
    return replace(before, client=replace(client, reactions=before.client.reactions))
