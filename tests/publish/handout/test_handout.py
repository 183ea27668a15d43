"""The card and the sheet on paper: what stands on them, who can read them, that all fits."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from io import BytesIO

import pypdfium2 as pdfium  # type: ignore[import-untyped]
import pytest
from pypdf import PdfReader

from sennight.domain.courses.courses import Course, Flare, Stop
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.forms import Form
from sennight.domain.take_home.choices import Print, SheetChoices
from sennight.dyes import DYES
from sennight.publish.handout.document import handout_pdf, unprintable
from sennight.publish.handout.paper import SHEET_PAPERS
from sennight.publish.pdf.booklet import sides
from sennight.publish.pdf.typeface import MissingGlyphsError
from support.handout_samples import (
    CARD,
    JOINT_TEA,
    REMEDIES,
    RUB,
    START,
    TINCTURE,
    document_of,
    many_remedies,
    sample_course,
    sheet_pdf,
    three_months,
    year,
)
from support.pdf_pages import Run, contrast, page_texts, runs, tags
from support.samples import line, phase

WHITE = (1.0, 1.0, 1.0)
MILLIMETRE = 72 / 25.4
SIZES = {
    "A4": (210 * MILLIMETRE, 297 * MILLIMETRE),
    "Letter": (8.5 * 72, 11 * 72),
    "A5": (148 * MILLIMETRE, 210 * MILLIMETRE),
}
every_paper = pytest.mark.parametrize(
    ("paper", "letters"), [(paper, letters) for paper in SHEET_PAPERS for letters in Print]
)


@cache
def full(paper: str = "A4", letters: Print = Print.STANDARD) -> bytes:
    return sheet_pdf(three_months(), paper, letters)


@cache
def words() -> str:
    return " ".join(page_texts(full()))


def joint_course() -> Course:
    """Twelve weeks of four remedies, the directions of one changing half way."""
    base = phase(
        "loading",
        "12 w",
        line("t1", "1 cup tds"),
        line("t2", "5 mL tds ac", (8, "7.5 mL bd ac")),
        line("t3", "1 capsule tds with food"),
        line("t4", "1 application at rising, bedtime 3 w on 2 w off"),
    )
    return sample_course(base, remedies=REMEDIES[:4])


# What has to stand on it


@pytest.mark.parametrize(
    ("said", "source"),
    [
        ("Una Example", "name of the person: UK SI 2012/1916 Sch 25 Pt 1 para 1"),
        ("Withy Lane Herbal Practice", "supplier: UK SI 2012/1916 Sch 25 Pt 1 para 2"),
        ("4 Withy Lane", "supplier's address: UK SI 2012/1916 Sch 25 Pt 1 para 2"),
        ("01632 960 118", "supplier's telephone: SUSMP Appendix L, WA Health summary"),
        ("Made on 30 December 2026", "date: UK SI 2012/1916 Sch 25 para 3"),
        ("Warming tincture", "product: UK SI 2012/1916 Sch 25 para 4(a)"),
        ("drink 1 cup three times a day", "directions: UK SI 2012/1916 Sch 25 para 4(b)"),
        ("Stop all remedies and call us if", "precautions: UK SI 2012/1916 Sch 25 para 4(c)"),
        ("Boswellia extract 400 mg", "actives per unit: UK SI 2012/1916 Sch 24 Pt 1 para 5"),
        ("Swallow capsules whole", "method: UK SI 2012/1916 Sch 24 Pt 1 para 8"),
        ("out of the reach and sight of children", "UK SI 2012/1916 Sch 24 Pt 1 para 10"),
        ("use-by date", "UK SI 2012/1916 Sch 24 Pt 1 para 12"),
        ("closed, dry, cool and away from light", "UK SI 2012/1916 Sch 24 Pt 1 para 13"),
        ("For external use only", "SUSMP Appendix L, WA Health summary"),
        ("inside of your forearm", "patch test pages"),
        ("alcohol, about 53 % by volume", "30 × 60 % + 70 × 50 % over 100: own working"),
        ("Get help at once", "common practice"),
        ("pregnant", "EMA herbal monographs"),
        ("Show this sheet to your doctor and pharmacist", "common practice"),
    ],
)
def test_what_published_lists_ask_for_is_there(said: str, source: str) -> None:
    assert said in words(), source


@every_paper
def test_help_and_whom_to_call_stand_on_the_first_page(paper: str, letters: Print) -> None:
    first = page_texts(full(paper, letters))[0]
    assert "Get help at once" in first
    assert "call 999" in first
    assert "See a doctor the same day" in first or letters is Print.LARGE or paper == "A5"


def test_the_card_has_the_running_day_and_nothing_else_of_the_course() -> None:
    card = page_texts(sheet_pdf(joint_course()))[0]
    assert "Your day from Wednesday 6 January (weeks 1 to 12: full dose)" in card
    assert "Next change Wednesday 27 January: days off start for Comfrey and cayenne rub." in card
    assert "Next visit By Tuesday 30 March." in card
    assert "Call us: 01632 960 118" in card
    assert "Patch test" not in card


def test_a_flare_that_runs_is_the_plan_of_the_day() -> None:
    flare = Flare(on=START, first=START, rescue="flare-up")
    made = replace(three_months(), revisions=(flare,))
    data = handout_pdf(document_of(made, today=START))
    card = page_texts(data)[0]
    assert "Now: flare-up plan" in card
    assert "Next change Wednesday 13 January: your flare-up plan is over." in card


def test_twelve_weeks_of_four_remedies_take_four_pages() -> None:
    for paper in ("A4", "Letter"):
        assert len(page_texts(sheet_pdf(joint_course(), paper))) <= 4


def test_the_sheets_of_a_booklet_folded_and_nested_have_their_pages_in_order() -> None:
    for pages in range(1, 30):
        laid = list(sides(pages))
        assert len(laid) % 2 == 0
        inwards = [
            page
            for outer, inner in zip(laid[::2], laid[1::2], strict=True)
            for page in (outer[1], inner[0])
        ]
        outwards = [
            page
            for outer, inner in zip(laid[-2::-2], laid[::-2], strict=True)
            for page in (inner[1], outer[0])
        ]
        assert [*inwards, *outwards] == list(range(1, 2 * len(laid) + 1))


def test_a_booklet_is_the_a5_pages_two_by_two_on_a4() -> None:
    pages = page_texts(sheet_pdf(joint_course(), "A5"))
    booklet = sheet_pdf(joint_course(), "booklet")
    assert booklet == sheet_pdf(joint_course(), "booklet")
    for page in PdfReader(BytesIO(booklet), strict=True).pages:
        size = page.mediabox
        assert [round(float(n)) for n in (size.width, size.height)] == [842, 595]
    with pdfium.PdfDocument(booklet) as laid:
        for page, side in zip(laid, sides(len(pages)), strict=True):
            words = page.get_textpage()
            halves = [words.get_text_bounded(x, 0, x + 421, 595) for x in (0, 421)]
            told = [re.findall(r"Page (\d+) of", half) for half in halves]
            assert told == [[str(n)] if n <= len(pages) else [] for n in side]


def test_every_page_has_the_clients_name_and_its_number_of_all() -> None:
    pages = page_texts(full())
    for number, text in enumerate(pages, 1):
        assert f"Page {number} of {len(pages)}" in text
        assert "Una Example" in text


@pytest.mark.parametrize("make", [three_months, year, lambda: many_remedies(12)])
def test_no_latin_no_trailing_zero_and_never_safe(make: Callable[[], Course]) -> None:
    """ISMP error-prone abbreviations; Joint Commission "Do Not Use" list."""
    text = " ".join(page_texts(sheet_pdf(make())))
    codes = r"\b(od|bd|tds|qds|prn|ac|pc|mane|nocte|gtt|stat|cc|ug)\b"
    assert not re.search(codes, text.lower())
    assert not re.search(r"\d\.\d*0(?!\d)", text)
    assert not re.search(r"(?<![\d:])\.\d", text)
    assert "safe" not in text.lower()


# Who can read it


@every_paper
def test_nothing_is_smaller_than_twelve_points(paper: str, letters: Print) -> None:
    """RNIB, Clear Print: 12 point at least, 14 better; large print 16 to 18."""
    found = [run for run in runs(full(paper, letters)) if not run.text.startswith("Page")]
    body = {Print.STANDARD: 14, Print.LARGE: 18}[letters]
    words_of = [run for run in found if run.font.endswith(("Regular", "Semibold"))]
    assert min(run.size for run in found) >= 12 - 0.01
    assert sum(len(r.text) for r in words_of if r.size >= body) > sum(
        len(r.text) for r in words_of if r.size < body
    )


def test_contrast_on_white_paper() -> None:
    """WCAG 2.2, 1.4.3: 4.5 : 1 for normal text."""
    colours = {run.colour for run in runs(full())}
    assert len(colours) >= 4
    for colour in colours:
        assert contrast(colour, WHITE) >= 4.5, colour


def test_our_contrast_formula() -> None:
    """WCAG: black on white is 21 : 1."""
    assert contrast((0, 0, 0), (1, 1, 1)) == pytest.approx(21.0)


def test_lines_are_not_longer_than_the_eye_can_follow() -> None:
    """PMCPA: 100 letters at most. RNIB: 60 to 70; the middle one of the full lines is near it."""
    lengths = sorted(len(run.text) for run in runs(full()))
    assert lengths[-1] <= 100
    full_lines = [n for n in lengths if n > 45]
    assert full_lines[len(full_lines) // 2] <= 75


def test_only_the_shipped_faces_are_used() -> None:
    """A face that is not in the file may be replaced by any other on the client's machine."""
    faces = {run.font.split("-")[0].split("+")[-1] for run in runs(full())}
    assert faces == {"SourceSans3", "GentiumBookPlus"}


