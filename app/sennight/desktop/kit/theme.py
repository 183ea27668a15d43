"""The look: paper and ink, and the colours of the old plant dyes.

A `Theme` has every colour, font, distance and pattern that a screen draws with; nothing else
in the desktop names a colour or counts pixels. It is made from light or dark and the size of
text (100 to 150 %), so a page that draws keeps a look and takes another with `apply_theme`.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from enum import Enum
from functools import cache, cached_property
from string import Template

from PySide6.QtGui import QColor, QFont, QFontDatabase, QFontMetricsF, QPalette
from PySide6.QtWidgets import QApplication, QStyleFactory

from sennight.dyes import DYES, INK, PAPER, SLATE, Dye
from sennight.places import own_folder

SCALES = (100, 110, 125, 150)
"""The sizes of text to choose from, in percent."""

BASE_POINTS = 10.5
"""The size of text at 100 %, unless the system's own is larger."""

LARGE = 125
"""From this size of text on pages spend less on margins, to fit the smallest window."""

CELL_MARGIN = 3
"""Pixels that Qt's Fusion style leaves before the text of a table's cell."""

FALLBACK_FAMILIES = ("Noto Sans", "DejaVu Sans", "Segoe UI", "Helvetica Neue")


class Role(Enum):
    """What a piece of text is; the value is its size against running text, and its weight.

    BADGE is a single letter, white on a remedy's dye; NAME a title where there is little room.
    """

    TEXT = (1.0, QFont.Weight.Normal)
    STRONG = (1.0, QFont.Weight.DemiBold)
    QUIET = (0.965, QFont.Weight.Normal)
    ALARM = (0.98, QFont.Weight.Normal)
    BADGE = (0.966, QFont.Weight.DemiBold)
    HEADING = (1.12, QFont.Weight.DemiBold)
    NAME = (1.3, QFont.Weight.Normal)
    TITLE = (1.7, QFont.Weight.Normal)


@dataclass(frozen=True, eq=False)
class Theme:
    """The colours, fonts and distances for one theme and one size of text.

    Grounds: `paper` the page, `raised` a field or a sheet lying on it, `sunk` the rail, `hover`
    and `selection` a row under the pointer and a chosen one. Text: `ink`, `slate` (quiet),
    `alarm` (what is wrong), `doubt` (what is to be minded), `good`. `accent` is for the one thing
    that asks for the eye, `focus` for the ring around what the keyboard acts on, `hairline` for
    the lines between things.
    """

    dark: bool
    scale: int
    family: str
    title_family: str
    points: float
    paper: QColor
    ink: QColor
    slate: QColor
    raised: QColor
    sunk: QColor
    hairline: QColor
    outline: QColor
    hover: QColor
    selection: QColor
    accent: QColor
    focus: QColor
    alarm: QColor
    doubt: QColor
    good: QColor
    dyes: tuple[QColor, ...]
    tints: tuple[QColor, ...]

    def dye(self, index: int) -> QColor:
        """The dye of the remedy at a place in its course, counted from 0."""
        return self.dyes[index % len(self.dyes)]

    def tint(self, index: int) -> QColor:
        """A breath of that dye on the paper: a ground for text in ink or slate."""
        return self.tints[index % len(self.tints)]

    def font(self, role: Role = Role.TEXT) -> QFont:
        """The font for text of that role, in the size chosen; titles have the paper's serif."""
        return QFont(self._fonts[role])

    @cached_property
    def _fonts(self) -> dict[Role, QFont]:
        return {role: self._font(role) for role in Role}

    def _font(self, role: Role) -> QFont:
        size, weight = role.value
        font = QFont(self.title_family if role in (Role.TITLE, Role.NAME) else self.family)
        font.setPointSizeF(self.points * size)
        font.setWeight(weight)
        return font

    @cached_property
    def unit(self) -> int:
        """The unit of distance: a quarter of a line of text, in pixels; all gaps are multiples."""
        return max(2, round(QFontMetricsF(self.font()).height() / 4))

    @property
    def is_large(self) -> bool:
        """Whether text is so large that room is short."""
        return self.scale >= LARGE

    @property
    def edge(self) -> int:
        """The margin at the sides of a page, in pixels."""
        return self.unit * (4 if self.is_large else 8)

    @cached_property
    def line(self) -> int:
        """The height of a line of running text, in pixels."""
        return round(QFontMetricsF(self.font()).height())


def make_theme(*, dark: bool, scale: int = 100, points: float = BASE_POINTS) -> Theme:
    """A look; `points` is the size of text at 100 %. Needs a running QApplication."""
    paper, ink, slate = (_ground(colour, dark=dark) for colour in (PAPER, INK, SLATE))
    dyes = tuple(_ground(dye, dark=dark) for dye in DYES)
    by_name = {dye.name: colour for dye, colour in zip(DYES, dyes, strict=True)}
    white, black = QColor("#FFFFFF"), QColor("#000000")
    return Theme(
        dark=dark,
        scale=scale,
        family=text_family(),
        title_family=title_family(),
        points=points * scale / 100,
        paper=paper,
        ink=ink,
        slate=slate,
        raised=blend(paper, ink if dark else white, 0.04 if dark else 0.7),
        sunk=blend(paper, black if dark else ink, 0.22 if dark else 0.035),
        hairline=blend(paper, ink, 0.16),
        outline=blend(paper, ink, 0.56),
        hover=blend(paper, ink, 0.055),
        selection=blend(paper, by_name["woad"], 0.16),
        accent=by_name["woad"],
        focus=by_name["woad"],
        alarm=by_name["madder"],
        doubt=by_name["weld"],
        good=by_name["lichen"],
        dyes=dyes,
        tints=tuple(blend(paper, dye, 0.13) for dye in dyes),
    )


