"""Letters to several clients in one file, which are parted and sent."""

from __future__ import annotations

import re
from datetime import date

from sennight.domain.practices import PracticeCard
from sennight.publish.pdf.recall_letters import Had, ToClient, recall_letters_pdf
from support.pdf_pages import page_texts

DAY = date(2027, 1, 4)
HAD = Had("Nettle and ginger", "270104-1", "30 g", DAY)


def test_the_pages_of_each_letter_are_counted_by_themselves() -> None:
    """Whoever gets one of them would look for the pages of the others."""
    clients = [
        ToClient("Ada", "", (HAD,)),
        ToClient("Bo", "", (HAD,) * 40),
        ToClient("Cy", "", ()),
    ]
    pages = page_texts(recall_letters_pdf(clients, PracticeCard(""), today=DAY))
    counted = [re.findall(r"Page (\d+) of (\d+)", page) for page in pages]
    assert counted == [[("1", "1")], [("1", "2")], [("2", "2")], [("1", "1")]]