def test_letters_say_what_colours_say() -> None:
    """WCAG 2.2, 1.4.1: colour is never the only sign; each dye has a pattern and a letter."""
    assert len({dye.pattern for dye in DYES}) == len(DYES)
    letters = [run.text for run in runs(full()) if run.font.endswith("Bold")]
    assert set("ABCDE") <= set(letters)


def test_it_is_tagged_for_screen_readers() -> None:
    """ISO 32000-1, 14.8: a tree of tags, of which the tables have rows and heads."""
    kinds = [tag for tag, _ in tags(full())]
    assert {"H1", "H2", "H3", "P", "L", "Table", "TH", "Link"} <= set(kinds)
    assert kinds.count("H1") == 1


def test_bookmarks_language_and_title_without_the_clients_name() -> None:
    reader = PdfReader(BytesIO(full()))
    bookmarks = [str(entry.title) for entry in reader.outline]  # type: ignore[union-attr]
    assert bookmarks == [
        "Your day from Wednesday 6\u00a0January (weeks 1 to 6: full dose)",
        "Your remedies",
        "How your day changes",
        "If you have a flare-up",
        "Important information",
    ]
    assert reader.trailer["/Root"]["/Lang"] == "en-GB"  # type: ignore[index]
    properties = " ".join(str(value) for value in (reader.metadata or {}).values())
    assert "Herbal remedies" in properties
    assert "Una" not in properties


