"""The take-home sheet: what stands on it, for whom it can be read, and that it holds together."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from io import BytesIO
from itertools import pairwise

import pytest
from pypdf import PdfReader

from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, End, Stop
from sennight.domain.courses.stretches import lay_out
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.forms import Form
from sennight.dyes import DYES
from sennight.publish.handout.document import handout_pdf, unprintable
from sennight.publish.handout.input import HerbWords
from sennight.publish.pdf.typeface import MissingGlyphsError
from support.handout_samples import (
    CARD,
    HERBS,
    JOINT_TEA,
    MADE_ON,
    RUB,
    START,
    TINCTURE,
    many_remedies,
    sample_course,
    three_months,
    year,
)
from support.pdf_pages import Run, contrast, page_texts, runs, tags
from support.samples import line, phase

WHITE = (1.0, 1.0, 1.0)
MILLIMETRE = 72 / 25.4
PAPERS = {"A4": (210 * MILLIMETRE, 297 * MILLIMETRE), "Letter": (8.5 * 72, 11 * 72)}


def pdf(course: Course, paper: str = "A4", card: PracticeCard = CARD) -> bytes:
    return handout_pdf(lay_out(course), card, today=MADE_ON, herbs=HerbWords(HERBS), paper=paper)


@cache
def full() -> bytes:
    return pdf(three_months())


@cache
def words() -> str:
    return " ".join(page_texts(full()))


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
        ("Stop, and tell us, if", "precautions: UK SI 2012/1916 Sch 25 para 4(c)"),
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
        ("Show this sheet to your doctor and your pharmacist", "common practice"),
    ],
)
def test_what_published_lists_ask_for_is_there(said: str, source: str) -> None:
    assert said in words(), source


@pytest.mark.parametrize(
    "said",
    [
        "6 January to 30 March 2027, 12 weeks",
        "Until Tuesday 2 February 2027, drink 1 cup three times a day",
        "From Wednesday 3 February 2027, drink this instead: 1 cup twice a day",
        "Days off: 27 January to 2 February 2027.",
        "Days off",
        "Warming tincture: 27 January to 2 February 2027",
        "Pause, 1 to 3 March 2027: take nothing from this list on those days.",
        "If you have a flare-up",
        "Take these for 7 days.",
        "Your flare-up plan: 8 to 14 February 2027.",
        "Night tea, ½ cup (on Mondays, Wednesdays and Fridays)",
        "put 3 g of the dried herbs into a pot and pour on 250 mL of boiling water",
        "leave it to stand for 10 minutes",
        "To make all 3 cups for the day: 9 g in 750 mL.",
        "put 2.5 g of the dried herbs into a pan with 250 mL of cold water",
        "let it simmer for 15 minutes",
        "Nettle leaf 2 parts, Meadowsweet 2 parts and Ginger 1 part",
        "Turmeric 30 parts",
        "at most 4 times a day",
        "Notes",
    ],
)
def test_what_this_course_has_to_say(said: str) -> None:
    assert said in words()


def test_every_page_has_the_clients_name_and_its_number_of_all() -> None:
    pages = page_texts(full())
    for number, text in enumerate(pages, 1):
        assert f"Page {number} of {len(pages)}" in text
        assert "Una Example" in text


@pytest.mark.parametrize("make", [three_months, year, lambda: many_remedies(12)])
def test_no_latin_no_trailing_zero_and_never_safe(make: Callable[[], Course]) -> None:
    """ISMP error-prone abbreviations; Joint Commission "Do Not Use" list."""
    text = " ".join(page_texts(pdf(make())))
    codes = r"\b(od|bd|tds|qds|prn|ac|pc|mane|nocte|gtt|stat|cc|ug)\b"
    assert not re.search(codes, text.lower())
    assert not re.search(r"\d\.\d*0(?!\d)", text)
    assert not re.search(r"(?<![\d:])\.\d", text)
    assert "safe" not in text.lower()


def test_a_stopped_remedy_says_so() -> None:
    revision = Stop(on=START, remedy="t2", first=START + timedelta(days=7))
    course = replace(three_months(), revisions=(revision,))
    text = " ".join(page_texts(pdf(course)))
    assert "Stop on Wednesday 13 January 2027: none from that day on." in text


def test_a_remedy_that_is_never_taken_is_left_out_and_a_second_rub_is_for_outside_too() -> None:
    second = replace(RUB, id="t6", name="Birch rub")
    course = sample_course(
        phase("a", "1 w", line("t4", "1 application od"), line("t6", "1 application bd")),
        remedies=(JOINT_TEA, RUB, second),
    )
    text = " ".join(page_texts(pdf(course)))
    assert "Joint tea" not in text
    assert "For external use only. Use it in the same way as B, Comfrey and cayenne rub." in text


def test_a_course_without_a_day_is_refused() -> None:
    course = replace(three_months(), revisions=(End(on=START, first=START),))
    with pytest.raises(ValueError, match="the course has no day left"):
        pdf(course)


def test_no_line_breaks_between_a_number_and_its_unit_or_month() -> None:
    found = runs(full())
    for one, two in pairwise(found):
        next_line = one.page == two.page and two.y < one.y
        assert not (
            next_line
            and re.search(r"[\d½]$", one.text)
            and re.match(
                r"(mL|g|mg|cups?|hours?|weeks?|days?|minutes?|January|February)\b", two.text
            )
            and one.x == two.x
        ), (one.text, two.text)


def test_a_course_without_a_flare_plan_has_no_heading_for_it() -> None:
    course = sample_course(phase("a", "1 w", line("t1", "1 cup od")), remedies=(JOINT_TEA,))
    text = " ".join(page_texts(pdf(course)))
    assert "flare-up" not in text
    assert "forearm" not in text


@pytest.mark.parametrize(
    ("remedy", "said"),
    [
        ("t1", "Take these for 3 days. Where a remedy is in the list above too, these directions"),
        ("t2", "Take these for 3 days, and go on with everything above."),
    ],
)
def test_a_flare_up_plan_says_what_becomes_of_the_rest(remedy: str, said: str) -> None:
    """The rescue remedies take the place of base lines of the same remedy, and of no other."""
    course = sample_course(
        phase("a", "1 w", line("t1", "1 cup od")),
        phase("rescue", "3 d", line(remedy, "1 cup qds" if remedy == "t1" else "5 mL qds")),
        remedies=(JOINT_TEA, TINCTURE),
    )
    assert said in " ".join(" ".join(page_texts(pdf(course))).split())


# Who can read it


def sheet_pages(found: list[Run]) -> set[int]:
    first = next(run.page for run in found if run.text == "Your weeks")
    return set(range(first, found[-1].page + 1))


def test_all_running_text_is_twelve_points_or_more() -> None:
    """RNIB, Clear Print: 12 point at least. Marks and the figures in the grid apart."""
    found = runs(full())
    small = {run.text for run in found if run.size < 12}
    assert small <= {*"ABCDE", "flare"} | {run.text for run in found if re.match(r"\d", run.text)}
    days = {run.text for run in found if run.size < 12 and re.match(r"\d", run.text)}
    assert all(re.fullmatch(r"\d{1,2}( [A-Z][a-z]{2})?", text) for text in days)


def test_even_the_smallest_letters_are_one_and_a_half_millimetres_high() -> None:
    """Queensland Health (Drugs and Poisons) Regulation 1996 s 85: 1.5 mm letter height."""
    cap_height = 0.66  # of the size: OS/2 sCapHeight of the face, 660 of 1000
    smallest = min(run.size for run in runs(full()))
    assert smallest * cap_height / MILLIMETRE >= 1.5


def test_contrast_on_white_paper() -> None:
    """WCAG 2.2, 1.4.3: 4.5 : 1 for normal text."""
    colours = {run.colour for run in runs(full())}
    assert len(colours) >= 4
    for colour in colours:
        assert contrast(colour, WHITE) >= 4.5, colour


@pytest.mark.parametrize(("one", "two", "ratio"), [((0, 0, 0), (1, 1, 1), 21.0)])
def test_our_contrast_formula(
    one: tuple[float, ...], two: tuple[float, ...], ratio: float
) -> None:
    """WCAG: black on white is 21 : 1."""
    assert contrast(one, two) == pytest.approx(ratio)


def test_lines_are_not_longer_than_the_eye_can_follow() -> None:
    """PMCPA: 100 letters at most. RNIB: 60 to 70; the middle one of the full lines is within."""
    found = runs(full())
    lengths = sorted(len(run.text) for run in found if run.page not in sheet_pages(found))
    assert lengths[-1] <= 100
    full_lines = [n for n in lengths if n > 45]
    assert full_lines[len(full_lines) // 2] <= 70


def test_only_the_shipped_faces_are_used() -> None:
    """A face that is not in the file may be replaced by any other on the client's machine."""
    faces = {run.font.split("-")[0].split("+")[-1] for run in runs(full())}
    assert faces == {"SourceSans3", "GentiumBookPlus"}


