"""Names in every script that the faces cover: shaped, in their order, and read aloud as written.

The order in which glyphs stand is that of the Unicode Bidirectional Algorithm (UAX 9); the joined
forms of Arabic are those of the Unicode Standard, table 9-3 (forms of beh: alone, final, initial,
medial).
"""

from __future__ import annotations

from io import BytesIO

import pytest
from pypdf import PdfReader
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from sennight.publish.pdf.one_column import one_column_pdf
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.scripts import line_width, markup, pieces_of, shaped
from sennight.publish.pdf.style import page_of
from sennight.publish.pdf.typeface import ARABIC, HEBREW, register_faces
from support.pdf_pages import runs
from support.pdf_ua import problems_of

NAMES = (
    "Ελένη Παπαδοπούλου",
    "Щербакова Наталія",
    "Nguyễn Thị Ánh Tuyết",
    "שרה כהן",
    "محمد عبد الله",
)


def paper(*words: str, style: str = "body") -> bytes:
    page = page_of("A4")
    story: list[Flowable] = [text("Names", "title"), text("Names", "section")]
    story += [text(line, style) for line in words]
    return one_column_pdf(page, story, title="Names", author="", foot=words[0])


def test_hebrew_stands_from_the_right() -> None:
    """Hebrew letters have one form each, so the run is the name from its end."""
    name = "שרה כהן"
    (piece,) = pieces_of(name)
    assert piece.face == HEBREW
    assert piece.seen.replace("\u00a0", " ") == name[::-1]
    assert piece.spoken.replace("\u00a0", " ") == name


def test_arabic_letters_are_joined() -> None:
    """Beh alone, and three in a row: final, medial, initial, as they are seen from the left."""
    assert shaped("ب", ARABIC) in "بﺏ"
    assert shaped("ببب", ARABIC) == "ﺐﺒﺑ"
    assert shaped("لا", ARABIC) == "ﻻ"  # a ligature that has to be (9.2, table 9-7)


def test_what_is_around_a_run_stays_where_it_is() -> None:
    pieces = list(pieces_of("Tea for שרה כהן, 2 cups (with محمد)"))
    assert [(piece.face, piece.spoken) for piece in pieces if not piece.face] == [
        ("", "Tea for "),
        ("", ", 2\u00a0cups (with "),
        ("", ")"),
    ]
    assert [piece.face for piece in pieces] == ["", HEBREW, "", ARABIC, ""]


def test_a_long_text_goes_on_in_further_lines_from_its_beginning() -> None:
    words = " ".join(["שרה"] * 30)
    paragraph = text(words)
    _, height = paragraph.wrap(400, 1000)
    assert height == 2 * paragraph.style.leading
    assert paragraph._share == 1
    assert (
        " ".join(piece.spoken for piece in pieces_of(words) if piece.face).split() == ["שרה"] * 30
    )


@pytest.mark.parametrize("name", NAMES)
def test_each_name_is_drawn_and_read_aloud_as_it_is_written(name: str) -> None:
    data = paper(name)
    assert problems_of(data) == []
    content = PdfReader(BytesIO(data)).pages[0].get_contents()
    assert content is not None
    said = content.get_data()
    told = f"<FEFF{name.replace(' ', chr(0xA0)).encode('utf-16-be').hex().upper()}>".encode()
    right_to_left = any(piece.face for piece in pieces_of(name))
    assert (told in said) == right_to_left
    assert "[?]" not in " ".join(run.text for run in runs(data))


@pytest.mark.parametrize("style", ["body", "name", "title", "quiet"])
def test_no_word_is_torn_apart(style: str) -> None:
    """A word wider than its room is set smaller, so that it stands in one piece."""
    word = "Überempfindlichkeitsreaktionen"
    paragraph = text(f"A {word} B", style)
    for width in (400.0, 150.0, 90.0, 400.0):
        paragraph.wrap(width, 1000)
        lines = [words for _, words in vars(paragraph)["blPara"].lines]
        if width >= 150:
            assert any(word in line for line in lines), width
    assert paragraph.frags[0].fontSize <= paragraph.style.fontSize


def test_a_foot_loses_whole_words_alone() -> None:
    name = " ".join(["Wolfeschlegelsteinhausen"] * 12)
    (foot,) = [run.text for run in runs(paper(name)) if run.text.endswith("…")]
    assert set(foot.split()) == {"Wolfeschlegelsteinhausen", "…"}


def test_marks_make_no_markup_and_the_same_text_the_same_glyphs() -> None:
    assert markup("Ruth & <b>Sons</b>") == "Ruth &amp; &lt;b&gt;Sons&lt;/b&gt;"
    assert markup("שרה <b>") == markup("שרה <b>")
    register_faces()
    assert line_width("ab", 12) == pytest.approx(
        Canvas(BytesIO()).stringWidth("ab", "SennightText", 12)
    )
