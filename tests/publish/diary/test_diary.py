"""The diary sheet: every dose has a box, and every box is where its file says.

The page is read back as drawn: rectangles, words and code, by libraries that drew nothing of it.
"""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace
from datetime import date, time, timedelta
from fractions import Fraction
from functools import cache
from typing import Any

import pypdfium2 as pdfium  # type: ignore[import-untyped]
import pytest
import segno
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdfium2 import raw

from sennight.domain.courses.courses import Course
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.protocols import AdviceLine
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.dates import Span
from sennight.domain.day import ClientDay, Moment, as_minutes
from sennight.domain.directions.parser import parse_timing
from sennight.domain.follow_up.measures import STIFFNESS, Better, Measure, Measures
from sennight.domain.schedule.doses import doses
from sennight.domain.take_home.choices import ClockHours, Print, SheetChoices
from sennight.publish.diary.content import OVERALL, diary_days, measures_of
from sennight.publish.diary.document import Diary, diary_sheet
from support import samples
from support.draws import draws
from support.handout_samples import CARD, START, many_remedies, three_months
from support.pdf_pages import Run, runs
from support.pdf_ua import problems_of
from support.samples import course, line, phase

POINTS = 72 / 25.4
NEAR = 0.2
DAYS = Span(START, START + timedelta(weeks=12))
CASES = ("A4", "Letter", "A4 large", "Letter large")


@cache
def three() -> Layout:
    return lay_out(three_months())


@cache
def printed(case: str, remedies: int = 0) -> Diary:
    layout = lay_out(many_remedies(remedies)) if remedies else three()
    paper, _, large = case.partition(" ")
    letters = Print.LARGE if large else Print.STANDARD
    days = Span(START, START + timedelta(days=9)) if remedies > 12 else DAYS
    return diary_sheet(layout, CARD, days, SheetChoices(paper, letters))


def grid(diary: Diary) -> dict[str, Any]:
    content: dict[str, Any] = json.loads(diary.grid)
    return content


def boxes(diary: Diary) -> list[dict[str, Any]]:
    return [box for page in grid(diary)["pages"] for box in page["boxes"]]


def drawn_squares(page: pdfium.PdfPage, side: float) -> set[tuple[float, float]]:
    """The upper left corners, in millimetres, of the squares of a side that are on a page."""
    found = set()
    height = page.get_height()
    for shape in page.get_objects([raw.FPDF_PAGEOBJ_PATH], max_depth=1):
        left, bottom, right, top = shape.get_bounds()
        if abs(right - left - side * POINTS) < 2 and abs(top - bottom - side * POINTS) < 2:
            middle = ((left + right) / 2 / POINTS, (height - (top + bottom) / 2) / POINTS)
            found.add((round(middle[0] - side / 2, 1), round(middle[1] - side / 2, 1)))
    return found


@pytest.mark.parametrize("case", CASES)
def test_each_box_is_drawn_where_the_file_says_and_no_other(case: str) -> None:
    diary = printed(case)
    content = grid(diary)
    with pdfium.PdfDocument(diary.pdf) as document:
        assert len(document) == len(content["pages"])
        for page, told in zip(document, content["pages"], strict=True):
            assert page.get_width() / POINTS == pytest.approx(content["paper"]["width"], abs=NEAR)
            size = told["boxes"][0]["size"]
            told_places = {(round(b["x"], 1), round(b["y"], 1)) for b in told["boxes"]}
            squares = drawn_squares(page, size)
            assert len(squares) == len(told["boxes"]) == len(told_places)
            for x, y in told_places:
                assert any(abs(x - a) <= NEAR and abs(y - b) <= NEAR for a, b in squares), (x, y)
            marks = [(mark["x"], mark["y"]) for mark in content["marks"]]
            drawn = sorted(drawn_squares(page, 9), key=lambda place: (place[1], place[0]))
            assert [pytest.approx(mark, abs=NEAR) for mark in marks] == drawn


@pytest.mark.parametrize("case", CASES)
def test_sizes_of_marks_and_boxes(case: str) -> None:
    diary = printed(case)
    content = grid(diary)
    assert [mark["size"] for mark in content["marks"]] == [9] * 4
    assert {box["size"] for box in boxes(diary)} == {7.5 if "large" in case else 6}
    width, height = content["paper"]["width"], content["paper"]["height"]
    corners = [(6, 6), (width - 15, 6), (6, height - 15), (width - 15, height - 15)]
    assert [(mark["x"], mark["y"]) for mark in content["marks"]] == [
        pytest.approx(corner, abs=NEAR) for corner in corners
    ]