def _ground(dye: Dye, *, dark: bool) -> QColor:
    return QColor(dye.dark if dark else dye.light)


# Colour


def blend(ground: QColor, other: QColor, share: float) -> QColor:
    """The ground with so large a share (0 to 1) of another colour mixed in."""
    parts = zip(ground.getRgb()[:3], other.getRgb()[:3], strict=True)  # type: ignore[index]
    return QColor(*(round(a + (b - a) * share) for a, b in parts))


def contrast(colour: QColor, other: QColor) -> float:
    """The contrast ratio of two colours, 1 to 21 (WCAG 2.2, “contrast ratio”)."""
    light, dark = sorted((_luminance(colour), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: QColor) -> float:
    """Relative luminance of an sRGB colour (WCAG 2.2, “relative luminance”)."""
    parts = (part / 255 for part in (colour.red(), colour.green(), colour.blue()))
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


# Fonts


@cache
def load_fonts() -> tuple[str, ...]:
    """Make the shipped faces known to Qt; returns their families, the text face first."""
    return _loaded("*.[ot]tf")


@cache
def _loaded(pattern: str) -> tuple[str, ...]:
    """The families of the shipped files of a pattern, made known to Qt."""
    families: list[str] = []
    for file in sorted((own_folder("resources") / "fonts").glob(pattern)):
        number = QFontDatabase.addApplicationFont(str(file))
        families += QFontDatabase.applicationFontFamilies(number) if number >= 0 else []
    return tuple(dict.fromkeys(families))


def title_family() -> str:
    """The serif that titles have on paper too, or the text face where it is missing."""
    return next(iter(_loaded("heading/*.[ot]tf")), text_family())


def text_family() -> str:
    """The shipped text face, or the nearest that this machine has."""
    shipped = load_fonts()
    known = {*shipped, *QFontDatabase.families()}
    return next((name for name in (*shipped, *FALLBACK_FAMILIES) if name in known), "sans-serif")


# Applying it


def install_theme(app: QApplication, theme: Theme) -> None:
    """Give the whole application a look: style, palette, font and the one style sheet."""
    if not app.styleSheet():  # a style sheet hides the name of the style beneath it
        app.setStyle(QStyleFactory.create("Fusion"))
    app.setPalette(_palette(theme))
    app.setFont(theme.font())
    sheet = style_sheet(theme)
    if app.styleSheet() != sheet:  # every widget is polished anew, which takes a while
        app.setStyleSheet(sheet)


def style_sheet(theme: Theme) -> str:
    """The application's style sheet, its `$names` filled in from the look."""
    text = (own_folder("resources") / "theme" / "sennight.qss").read_text("utf-8")
    return Template(text).substitute(_names(theme))


def _names(theme: Theme) -> dict[str, str]:
    values = {field.name: getattr(theme, field.name) for field in fields(theme)}
    names = {name: value.name() for name, value in values.items() if isinstance(value, QColor)}
    thin = max(1, round(theme.scale / 100))
    ring = max(2, round(theme.scale / 60))
    names |= {f"u{n}": f"{theme.unit * n}px" for n in range(1, 9)}
    names |= {f"in{n}": f"{theme.unit * n - (ring - thin)}px" for n in (1, 2, 3, 4)}
    names["focus_on_ink"] = blend(theme.paper, theme.focus, 0.45).name()
    names["ring"], names["title_family"] = f"{ring}px", theme.title_family
    names["head_left"] = f"{theme.unit * 2 + CELL_MARGIN}px"
    names["tight"] = f"{theme.unit * (1 if theme.is_large else 2)}px"
    names["head_side"] = f"{theme.unit * (2 if theme.is_large else 3)}px"
    names["head_side_in"] = f"{theme.unit * (2 if theme.is_large else 3) - (ring - thin)}px"
    names["half"] = f"{max(1, theme.unit // 2)}px"
    names["thin"] = f"{thin}px"
    icons = own_folder("resources") / "icons"
    for sign in ("arrow", "tick"):
        names[sign] = (icons / f"{sign}-{'dark' if theme.dark else 'light'}.svg").as_posix()
    for role in Role:
        size, weight = role.value
        names[role.name.lower() + "_size"] = f"{theme.points * size:.2f}pt"
        names[role.name.lower() + "_weight"] = str(weight.value)
    return names


def _palette(theme: Theme) -> QPalette:
    palette = QPalette(theme.paper)
    roles = QPalette.ColorRole
    for role, colour in (
        (roles.Window, theme.paper),
        (roles.WindowText, theme.ink),
        (roles.Base, theme.raised),
        (roles.AlternateBase, theme.paper),
        (roles.Text, theme.ink),
        (roles.PlaceholderText, theme.slate),
        (roles.Button, theme.paper),
        (roles.ButtonText, theme.ink),
        (roles.ToolTipBase, theme.ink),
        (roles.ToolTipText, theme.paper),
        (roles.Highlight, theme.selection),
        (roles.HighlightedText, theme.ink),
        (roles.Accent, theme.accent),
        (roles.Link, theme.accent),
        (roles.LinkVisited, theme.accent),
        (roles.Light, theme.raised),
        (roles.Midlight, theme.hover),
        (roles.Mid, theme.hairline),
        (roles.Dark, theme.outline),
        (roles.Shadow, theme.hairline),
    ):
        palette.setColor(role, colour)
    for role in (roles.WindowText, roles.Text, roles.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, role, theme.slate)
    return palette
