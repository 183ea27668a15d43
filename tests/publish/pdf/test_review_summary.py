"""The review summary: on two pages, read aloud, and with the figures of the CSV files."""

from __future__ import annotations

import csv
import re
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from sennight.domain.charts.review import Review, review
from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, Extend, Redirect, Stop
from sennight.domain.courses.protocols import Gate
from sennight.domain.courses.stretches import lay_out
from sennight.domain.directions.parser import parse_directions
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.follow_up.outcomes import outcomes
from sennight.domain.practices import PracticeCard
from sennight.publish.csv.courses import adherence_csv, outcomes_csv
from sennight.publish.pdf.review_summary import review_pdf
from support import course_cases, samples
from support.pdf_pages import page_texts, runs, tags
from support.pdf_ua import problems_of

TODAY = course_cases.TODAY
CARD = PracticeCard("Willow Lane Herbs", "Ada Example", phone="01632 960001")
SCORES = tuple(
    Score(course_cases.START + timedelta(weeks=n), measure, Fraction(value))
    for measure, values in (("pain", (7, 6, 8, 9)), ("sleep", (4, 5, 5, 6)))
    for n, value in enumerate(values)
)
DIARY = tuple(
    Taken(course_cases.START + timedelta(n), remedy, doses)
    for remedy, doses in (("t1", 2), ("t2", 3), ("t4", 1))
    for n in range(0, 56, 1 if remedy == "t1" else 2)
)


def course() -> Course:
    """Three decisions, one of them struck out."""
    made = course_cases.full_course()
    first, *rest = made.protocol.phases
    slip = Extend(on=date(2027, 2, 1), phase="loading", by=9, void="slip", void_on=TODAY)
    return replace(
        made,
        revisions=(slip, *made.revisions),
        protocol=replace(made.protocol, phases=(replace(first, gate=Gate("pain", 30)), *rest)),
    )


@pytest.fixture(scope="module")
def found() -> Review:
    return review(lay_out(course()), DIARY, SCORES, TODAY)


@pytest.fixture(scope="module")
def pages(found: Review) -> list[str]:
    return page_texts(review_pdf(found, CARD))


def table(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(data.decode().splitlines()))


def test_it_has_the_figures_of_the_csv_files(found: Review, pages: list[str]) -> None:
    whole = " ".join(pages)
    assert found.report is not None
    told = 0
    for row in table(adherence_csv(found.report)):
        if int(row["doses_due"]):
            assert f"{row['doses_taken']} of {row['doses_due']}" in whole, row
            told += 1
        if row["proportion"]:
            assert f"{round(Fraction(row['proportion']) * 100)} %" in whole, row
    assert told > 5
    changes = [
        row
        for row in table(outcomes_csv(outcomes(found.layout, SCORES, found.measures)))
        if row["scope"] == "all"
    ]
    assert [row["measure"] for row in changes] == ["pain", "sleep"]
    for row in changes:
        assert f"{row['measure']} ({row['first']} to {row['last']})" in whole
    alts = [alt for tag, alt in tags(review_pdf(found, CARD)) if tag == "Figure"]
    for measure in ("pain", "sleep"):
        values = [str(score.value) for score in SCORES if score.measure == measure]
        assert any([part.split(" on ")[0] for part in alt.split("; ")] == values for alt in alts)


def test_every_page_says_whose_it_is_and_which(pages: list[str]) -> None:
    assert len(pages) == 2
    assert all("Una Example · Review summary" in text for text in pages)
    assert ["Page 1 of 2" in pages[0], "Page 2 of 2" in pages[1]] == [True, True]
    assert "Willow Lane Herbs" in pages[0]
    assert "01632 960001" in pages[0]


def test_what_got_worse_comes_first_and_what_was_struck_out_is_left_out(
    pages: list[str],
) -> None:
    whole = " ".join(pages)
    assert "Worse: pain (7 to 9). Better: sleep (4 to 6)." in whole
    assert "Loading: Moving on waits for pain to fall by 30 %. Not met: it rose by" in whole
    assert "Loading is 1 week longer (slow to respond)" in whole
    assert "9 days longer" not in whole