@pytest.mark.parametrize(
    ("case", "remedies"),
    [*((case, 0) for case in CASES), ("A4", 12), ("Letter large", 30)],
)
def test_nothing_overlaps_and_all_is_on_the_paper(case: str, remedies: int) -> None:
    content = grid(printed(case, remedies))
    width, height = content["paper"]["width"], content["paper"]["height"]
    for page in content["pages"]:
        places = [(b["x"], b["y"], b["size"]) for b in (*page["boxes"], page["code"])]
        places += [(m["x"], m["y"], m["size"]) for m in content["marks"]]
        places.sort(key=lambda place: (place[1], place[0]))
        for n, (x, y, side) in enumerate(places):
            assert 5 <= x <= width - side - 5
            assert 5 <= y <= height - side - 5
            for other_x, other_y, other_side in places[n + 1 :]:
                if other_y >= y + side:
                    break
                assert other_x >= x + side or other_x + other_side <= x


def long_names() -> Layout:
    named = three_months("Wilhelmina-Alexandra von Hohenzollern-Sigmaringen O’Shaughnessy")
    more = " with elderflower, blackcurrant and an anti-inflammatory evening"
    remedies = tuple(replace(remedy, name=remedy.name + more) for remedy in named.remedies)
    return lay_out(replace(named, remedies=remedies))


@pytest.mark.parametrize(
    "choices",
    [SheetChoices(), SheetChoices("Letter", Print.LARGE), SheetChoices(hours=ClockHours.TWELVE)],
)
def test_no_text_touches_a_box_a_mark_or_the_code_or_leaves_the_paper(
    choices: SheetChoices,
) -> None:
    """Nothing is printed in a box, so that any dark in it was put there by hand."""
    diary = diary_sheet(long_names(), CARD, DAYS, choices, recorded=("pain", STIFFNESS.id))
    with pdfium.PdfDocument(diary.pdf) as document:
        for page, told in zip(document, grid(diary)["pages"], strict=True):
            height = page.get_height()
            places = [*told["boxes"], told["code"], *grid(diary)["marks"]]
            squares = [
                (b["x"] * POINTS, height - b["y"] * POINTS, b["size"] * POINTS) for b in places
            ]
            for words in page.get_objects([raw.FPDF_PAGEOBJ_TEXT], max_depth=1):
                left, bottom, right, top = words.get_bounds()
                assert 0 < left < right < page.get_width()
                for x, upper, side in squares:
                    beside = right <= x or left >= x + side
                    assert beside or bottom >= upper or top <= upper - side, (
                        told["page"],
                        left,
                        bottom,
                        right,
                        top,
                    )


@pytest.mark.parametrize("remedies", [0, 12])
def test_every_dose_has_a_box_and_no_box_is_without_a_dose(remedies: int) -> None:
    """Held against the doses one by one, which are worked out elsewhere."""
    layout = lay_out(many_remedies(remedies)) if remedies else three()
    due = Counter(
        (dose.day.isoformat(), dose.remedy, dose.time.strftime("%H:%M"))
        for dose in doses(layout)
        if dose.day in DAYS
    )
    found = Counter(
        (box["day"], box["remedy"], box["time"])
        for box in boxes(printed("A4", remedies))
        if box["kind"] == "dose"
    )
    assert found == due


def test_as_needed_has_a_box_for_each_allowed_dose() -> None:
    layout = three()
    due = {
        (day.isoformat(), stretch.remedy): stretch.as_needed_max
        for stretch in layout.stretches
        for day in stretch.days_taken()
        if stretch.as_needed_max and day in DAYS
    }
    found: dict[tuple[str, str], list[int]] = {}
    for box in boxes(printed("A4")):
        if box["kind"] == "as needed":
            found.setdefault((box["day"], box["remedy"]), []).append(box["number"])
    assert {key: max(numbers) for key, numbers in found.items()} == due
    assert all(numbers == list(range(1, len(numbers) + 1)) for numbers in found.values())


def test_each_week_has_one_row_from_0_to_10() -> None:
    rows: dict[str, list[int]] = {}
    for box in boxes(printed("A4")):
        if box["kind"] == "score":
            rows.setdefault(box["day"], []).append(box["value"])
    assert len(rows) == 12
    assert all(values == list(range(11)) for values in rows.values())
    assert {(date.fromisoformat(day) - START).days % 7 for day in rows} == {6}