def test_letters_say_what_colours_say() -> None:
    """WCAG 2.2, 1.4.1: colour is never the only sign; each dye has a pattern and a letter."""
    assert len({dye.pattern for dye in DYES}) == len(DYES)
    letters = [run.text for run in runs(full()) if run.font.endswith("Bold") and run.size < 12]
    assert set(letters) == set("ABCDE")


def test_it_is_tagged_for_screen_readers() -> None:
    """ISO 32000-1, 14.8: a tree of tags; each week of the sheet is told in words."""
    found = tags(full())
    kinds = [tag for tag, _ in found]
    lists, tables = {"L", "LI", "Lbl", "LBody"}, {"Table", "TR", "TH", "TD"}
    assert set(kinds) == {"H1", "H2", "H3", "P", "Figure"} | lists | tables  # 14.8.4
    assert (kinds.count("H1"), kinds.count("H2")) == (1, len(sections(full())))
    weeks = [alt for tag, alt in found if tag == "Figure"]
    assert len(weeks) == 13
    assert weeks[3].startswith("Week 4, Monday 25 January 2027 to Sunday 31 January 2027.")
    assert "Warming tincture: 2 doses Mon Tue; off Wed Thu Fri Sat Sun" in weeks[3]
    assert "Comfrey and cayenne rub: as needed Mon" in weeks[3]


