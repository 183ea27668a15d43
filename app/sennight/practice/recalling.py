"""Letters to all who had anything of a delivery or a batch that is called back."""

from __future__ import annotations

from datetime import date

from sennight.domain.dispensary.batches import HandedOver
from sennight.domain.dispensary.labels import quantity_words
from sennight.practice.dispensary import Traced
from sennight.practice.opening import OpenPractice


def recall_letters(
    practice: OpenPractice, traced: Traced, *, today: date, paper: str = "A4"
) -> bytes:
    """A letter to each client who had some of it, in the order in which they first had it."""
    from sennight.publish.pdf.recall_letters import Had, ToClient, recall_letters_pdf

    batches = {batch.id: batch for batch in traced.batches}
    by_client: dict[str, list[HandedOver]] = {}
    for handed in traced.handed:
        by_client.setdefault(handed.client, []).append(handed)
    with practice.file.reading() as unit:
        card = unit.card.get()
        entries = {client: unit.clients.get(client) for client in by_client}
    clients = [
        ToClient(
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
    ]
    return recall_letters_pdf(clients, card, today=today, paper=paper)