def test_a_rating_says_which_end_is_bad_as_far_as_that_is_known() -> None:
    """By the measure's own direction; what is known by its name alone has its scale."""
    energy = Measure("energy", "Energy", Better.MORE)
    recorded = ("pain", "sleep", "activity: Climb stairs", "energy", "warmth")
    made = diary_sheet(three(), CARD, DAYS, recorded=recorded, measures=Measures((energy,)))
    words = {run.text for run in runs(made.pdf)}
    assert {
        "Pain: 10 worst",
        "Sleep: 10 best",
        "Climb stairs: 0 unable",
        "Energy: 10 best",
        "Warmth, 0 to 10",
    } <= words
    assert "Overall: 10 best" in {run.text for run in runs(printed("A4").pdf)}


def test_how_to_fill_it_in_is_one_line_with_the_day_on_which_to_rate() -> None:
    for recorded in (("pain",), (STIFFNESS.id,)):
        made = diary_sheet(three(), CARD, DAYS, recorded=recorded)
        (told,) = {run.text for run in runs(made.pdf) if "week’s last day: cross" in run.text}
        assert told.endswith("Scribble right over it.")


def test_twelve_weeks_are_three_pages_where_amounts_seldom_change() -> None:
    steady = course(phase("steady", "12 w", line("t1", "5 mL tds"), line("t2", "5 mL bd")))
    days = Span(steady.start, steady.start + timedelta(weeks=12))
    for paper in ("A4", "Letter"):
        content = grid(diary_sheet(lay_out(steady), CARD, days, SheetChoices(paper)))
        assert [page["first_day"] for page in content["pages"]] == [
            (days.first + timedelta(weeks=4 * n)).isoformat() for n in range(3)
        ]


def test_it_goes_to_the_next_visit_and_no_further() -> None:
    """A visit at the end of each phase; one within six days is passed over."""
    layout = three()
    ends = [run.span.last for run in layout.phases]
    assert diary_days(layout, ends[0] - timedelta(days=10)).last == ends[0]
    assert diary_days(layout, ends[0] - timedelta(days=3)).first == ends[0] - timedelta(days=3)
    assert diary_days(layout, ends[0] - timedelta(days=3)).last > ends[0]
    assert not diary_days(layout, ends[-1] + timedelta(days=1))
    with pytest.raises(ValueError, match="no day left"):
        diary_sheet(layout, CARD, Span(START, START))


def test_a_change_of_amount_is_told_on_its_day() -> None:
    steps = course(
        phase("loading", "1 w", line("t1", "5 mL bd")),
        phase("maintenance", "2 w", line("t1", "10 mL bd")),
    )
    diary = diary_sheet(lay_out(steps), CARD, Span(steps.start, steps.start + timedelta(days=21)))
    words = [run.text for run in runs(diary.pdf)]
    (told,) = [text for text in words if text.startswith("From ")]
    assert told.endswith("A 10 mL")
    key = next(text for text in words if "5 mL" in text)
    assert "10 mL" not in key


def test_a_dose_past_midnight_stands_on_the_evenings_row() -> None:
    late = ClientDay.at({Moment.BEDTIME: time(0, 30)})
    night = course(phase("all", "1 w", line("t1", "5 mL nocte")))
    night = replace(night, client=replace(night.client, day=late))
    diary = diary_sheet(lay_out(night), CARD, Span(night.start, night.start + timedelta(days=7)))
    (first, *_) = [box for box in boxes(diary) if box["kind"] == "dose"]
    assert (first["day"], first["minute"], first["time"]) == (
        night.start.isoformat(),
        as_minutes(time(0, 30)) + 1440,
        "00:30",
    )


@pytest.mark.parametrize("case", CASES)
def test_the_code_is_the_one_of_its_page(case: str) -> None:
    """Drawn again by another library: the same squares (ISO/IEC 18004 leaves the mask free)."""
    diary = printed(case)
    for number, page in enumerate(grid(diary)["pages"], 1):
        text = page["code"]["text"]
        assert text[0] == "D"
        assert text[9:14] == grid(diary)["version"]
        assert int(text[14:]) == number
        assert segno.make(text, error="q", boost_error=False, micro=False).version == 1


def test_the_version_is_that_of_the_grid() -> None:
    versions = {grid(printed(case))["version"] for case in CASES}
    assert len(versions) == len(CASES)
    assert printed("A4").grid == diary_sheet(three(), CARD, DAYS).grid
    assert b"Una" not in printed("A4").grid


@pytest.mark.parametrize(("case", "remedies"), [*((case, 0) for case in CASES), ("A4", 12)])
def test_it_can_be_read_aloud(case: str, remedies: int) -> None:
    assert problems_of(printed(case, remedies).pdf) == []


def least(case: str) -> float:
    return 18 if "large" in case else 12