def sections(data: bytes) -> list[str]:
    outline = PdfReader(BytesIO(data)).outline
    return [str(entry.title) for entry in outline if not isinstance(entry, list)]


def test_phases_have_bookmarks_within_their_sections() -> None:
    outline = PdfReader(BytesIO(full())).outline
    within = outline[outline.index(next(e for e in outline if isinstance(e, list)))]
    assert [entry.title for entry in within] == ["Loading", "Maintenance"]  # type: ignore[union-attr]


def test_bookmarks_language_and_title_without_the_clients_name() -> None:
    reader = PdfReader(BytesIO(full()))
    assert sections(full()) == [
        "What to take, and when",
        "If you have a flare-up",
        "Your day",
        "How to make and use them",
        "Please read this",
        "Ask us",
        "Notes",
        "Your weeks",
    ]
    catalogue = reader.trailer["/Root"]
    assert catalogue["/Lang"] == "en-GB"  # type: ignore[index]
    properties = " ".join(str(value) for value in (reader.metadata or {}).values())
    assert "Course of herbs" in properties
    assert "Una" not in properties


# That it holds together

EDGES: dict[str, Callable[[], Course]] = {
    "three months": three_months,
    "a year": year,
    "one remedy, one week": lambda: sample_course(
        phase("a", "1 w", line("t1", "1 cup od")), remedies=(JOINT_TEA,)
    ),
    "twelve remedies": lambda: many_remedies(12),
    "seventy herbs in one": lambda: many_remedies(2, herbs_in_each=70),
    "thirty remedies": lambda: many_remedies(30),
    "a long name": lambda: three_months(
        "Щербакова-Константинопольская Александра Вячеславовна Nguyễn Thị Ánh Tuyết "
        "Παπαδοπούλου-Οικονομοπούλου"
    ),
    "an unbroken name": lambda: three_months("Wolfeschlegelstein" * 8),
}


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("edge", EDGES)
def test_nothing_runs_off_the_page_and_no_heading_is_left_alone(edge: str, paper: str) -> None:
    """Both are looked for in one sheet: the largest take seconds to set."""
    data = pdf(EDGES[edge](), paper)
    for page in PdfReader(BytesIO(data)).pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
            PAPERS[paper], abs=0.1
        )
    found = runs(data)
    all_stands_inside(found, PAPERS[paper][1])
    no_heading_stands_last(found)


