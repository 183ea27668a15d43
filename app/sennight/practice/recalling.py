"""Letters to all who had anything of a delivery or a batch that is called back."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from sennight.domain.dispensary.batches import HandedOver
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.papers import NameParts, PaperKind
from sennight.practice.dispensary import Traced
from sennight.practice.opening import OpenPractice
from sennight.practice.papers import About, Paper, finish, keep
from sennight.practice.work_folder import work_folder
from sennight.practice.writing import Staging

if TYPE_CHECKING:
    from sennight.publish.pdf.recall_letters import ToClient


def give_recall_letters(
    practice: OpenPractice,
    traced: Traced,
    path: Path,
    *,
    now: datetime,
    today: date,
    paper: str = "A4",
) -> Path:
    """Write a letter to each client who had some of it, all in one file, to be printed.

    They stand in the order in which the clients first had it. Each client's own letter is kept
    among what they were given. All or nothing: raises FolderError, or UnwrittenError where they
    are on record and the file is not there.
    """
    from sennight.publish.pdf.recall_letters import recall_letters_pdf

    with practice.file.reading() as unit:
        card = unit.card.get()
    letters = _letters(practice, traced)
    own = {
        client: Paper(
            PaperKind.RECALL, recall_letters_pdf([letter], card, today=today, paper=paper)
        )
        for client, letter in letters.items()
    }
    whole = recall_letters_pdf(list(letters.values()), card, today=today, paper=paper)
    number = 0
    with Staging(work_folder(practice.path)) as staging:
        with practice.file.writing() as unit:
            for client, letter in letters.items():
                about = About(client, NameParts(letter.name))
                number = keep(unit, about, [own[client]], now=now, today=today).number
            staging.put({path: whole})
        (written,) = finish(staging, number)
    return written


def _letters(practice: OpenPractice, traced: Traced) -> dict[str, ToClient]:
    """What each client is told to bring back, by the client's id."""
    from sennight.publish.pdf.recall_letters import Had, ToClient

    batches = {batch.id: batch for batch in traced.batches}
    by_client: dict[str, list[HandedOver]] = {}
    for handed in traced.handed:
        by_client.setdefault(handed.client, []).append(handed)
    with practice.file.reading() as unit:
        entries = {client: unit.clients.get(client) for client in by_client}
    return {
        client: ToClient(
            entries[client].client.name,
            entries[client].contact,
            tuple(
                Had(
                    batches[part.batch].remedy.name,
                    batches[part.batch].number,
                    quantity_words(part.amount),
                    part.day,
                )
                for part in parts
            ),
        )
        for client, parts in by_client.items()
    }