@pytest.mark.parametrize("case", CASES)
def test_type_is_large_enough_and_whole_words_stand_on_the_paper(case: str) -> None:
    found: list[Run] = runs(printed(case).pdf)
    sizes = {round(run.size, 1) for run in found if len(run.text) > 1 and run.size > 0}
    assert min(sizes) >= least(case)
    assert sum(run.text.startswith("Page ") for run in found) == len(grid(printed(case))["pages"])


# Advice


def test_advice_that_is_wanted_has_boxes_on_its_days() -> None:
    walk = AdviceLine("Walk for 20 minutes", parse_timing("at 15:00 on mon wed"), diary=True)
    rest = AdviceLine("Rest the joint", diary=True)
    plain = AdviceLine("Leave out coffee")
    two = replace(phase("one", "2 w", line("t1", "1 cup od")), advice=(plain, walk, rest))
    layout = lay_out(course(two))
    made = diary_sheet(layout, CARD, layout.days)
    advised = [box for box in boxes(made) if box["kind"] == "advice"]
    walks = [box["day"] for box in advised if box["number"] == 1]
    assert walks == ["2027-01-04", "2027-01-06", "2027-01-11", "2027-01-13"]
    assert {box["time"] for box in advised if "time" in box} == {"15:00"}
    assert len([box for box in advised if box["number"] == 2]) == 14
    words = " ".join(run.text for run in runs(made.pdf))
    assert "Walk for 20 minutes" in words
    assert "In the day" in words
    assert "coffee" not in words
    assert b"Walk" not in made.grid


def test_times_are_those_of_the_clock_that_was_chosen() -> None:
    choices = SheetChoices(hours=ClockHours.TWELVE)
    words = [run.text for run in runs(diary_sheet(three(), CARD, DAYS, choices).pdf)]
    assert any("7:30 am" in text for text in words)
    assert not any("07:30" in text for text in words)


@settings(max_examples=draws(8, check=20), deadline=None)
@given(samples.courses(revised=True), st.integers(0, 200))
def test_any_course_has_a_box_for_each_dose_and_none_beside(made: Course, later: int) -> None:
    try:
        layout = lay_out(made)
    except LayoutError:
        return
    days = diary_days(layout, made.start + timedelta(days=later))
    if not days:
        return
    found = Counter(
        (box["day"], box["remedy"], box["time"])
        for box in boxes(diary_sheet(layout, CARD, days))
        if box["kind"] == "dose"
    )
    assert found == Counter(
        (dose.day.isoformat(), dose.remedy, dose.time.strftime("%H:%M"))
        for dose in doses(layout)
        if dose.day in days
    )


def test_morning_stiffness_has_a_row_of_minutes_and_other_scales_have_none() -> None:
    layout = three()
    own = Measures((Measure("grip", "Grip", Better.MORE, high=Fraction(60)),))
    assert measures_of(layout, layout.days, ["sleep", STIFFNESS.id, "grip"], own) == (
        "sleep",
        STIFFNESS.id,
    )
    assert measures_of(layout, layout.days, ["grip"], own) == (OVERALL,)
    for case, lines in (("A4", 1), ("Letter large", 1)):
        paper, _, large = case.partition(" ")
        choices = SheetChoices(paper, Print.LARGE if large else Print.STANDARD)
        diary = diary_sheet(layout, CARD, DAYS, choices, recorded=("pain", STIFFNESS.id))
        rows: dict[str, list[dict[str, Any]]] = {}
        for box in boxes(diary):
            if box.get("measure") == STIFFNESS.id:
                rows.setdefault(box["day"], []).append(box)
        assert len(rows) == 12
        for row in rows.values():
            assert [box["value"] for box in row] == [0, 5, 10, 15, 20, 30, 45, 60, 90, 120, 180]
            assert len({box["y"] for box in row}) == lines
        texts = [run.text for run in runs(diary.pdf)]
        assert texts.count("Stiff on waking, min") == 12
        assert texts.count("180") == 12


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_twelve_weeks_with_two_ratings_are_three_pages_where_the_heads_are_level(
    paper: str,
) -> None:
    """The rows fill the page to its foot exactly, which counts as room enough."""
    steady = course(phase("steady", "12 w", line("t1", "5 mL tds"), line("t2", "5 mL bd")))
    days = Span(steady.start, steady.start + timedelta(weeks=12))
    rated = ("pain", STIFFNESS.id)
    diary = diary_sheet(lay_out(steady), CARD, days, SheetChoices(paper), recorded=rated)
    assert len(grid(diary)["pages"]) == (3 if paper == "A4" else 4)