# That it holds together


def at_one_hour(count: int) -> Course:
    remedies = tuple(replace(TINCTURE, id=f"r{n}", name=f"Remedy {n}") for n in range(count))
    lines = (line(remedy.id, "5 mL od") for remedy in remedies)
    return sample_course(phase("a", "2 w", *lines), remedies=remedies)


EDGES: dict[str, Callable[[], Course]] = {
    "three months": three_months,
    "one remedy, one week": lambda: sample_course(
        phase("a", "1 w", line("t1", "1 cup od")), remedies=(JOINT_TEA,)
    ),
    "twelve remedies": lambda: many_remedies(12),
    "seventy herbs in one": lambda: many_remedies(2, herbs_in_each=70),
    "thirty remedies": lambda: many_remedies(30),
    "forty remedies at one hour": lambda: at_one_hour(40),
    "a titration": lambda: sample_course(
        phase(
            "a",
            "20 w",
            line(
                "t2",
                "1 drop tds ac and prn max 2/day",
                *((n, f"{n} drops tds ac") for n in range(1, 20)),
            ),
        ),
        remedies=((TINCTURE,)),
    ),
    "a long name": lambda: three_months(
        "Щербакова-Константинопольская Александра Вячеславовна Nguyễn Thị Ánh Tuyết "
        "Παπαδοπούλου-Οικονομοπούλου"
    ),
    "an unbroken name": lambda: three_months("Wolfeschlegelstein" * 8),
    "unbroken names of remedies": lambda: replace(
        three_months(), remedies=tuple(replace(r, name=r.name * 12) for r in REMEDIES)
    ),
}


@pytest.mark.parametrize(("paper", "letters"), [("A4", Print.STANDARD), ("A5", Print.LARGE)])
@pytest.mark.parametrize("edge", EDGES)
def test_nothing_runs_off_the_page_and_no_heading_is_left_alone(
    edge: str, paper: str, letters: Print
) -> None:
    """No course crashes a sheet: what is long goes on on further pages."""
    data = sheet_pdf(EDGES[edge](), paper, letters)
    for page in PdfReader(BytesIO(data)).pages:
        size = float(page.mediabox.width), float(page.mediabox.height)
        assert size == pytest.approx(SIZES[paper], abs=0.1)
    found = runs(data)
    all_stands_inside(found, paper)
    no_heading_stands_last(found)


def all_stands_inside(found: list[Run], paper: str) -> None:
    """Text keeps to the margins and out of the foot."""
    margin = (11 if paper == "A5" else 15) * MILLIMETRE - 0.1
    for run in found:
        in_mark = run.font.endswith("Bold") and len(run.text) <= 2
        if not in_mark:
            assert run.x >= margin, run
            assert run.y == pytest.approx(34) or run.y >= 17 * MILLIMETRE, run
            assert run.y <= SIZES[paper][1] - 12 * MILLIMETRE, run


