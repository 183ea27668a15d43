"""The look: contrast by the published formula, patterns that differ, sizes that follow text."""

from itertools import combinations
from typing import Any

import pytest
from PySide6.QtCore import QRect
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication

from sennight.desktop.kit.patterns import brush, off_brush
from sennight.desktop.kit.theme import (
    SCALES,
    Role,
    Theme,
    blend,
    contrast,
    install_theme,
    make_theme,
    style_sheet,
)
from sennight.dyes import DYES
from support.files import REFERENCES, from_yaml

AA_TEXT = 4.5
"""Smallest contrast of text (WCAG 2.2, success criterion 1.4.3)."""

AA_PARTS = 3.0
"""Smallest contrast of what shows a control or its focus (WCAG 2.2, 1.4.11)."""


pytestmark = pytest.mark.usefixtures("qapp")


@pytest.fixture(params=[False, True], ids=["light", "dark"])
def theme(request: pytest.FixtureRequest) -> Theme:
    return make_theme(dark=request.param)


CONTRASTS = [
    row
    for row in from_yaml((REFERENCES / "further_checks.yaml").read_text(encoding="utf-8"))
    if row["group"] == "contrast"
]


@pytest.mark.parametrize("row", CONTRASTS, ids=[row["id"] for row in CONTRASTS])
def test_contrast_is_that_of_the_published_formula(row: dict[str, Any]) -> None:
    ratio = contrast(QColor(row["inputs"]["colour"]), QColor(row["inputs"]["ground"]))
    assert ratio == pytest.approx(row["expected"], abs=0.005)


def test_text_is_readable_on_every_ground(theme: Theme) -> None:
    grounds = ("paper", "raised", "sunk", "hover", "selection")
    texts = ("ink", "slate", "alarm", "accent")
    faint = {
        (text, ground): round(contrast(getattr(theme, text), getattr(theme, ground)), 2)
        for text in texts
        for ground in grounds
        if contrast(getattr(theme, text), getattr(theme, ground)) < AA_TEXT
    }
    assert faint == {}


def test_dyes_are_readable_on_paper_and_text_on_their_tints(theme: Theme) -> None:
    for index, dye in enumerate(DYES):
        assert contrast(theme.dye(index), theme.paper) >= AA_TEXT, dye.name
        assert contrast(theme.ink, theme.tint(index)) >= AA_TEXT, dye.name
        assert contrast(theme.slate, theme.tint(index)) >= AA_TEXT, dye.name


def test_words_on_a_main_button_are_readable(theme: Theme) -> None:
    assert contrast(theme.paper, theme.ink) >= AA_TEXT
    assert contrast(theme.paper, theme.accent) >= AA_TEXT


def test_focus_and_outlines_stand_out(theme: Theme) -> None:
    for ground in (theme.paper, theme.raised, theme.sunk):
        assert contrast(theme.focus, ground) >= AA_PARTS
        assert contrast(theme.outline, ground) >= AA_PARTS


def test_dyes_come_round_again(theme: Theme) -> None:
    assert theme.dye(6) == theme.dye(0)
    assert theme.tint(7) == theme.tint(1)


def test_blend_goes_from_one_colour_to_the_other() -> None:
    black, white = QColor("#000000"), QColor("#FFFFFF")
    assert blend(black, white, 0) == black
    assert blend(black, white, 1) == white
    assert blend(black, white, 0.5).red() == 128


def _marks(theme: Theme, index: int, *, off: bool = False) -> bytes:
    """Where a brush leaves its ground, pixel by pixel: its pattern without its colour."""
    side = theme.unit * 8
    image = QImage(side, side, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    painter.fillRect(QRect(0, 0, side, side), (off_brush if off else brush)(theme, index))
    painter.end()
    ground = theme.paper if off else theme.dye(index)
    return bytes(
        contrast(image.pixelColor(x, y), ground) > 1.3 for y in range(side) for x in range(side)
    )


def test_the_six_dyes_can_be_told_apart_without_colour(theme: Theme) -> None:
    patterns = [_marks(theme, index) for index in range(len(DYES))]
    assert all(one != other for one, other in combinations(patterns, 2))


def test_a_pattern_shows_but_leaves_most_of_the_dye(theme: Theme) -> None:
    shares = [sum(_marks(theme, index)) / len(_marks(theme, index)) for index in range(len(DYES))]
    assert shares[0] == 0
    assert all(0.05 < share < 0.75 for share in shares[1:])


def test_days_off_are_mostly_paper_with_a_slant(theme: Theme) -> None:
    for index in range(len(DYES)):
        marks = _marks(theme, index, off=True)
        assert 0.05 < sum(marks) / len(marks) < 0.6


def test_everything_grows_with_the_text() -> None:
    themes = [make_theme(dark=False, scale=scale) for scale in SCALES]
    assert [theme.font().pointSizeF() for theme in themes] == pytest.approx(
        [10.5 * scale / 100 for scale in SCALES], abs=0.01
    )
    assert themes[-1].unit > themes[0].unit
    assert themes[-1].line > themes[0].line
    assert themes[0].font(Role.TITLE).pointSizeF() > themes[0].font(Role.HEADING).pointSizeF()


def test_quiet_text_is_large_enough_for_sixty_year_old_eyes(theme: Theme) -> None:
    """13.5 pixels at 100 %, on a screen of 96 dots an inch; this project's own bound."""
    sizes = {role: theme.font(role).pointSizeF() * 96 / 72 for role in Role}
    assert all(size >= 13.5 for size in sizes.values()), sizes


def test_the_style_sheet_has_no_name_left_open(theme: Theme) -> None:
    sheet = style_sheet(theme)
    assert "$" not in sheet
    assert theme.ink.name() in sheet


def test_applying_a_look_sets_palette_font_and_sheet(theme: Theme, qapp: QApplication) -> None:
    install_theme(qapp, theme)
    assert qapp.palette().window().color() == theme.paper
    assert qapp.palette().text().color() == theme.ink
    assert qapp.font().pointSizeF() == pytest.approx(theme.points, abs=0.01)
    assert qapp.styleSheet() == style_sheet(theme)
