"""The printed story: whole, in its order, struck out with its reason, readable aloud."""

from __future__ import annotations

from datetime import date

from sennight.domain.courses.clients import Client
from sennight.domain.follow_up.consultations import Consultation, ConsultationKind, Part
from sennight.domain.follow_up.story import StoryItem, StoryKind, consultation_item, in_order
from sennight.publish.pdf.story_sheet import story_pdf
from support.handout_samples import CARD
from support.pdf_pages import runs
from support.pdf_ua import problems_of

TODAY = date(2027, 3, 3)
CLIENT = Client("Orla Pemberthwaite", date(1961, 4, 17))


def words(pdf: bytes) -> str:
    return " ".join(run.text for run in runs(pdf))


def consultation(day: int, text: str) -> Consultation:
    parts = (Part("Said", text), Part("", "by the by"))
    return Consultation(date(2027, 2, day), ConsultationKind.FOLLOW_UP, parts, 30)


def test_it_tells_all_with_name_and_page() -> None:
    items = in_order(
        [
            consultation_item(consultation(1, "first line\nsecond line"), 1),
            consultation_item(consultation(15, "mistaken"), 2, void="of another client"),
            StoryItem(date(2027, 2, 15), StoryKind.DIARY, "Diary entered", "1 to 14 February"),
        ]
    )
    pdf = story_pdf(items, CLIENT, CARD, today=TODAY)
    told = words(pdf)
    in_place = (
        "Record of consultations",
        "born 17 April 1961",
        "15 February 2027",
        "mistaken",
        "Struck out: of another client",
        "Diary entered: 1 to 14 February",
        "Said: first line",
        "second line",
    )
    places = [told.find(text) for text in in_place]
    assert -1 not in places, in_place[places.index(-1)]
    assert places == sorted(places)
    assert told.count("by the by") == 2
    assert "Page 1 of 1" in told
    assert "Orla Pemberthwaite · Record of consultations" in told
    assert problems_of(pdf) == []


def test_what_is_longer_than_a_page_goes_on_and_nothing_is_lost() -> None:
    long = " ".join(f"word{n}" for n in range(3000))
    pdf = story_pdf([consultation_item(consultation(1, long), 1)], CLIENT, CARD, today=TODAY)
    told = words(pdf)
    assert all(f"word{n}" in told for n in (0, 1499, 2999))
    assert "Page 2 of" in told


def test_an_empty_one_says_so() -> None:
    assert "Nothing is on record yet." in words(story_pdf([], CLIENT, CARD, today=TODAY))