def test_what_goes_on_is_told_without_a_day_to_come(found: Review, pages: list[str]) -> None:
    """Of the days after the review nothing is given yet."""
    given = " ".join(pages).split("Taken")[0].split("Given")[1]
    assert " since " in given.replace("\n", " ")
    ends = [s.span.last for s in found.layout.stretches if s.span.last > TODAY]
    assert ends
    assert not any(plain_date(day) in given.replace("\n", " ") for day in ends)


def test_phases_are_told_from_remedies_and_a_sign_means_one_thing(pages: list[str]) -> None:
    whole = " ".join(pages).replace("\n", " ")
    assert "Phase: Loading" in whole
    assert whole.count("A line through: no entry.") == 1
    assert whole.count("Dashed frame: a flare-up.") <= 1


def test_before_anything_was_reported_it_says_so() -> None:
    empty = review(lay_out(course()), (), (), course_cases.START - timedelta(1))
    (said,) = page_texts(review_pdf(empty, PracticeCard("")))
    for words in (
        "Nothing yet.",
        "No diary was entered.",
        "Nothing was rated.",
        "beyond the plan",
    ):
        assert words in said


def test_the_last_page_is_not_mostly_empty_where_there_are_charts(found: Review) -> None:
    """In points from the foot: charts grow until the last words stand in the lowest quarter."""
    made = review_pdf(replace(found, layout=lay_out(replace(course(), revisions=()))), CARD)
    last = max(run.page for run in runs(made))
    words = [run.y for run in runs(made) if run.page == last and run.y > 60]
    assert min(words) < 842 / 4


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_course_with_much_in_it_still_has_two_pages_and_counts_the_rest(paper: str) -> None:
    """Twenty remedies with steps, forty decisions, nine measures, long names."""
    remedies = tuple(
        replace(samples.remedy(f"r{n}"), name=f"A tea with quite a long name {n}")
        for n in range(20)
    )
    lines = [samples.line(f"r{n}", "1 cup tds ac", (2, "1 cup bd")) for n in range(20)]
    start = course_cases.START
    redirects = [
        Redirect(
            on=start + timedelta(n),
            remedy=f"r{n % 20}",
            first=start + timedelta(n),
            directions=parse_directions("1 cup od"),
            reason="because of something that takes many words to say " * 2,
        )
        for n in range(40)
    ]
    made = replace(
        course_cases.full_course(decided=False),
        client=Client("Una Example with a name that is long as well"),
        remedies=remedies,
        protocol=replace(course_cases.protocol(), phases=(samples.phase("one", "30 w", *lines),)),
        revisions=(*redirects, Stop(on=TODAY, remedy="r1", first=TODAY)),
    )
    rated = [
        Score(start + timedelta(weeks=n), f"measure {m}", Fraction(n))
        for m in range(9)
        for n in range(8)
    ]
    taken = [Taken(start + timedelta(n), f"r{m}", 3) for m in range(20) for n in range(30)]
    data = review_pdf(review(lay_out(made), taken, rated, TODAY), CARD, paper=paper)
    pages = page_texts(data)
    assert len(pages) == 2
    assert "more remedies: see the practitioner’s copy." in " ".join(pages)
    assert "earlier decisions on the practitioner’s copy." in " ".join(pages)
    assert problems_of(data) == []


def test_of_many_counts_of_what_is_left_the_latest_are_told(found: Review) -> None:
    counts = [f"Joint tea, count {n}: 54 g gone, 84 g due: 64 %." for n in range(60)]
    pages = page_texts(review_pdf(found, CARD, left=counts))
    words = " ".join(" ".join(pages).split())
    assert len(pages) == 2
    assert "count 59" in words
    assert words.index("count 59") < words.index("count 58")
    earlier = re.search(r"And (\d+) earlier counts", words)
    assert earlier
    assert int(earlier[1]) + words.count("54 g gone") == 60
