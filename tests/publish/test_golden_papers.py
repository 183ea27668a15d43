"""The practice's papers and the diary as they were last looked at: text and place, not bytes.

After a change that was meant, look at every page, then renew what is kept:
`RENEW_GOLDEN=1 pytest tests/publish/test_golden_papers.py`.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from functools import cache

import pytest

from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Fact, Reaction, Topic
from sennight.domain.courses.courses import Redirect, Stop
from sennight.domain.dates import Span
from sennight.domain.take_home.choices import ClockHours, Print, SheetChoices
from sennight.practice.course_reading import CourseReading, read_course
from sennight.practice.letters import full_names, herbs_of, practitioner_copy, start_letter
from sennight.practice.reactions import reaction_report
from sennight.practice.red_flags import RedFlagCheck, Referral, referral_letter
from sennight.publish.diary.document import diary_sheet
from sennight.publish.pdf.taken import remedy_rows
from support.files import GOLDEN
from support.handout_samples import CARD, START, three_months
from support.pdf_pages import runs
from support.samples import take

FOLDER = GOLDEN / "papers"
NEAR = 3.0
"""Points by which text may have moved."""
TODAY = START + timedelta(days=20)


@cache
def reading() -> CourseReading:
    """A course with facts, decisions, one of them struck out, and a remedy that was stopped."""
    made = three_months()
    client = replace(
        made.client,
        born=date(1961, 4, 17),
        medicines=(Fact("metformin", name="Metformin", dose="500 mg twice a day"),),
        conditions=(Fact("gout", since=date(2019, 5, 1)),),
        asked=(Topic.ALLERGIES,),
        reactions=(Reaction(date(2020, 2, 3), "Old tea", ("yarrow",), "A rash"),),
    )
    mistaken = Redirect(
        on=TODAY,
        reason="",
        remedy="t1",
        first=TODAY,
        directions=take("2 cups tds"),
        void="typed twice",
    )
    stop = Stop(on=TODAY, reason="itching", remedy="t3", first=TODAY)
    accepts = (Accept("over.turmeric", "Watched, and agreed with the doctor", on=START),)
    revisions = (*made.revisions, mistaken, stop)
    return read_course(
        replace(made, client=client, revisions=revisions, accepts=accepts), today=TODAY
    )


def referral() -> bytes:
    names = full_names(reading().materia_medica, herbs_of(reading()))
    taken = remedy_rows(reading().layout, names, Span.of_days(TODAY, TODAY))
    asked = Referral(
        reading().course.client, RedFlagCheck(TODAY, ("liver",)), taken, "Seen twice."
    )
    return referral_letter(asked, CARD, today=TODAY)


def reaction() -> bytes:
    found = Reaction(TODAY, "Boswellia capsules", ("boswellia",), "Itching")
    return reaction_report(reading(), "t3", found, CARD)


def diary(choices: SheetChoices) -> bytes:
    days = Span(START, START + timedelta(weeks=6))
    return diary_sheet(reading().layout, CARD, days, choices).pdf


PAPERS: dict[str, Callable[[], bytes]] = {
    "practitioner-a4": lambda: practitioner_copy(reading(), CARD),
    "start-letter": lambda: start_letter(reading(), CARD, paper="Letter"),
    "referral-a4": referral,
    "reaction-a4": reaction,
    "diary-a4": lambda: diary(SheetChoices()),
    "diary-letter-large": lambda: diary(SheetChoices("Letter", Print.LARGE, ClockHours.TWELVE)),
}


@pytest.mark.parametrize("paper", PAPERS)
def test_text_stands_where_it_stood(paper: str) -> None:
    file, found = FOLDER / f"{paper}.jsonl", runs(PAPERS[paper]())
    if os.environ.get("RENEW_GOLDEN"):
        lines = (
            json.dumps(
                [r.page, round(r.x, 1), round(r.y, 1), round(r.size, 1), r.text],
                ensure_ascii=False,
            )
            for r in found
        )
        file.parent.mkdir(exist_ok=True)
        file.write_text("".join(f"{line}\n" for line in lines), "utf-8")
        pytest.skip("the file was written anew")
    kept = [json.loads(line) for line in file.read_text("utf-8").splitlines()]
    assert [(r.page, r.text) for r in found] == [(page, words) for page, _, _, _, words in kept]
    for run, (_, x, y, size, words) in zip(found, kept, strict=True):
        assert (run.x, run.y) == pytest.approx((x, y), abs=NEAR), words
        assert run.size == pytest.approx(size, abs=0.1), words
