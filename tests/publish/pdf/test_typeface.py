"""Which letters can be printed, and how the others are told."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

from sennight.places import own_folder
from sennight.publish.pdf.typeface import (
    REPLACEMENT,
    MissingGlyphsError,
    bound,
    missing_glyphs,
    with_replacements,
)

FONTS = own_folder("resources") / "fonts"
FILES = sorted(FONTS.rglob("*.ttf"))


@pytest.mark.parametrize(
    "name",
    [
        "Áine Ó Súilleabháin",
        "Łukasz Żółć",
        "Şükrü Ağaoğlu",
        "Nguyễn Thị Ánh Tuyết",
        "Ελένη Παπαδοπούλου",
        "Ἀθηνᾶ ᾨδή",
        "Щербакова Наталія Ґалаґан",
        "Ђорђе Његош",
        "שרה כהן",
        "محمد عبد الله",
    ],
)
def test_names_in_the_scripts_that_the_faces_cover(name: str) -> None:
    assert missing_glyphs(name) == ()
    assert with_replacements(name) == name


def test_an_accent_typed_apart_finds_its_letter() -> None:
    assert missing_glyphs("Ne\u0301e Mu\u0308ller") == ()
    assert with_replacements("Ne\u0301e") == "Née"


def test_missing_letters_are_told_by_name_each_once_with_their_text() -> None:
    name = "ไทย ไทย"
    found = missing_glyphs(name)
    assert [one.name for one in found][:2] == [
        "THAI CHARACTER SARA AI MAIMALAI",
        "THAI CHARACTER THO THAHAN",
    ]
    assert len({one.letter for one in found}) == len(found) == 3
    assert {one.text for one in found} == {name}
    assert str(found[1]) == f"THAI CHARACTER THO THAHAN (U+0E17) in “{name}”"


def test_ideographs_are_told_too() -> None:
    assert [one.name for one in missing_glyphs("王 Li")] == ["CJK UNIFIED IDEOGRAPH-738B"]


def test_letters_without_a_name_are_not_dropped() -> None:
    assert [one.name for one in missing_glyphs("a\ue000b\x07")] == ["letter without a name"] * 2


def test_a_replacement_can_be_seen() -> None:
    assert with_replacements("王小明 Li") == f"{REPLACEMENT * 3} Li"


def test_the_message_says_which_letter_where_and_what_to_do() -> None:
    message = str(MissingGlyphsError(missing_glyphs("Mr 王")))
    assert message == (
        "the font has no letter for CJK UNIFIED IDEOGRAPH-738B (U+738B) in “Mr 王”. "
        "Expected Latin, Greek, Cyrillic, Hebrew or Arabic: write the text in one of these, or "
        "print it with [?] in their place"
    )


def test_amounts_and_dates_hold_together() -> None:
    assert bound("5 mL, ½ cup, 60 % on 4 January 2027 for 3 weeks and 2 others") == (
        "5\u00a0mL, ½\u00a0cup, 60\u00a0% on 4\u00a0January 2027 for 3\u00a0weeks and 2 others"
    )


# The files themselves


def test_seven_faces_in_less_than_three_megabytes() -> None:
    assert len(FILES) == 7
    assert sum(file.stat().st_size for file in FILES) < 3_000_000


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_each_face_has_outlines_that_print_and_a_licence_to_embed(file: object) -> None:
    """fsType 0 is installable embedding (OpenType, OS/2); the licence is the OFL 1.1."""
    font = TTFont(file)
    assert "glyf" in font
    assert font["OS/2"].fsType == 0
    assert "Open Font License" in font["name"].getDebugName(13)


@pytest.mark.parametrize(
    "folder", [FONTS, FONTS / "heading", FONTS / "right-to-left"], ids=lambda folder: folder.name
)
def test_the_licence_stands_beside_the_faces(folder: object) -> None:
    licences = list(FONTS.joinpath(str(folder)).glob("*OFL.txt"))
    assert licences
    for licence in licences:
        assert "SIL OPEN FONT LICENSE Version 1.1" in licence.read_text("utf-8")


@pytest.mark.parametrize("signs", ["½¼¾⅓⅔", "–—‘’“”…·", "\u00a0%", "0123456789:"])
def test_signs_that_we_print_ourselves_are_there(signs: str) -> None:
    assert missing_glyphs(signs) == ()
