"""A course with a remedy of every form, as file, on paper and in the calendar."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from sennight.domain.remedies.forms import Form
from sennight.practice.course_outputs import (
    RunChoices,
)
from sennight.practice.course_run import (
    write_course,
)
from sennight.practice.materia_medica import supplied_materia_medica
from sennight.publish.course_file.reader import parse_course
from sennight.publish.course_file.writer import course_toml
from support.files import COURSES
from support.pdf_pages import page_texts

FILE = COURSES / "every-form.toml"
NAMES = supplied_materia_medica().names


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("every-form")
    write_course(FILE, folder, RunChoices(date(2026, 11, 28)))
    return folder


def text_of(path: Path) -> str:
    return " ".join(page_texts(path.read_bytes())).replace("- ", "-")


def test_the_file_holds_every_form_and_is_written_as_it_was_read() -> None:
    read = parse_course(FILE.read_text(encoding="utf-8"), tuple(NAMES))
    assert {remedy.form for remedy in read.course.remedies} == set(Form)
    assert parse_course(course_toml(read.course), tuple(NAMES)) == read


def test_the_practitioners_copy_says_what_each_is_made_of(out: Path) -> None:
    told = text_of(out / "practitioner.pdf")
    for words in (
        "maceration, 8 hours",
        "in simple syrup 3 parts, 85 g of sugar in 100 mL of it",
        "ratio 5:1",
        "2.5 g in a teaspoon",
        "infused oil 15 % by weight; in beeswax and olive oil",
        "essential oil 12 drops",
        "50 g in 1 litre of water for one bath",
        "left hip",
        "0.8 mL in a dropperful",
        "all in 1 scoop",
    ):
        assert words in told


def test_the_sheet_says_measures_as_they_are_at_home(out: Path) -> None:
    told = text_of(out / "handout.pdf")
    for words in ("2 dropperfuls (about 1.6 mL)", "1 scoop", "In 1 scoop: Magnesium 150 mg."):
        assert words in told, words
    labels = text_of(out / "labels.pdf")
    assert "2 dropperfuls (about 1.6 mL) once a day, at bedtime" in labels
    assert "In 5 mL: Fish oil 1000 mg" in labels


def test_only_what_is_swallowed_is_counted(out: Path) -> None:
    rows = (out / "exposure.csv").read_text(encoding="utf-8")
    assert "birch-leaf,juice" in rows
    assert "glucosamine,substance,daily,0.75,0.75,g,1.25,1.5" in rows
    assert "magnesium,substance,daily,0.15,0.15" in rows
    assert "fish-oil,substance,daily,2,2" in rows
    assert not any(
        herb in rows for herb in ("comfrey", "arnica", "chamomile", "rosemary", "sage", "myrrh")
    )
    ethanol = (out / "ethanol.csv").read_text(encoding="utf-8")
    assert [name for name in ("tincture", "syrup") if f",{name}," in ethanol]
    assert not [name for name in ("glycerite", "rub", "mouthwash") if f",{name}," in ethanol]


def test_the_calendar_has_each_with_how_it_is_made(out: Path) -> None:
    calendar = (out / "reminders.ics").read_text(encoding="utf-8").replace("\n ", "")
    for name in ("Rosehip powder", "Joint softgels", "Rosemary bath", "Sage gargle"):
        assert name in calendar
    for words in ("For one bath", "For one compress", "in 250 mL of cold water"):
        assert words in calendar


def test_no_paper_lacks_a_letter(out: Path) -> None:
    for paper in ("handout.pdf", "labels.pdf", "practitioner.pdf", "diary.pdf"):
        assert "[?]" not in text_of(out / paper), paper
