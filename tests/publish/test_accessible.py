"""Every printed paper can be read by a screen reader (ISO 14289-1, PDF/UA-1)."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from io import BytesIO
from pathlib import Path

import pdfua
import pikepdf
import pytest

from sennight.domain.courses.stretches import lay_out
from sennight.domain.take_home.choices import Print
from sennight.places import own_folder
from sennight.practice.course_outputs import (
    RunChoices,
)
from sennight.practice.course_run import (
    write_course,
)
from sennight.publish.diary.content import diary_days
from sennight.publish.diary.document import diary_sheet
from support.handout_samples import CARD, MADE_ON, sheet_pdf, three_months
from support.pdf_ua import problems_of


def sheet() -> bytes:
    return sheet_pdf(three_months())


PAPERS: dict[str, Callable[[], bytes]] = {
    "sheet": sheet,
    "booklet": lambda: sheet_pdf(three_months(), "A5"),
    "large print": lambda: sheet_pdf(three_months(), letters=Print.LARGE),
}


@pytest.mark.parametrize("paper", PAPERS)
def test_nothing_keeps_it_from_being_read_aloud(paper: str) -> None:
    assert problems_of(PAPERS[paper]()) == []


@pytest.mark.parametrize("name", ["Orla Pemberthwaite", "שרה כהן"])
def test_every_paper_of_a_course_can_be_read_aloud(name: str, tmp_path: Path) -> None:
    """By our own reader, and by a checker of another maker, which knows 16 of the rules."""
    course = (own_folder("resources") / "demo" / "joints.toml").read_text("utf-8")
    file = tmp_path / "course.toml"
    file.write_text(course.replace("Orla Pemberthwaite", name), "utf-8")
    run = write_course(file, tmp_path / "out", RunChoices(date(2027, 3, 1), card=CARD))
    papers = {path.name: path for path in run.written if path.suffix == ".pdf"}
    kinds = {"handout.pdf", "diary.pdf", "practitioner.pdf", "review.pdf"}
    assert kinds <= papers.keys()
    for paper, path in papers.items():
        assert problems_of(path.read_bytes()) == [], paper
        assert [finding.message for finding in pdfua.validate(str(path)).findings] == [], paper


def _pictures() -> bytes:
    """A page with pictures, which the sheet has none of."""
    layout = lay_out(three_months())
    diary = diary_sheet(layout, CARD, diary_days(layout, MADE_ON))
    return diary.pdf


def _damaged(damage: Callable[[pikepdf.Pdf], None]) -> list[str]:
    target = BytesIO()
    paper = _pictures() if damage is _without_words else sheet()
    with pikepdf.open(BytesIO(paper)) as pdf:
        damage(pdf)
        pdf.save(target)
    return problems_of(target.getvalue())


def _without_words(pdf: pikepdf.Pdf) -> None:
    for element in pdf.objects:
        if isinstance(element, pikepdf.Dictionary) and "/Alt" in element:
            del element["/Alt"]


def _without_scope(pdf: pikepdf.Pdf) -> None:
    for element in pdf.objects:
        if isinstance(element, pikepdf.Dictionary) and element.get("/S") == "/TH":
            del element["/A"]


def _without_label(pdf: pikepdf.Pdf) -> None:
    for element in pdf.objects:
        if isinstance(element, pikepdf.Dictionary) and element.get("/S") == "/LI":
            del element.K[0]


def _unmarked(pdf: pikepdf.Pdf) -> None:
    pdf.pages[0].contents_add(b"0 0 10 10 re f")


def _without_identifier(pdf: pikepdf.Pdf) -> None:
    del pdf.Root["/Metadata"]


@pytest.mark.parametrize(
    ("damage", "seen"),
    [
        (_without_words, "13-004: a figure without words"),
        (_without_scope, "15-003: a head without scope"),
        (_without_label, "16: an item that is not label and body"),
        (_unmarked, "01-005: page 1 has content that is neither tagged nor decoration"),
        (_without_identifier, "06: no identifier of PDF/UA"),
    ],
)
def test_what_is_missing_is_seen(damage: Callable[[pikepdf.Pdf], None], seen: str) -> None:
    """The check itself is checked."""
    assert seen in _damaged(damage)