def all_stands_inside(found: list[Run], height: float) -> None:
    """Running text keeps to the margins and out of the foot."""
    margin = 18 * MILLIMETRE - 0.1
    for run in found:
        if run.size > 10.5 and not run.text.startswith("Page"):
            assert run.x >= margin
            assert run.y == pytest.approx(34) or run.y >= 22 * MILLIMETRE
            assert run.y <= height - 17 * MILLIMETRE


def no_heading_stands_last(found: list[Run]) -> None:
    """What a page ends with is no heading."""
    body = [run for run in found if run.y > 50 and not run.text.startswith("Page")]
    for number in {run.page for run in body}:
        last = [run for run in body if run.page == number][-1]
        assert "Gentium" not in last.font or last.text == "Notes", (number, last.text)


def test_all_weeks_and_days_of_a_year_are_there_once() -> None:
    data = pdf(year())
    found = runs(data)
    weeks = [run.text for run in found if re.fullmatch(r"Week \d+", run.text)]
    assert weeks == [f"Week {n}" for n in range(1, 53)]
    days = [run.text for run in found if run.size == 10 and re.match(r"\d", run.text)]
    assert len(days) == 364


def test_twelve_weeks_and_the_words_around_them_take_few_pages() -> None:
    assert len(page_texts(full())) <= 8


@pytest.mark.parametrize("paper", PAPERS)
def test_the_same_course_gives_the_same_bytes(paper: str) -> None:
    assert pdf(three_months(), paper) == pdf(three_months(), paper)


def test_the_bytes_hold_no_time_of_their_making() -> None:
    """ReportLab writes a fixed date where asked for an invariant file."""
    properties = PdfReader(BytesIO(full())).metadata
    assert properties is not None
    assert properties.creation_date is not None
    assert properties.creation_date.year == 2000


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(ValueError, match="no paper size “A5”; expected one of A4, Letter"):
        pdf(three_months(), "A5")


# Names


@pytest.mark.parametrize("name", ["Ἀθηνᾶ Παπαδοπούλου", "Щербакова Наталія", "Nguyễn Thị Ánh"])
def test_names_in_other_scripts_are_printed_on_every_page(name: str) -> None:
    course = sample_course(
        phase("a", "1 w", line("t1", "1 cup od")), remedies=(JOINT_TEA,), name=name
    )
    assert all(name in text for text in page_texts(pdf(course)))


def test_a_name_that_cannot_be_printed_is_told_before_anything_is() -> None:
    course = three_months("王小明 (Wang)")
    remedy = replace(JOINT_TEA, name="Tea ⚘")
    course = replace(course, remedies=(remedy, *course.remedies[1:]))
    missing = unprintable(lay_out(course), CARD, HERBS)
    assert [one.text for one in missing] == ["王小明 (Wang)"] * 3 + ["Tea ⚘"]
    with pytest.raises(MissingGlyphsError, match=r"CJK UNIFIED IDEOGRAPH-738B .* FLOWER"):
        pdf(course)


def test_the_caller_may_print_it_with_a_visible_sign() -> None:
    data = handout_pdf(
        lay_out(three_months("王小明 (Wang)")),
        CARD,
        today=MADE_ON,
        herbs=HerbWords(HERBS),
        replace_missing=True,
    )
    assert all("[?][?][?] (Wang)" in text for text in page_texts(data))


def test_markup_in_names_is_only_text() -> None:
    card = replace(CARD, name="Root & Leaf <b>Herbs</b>")
    course = three_months("A < B & <i>C</i>")
    text = " ".join(page_texts(pdf(course, card=card)))
    assert "Root & Leaf <b>Herbs</b>" in text
    assert "A < B & <i>C</i>" in text


def test_a_bare_card_and_a_client_alone_are_enough() -> None:
    course = replace(three_months(), client=Client("Una Example"))
    assert "Ask us" in " ".join(page_texts(pdf(course, card=PracticeCard("Withy Lane"))))


def test_a_herb_without_a_name_is_called_by_its_id() -> None:
    data = handout_pdf(lay_out(three_months()), CARD, today=date(2027, 1, 1), herbs=HerbWords({}))
    assert "nettle leaf 2 parts" in " ".join(page_texts(data))


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