def no_heading_stands_last(found: list[Run]) -> None:
    """What a page ends with is no heading."""
    body = [run for run in found if run.y > 50 and not run.text.startswith("Page")]
    for number in {run.page for run in body}:
        last = [run for run in body if run.page == number][-1]
        assert "Gentium" not in last.font, (number, last.text)


def test_the_same_course_gives_the_same_bytes() -> None:
    assert sheet_pdf(three_months()) == full()


def test_the_bytes_hold_no_time_of_their_making() -> None:
    """ReportLab writes a fixed date where asked for an invariant file."""
    properties = PdfReader(BytesIO(full())).metadata
    assert properties is not None
    assert properties.creation_date is not None
    assert properties.creation_date.year == 2000


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(ValueError, match="no paper size “A3”; expected one of A4, Letter, A5"):
        handout_pdf(document_of(three_months()), SheetChoices("A3"))


# Names


@pytest.mark.parametrize("name", ["Ἀθηνᾶ Παπαδοπούλου", "Щербакова Наталія", "Nguyễn Thị Ánh"])
def test_names_in_other_scripts_are_printed_on_every_page(name: str) -> None:
    course = sample_course(
        phase("a", "1 w", line("t1", "1 cup od")), remedies=(JOINT_TEA,), name=name
    )
    assert all(name in text for text in page_texts(sheet_pdf(course)))


def test_a_name_that_cannot_be_printed_is_told_before_anything_is() -> None:
    course = three_months("王小明 (Wang)")
    remedy = replace(JOINT_TEA, name="Tea ⚘")
    course = replace(course, remedies=(remedy, *course.remedies[1:]))
    missing = unprintable(document_of(course))
    assert [glyph.text for glyph in missing] == ["王小明 (Wang)"] * 3 + ["Tea ⚘"]
    with pytest.raises(MissingGlyphsError, match=r"CJK UNIFIED IDEOGRAPH-738B .* FLOWER"):
        sheet_pdf(course)


def test_the_caller_may_print_it_with_a_visible_sign() -> None:
    data = handout_pdf(document_of(three_months("王小明 (Wang)")), replace_missing=True)
    assert all("[?][?][?] (Wang)" in text for text in page_texts(data))


def test_markup_in_names_is_only_text() -> None:
    card = replace(CARD, name="Root & Leaf <b>Herbs</b>")
    text = " ".join(page_texts(sheet_pdf(three_months("A < B & <i>C</i>"), card=card)))
    assert "Root & Leaf <b>Herbs</b>" in text
    assert "A < B & <i>C</i>" in text


def test_without_a_card_there_is_room_to_write_whom_to_call() -> None:
    text = " ".join(page_texts(sheet_pdf(three_months(), card=PracticeCard(""))))
    assert "Call us: ____" in text
    assert "Withy Lane" not in text


def test_where_the_practice_is_stands_at_the_top_of_the_first_page_only() -> None:
    pages = page_texts(sheet_pdf(three_months()))
    assert ["4 Withy Lane, Marlow Brook" in page for page in pages] == [True, *[False] * 4]
    assert ["hello@withylane.example" in page for page in pages] == [True, *[False] * 4]


def test_a_stopped_remedy_says_so() -> None:
    revision = Stop(on=START, remedy="t2", first=START.replace(day=13))
    text = " ".join(page_texts(sheet_pdf(replace(three_months(), revisions=(revision,)))))
    assert "Stop on Wednesday 13 January: take none from then on." in text


def test_a_second_rub_is_for_outside_too() -> None:
    second = replace(RUB, id="t6", name="Birch rub")
    course = sample_course(
        phase("a", "1 w", line("t4", "1 application od"), line("t6", "1 application bd")),
        remedies=(JOINT_TEA, RUB, second),
    )
    text = " ".join(page_texts(sheet_pdf(course)))
    assert "Joint tea" not in text
    assert "For external use only. How to use: see B, Comfrey and cayenne rub." in text


@pytest.mark.parametrize("form", list(Form))
def test_each_form_has_a_drawing_that_print_can_read(form: Form) -> None:
    from sennight.publish.handout.marks import _strokes  # noqa: PLC0415

    strokes = _strokes(form)
    assert strokes
    for stroke in strokes:
        assert stroke[0][0] == "M"
        for command, numbers in stroke:
            assert len(numbers) == {"M": 2, "L": 2, "C": 6, "Z": 0}[command]
            assert all(0 <= number <= 24 for number in numbers)
