"""Bars that show a herb's daily amount against its range, in a list that keys can walk through.

The range is drawn as a band with its thirds, the timed amount as a solid bar, what may come on
top as needed as an open one. Where it lies is always told in words too; the whole sentence, the
source with it, is what a screen reader says and what the tip shows.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from PySide6.QtCore import QAbstractListModel, QObject, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QListView,
    QSizePolicy,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
)

from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.grid_model import NOWHERE, Index
from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.theme import Role, Theme, blend
from sennight.desktop.kit.translating import translate
from sennight.domain.amounts import rounded
from sennight.domain.exposure.bands import Band
from sennight.domain.exposure.exposure import Exposure
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.own_herbs import cites_own
from sennight.domain.herbs.ranges import Reservation

BAR = Qt.ItemDataRole.UserRole + 31
LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop
WRAP = LEFT | Qt.TextFlag.TextWordWrap
HEADROOM = Fraction(5, 4)
"""How much of the track lies beyond the range."""


def grams_text(value: Fraction) -> str:
    """Grams with as many places as tell something: 12.5, 2.25, 0.075."""
    places = 1 if value >= 10 else 2 if value >= 1 else 3
    return rounded(value, places)


def band_words(band: Band) -> str:
    """Where an amount lies, in words."""
    return {
        Band.BELOW: translate("Amounts", "below its range"),
        Band.LOW: translate("Amounts", "low in its range"),
        Band.MIDDLE: translate("Amounts", "middle of its range"),
        Band.HIGH: translate("Amounts", "high in its range"),
        Band.UP_TO: translate("Amounts", "not above its maximum"),
        Band.OVER: translate("Amounts", "over its range"),
        Band.UNKNOWN: translate("Amounts", "not known"),
    }[band]


def reservations_text(reservations: Iterable[Reservation]) -> str:
    """What is to be said before an amount is applied; nothing where there is nothing to say."""
    words = {
        Reservation.NOT_CHECKED: translate("Amounts", "the range is not yet checked"),
        Reservation.SINGLE_FIGURE: translate(
            "Amounts", "the source gives a single figure: a dose, not a range"
        ),
        Reservation.MORE_MILLILITRES: translate(
            "Amounts", "it is more mL a day than the source gives"
        ),
    }
    remarks = [words[reservation] for reservation in dict.fromkeys(reservations)]
    if not remarks:
        return ""
    return translate("Amounts", "Check before you apply it: {all}. ").format(
        all="; ".join(remarks)
    )


def form_words(form: TakenAs | None) -> str:
    """The form that an amount is of."""
    if form is None:
        return translate("Amounts", "all its forms together")
    return {
        TakenAs.TEA: translate("Amounts", "tea"),
        TakenAs.LIQUID: translate("Amounts", "liquid, as dried herb"),
        TakenAs.JUICE: translate("Amounts", "juice"),
        TakenAs.POWDER: translate("Amounts", "powder"),
        TakenAs.EXTRACT: translate("Amounts", "extract"),
        TakenAs.SUBSTANCE: translate("Amounts", "substance"),
    }[form]


_BEFORE_UNIT = re.compile(r"(?<=\d) (?=m?g\b)")


def _unbroken(text: str) -> str:
    """Figures with their unit in one line: no g stands alone in the next."""
    return _BEFORE_UNIT.sub("\u00a0", text)


@dataclass(frozen=True, slots=True)
class AmountBar:
    """One herb's amount, as the list shows it; figures are grams, or parts of the most."""

    name: str
    row: Exposure

    @property
    def figures(self) -> str:
        """The amount and its range: `4.5 g of 3 to 6 g a day`."""
        row = self.row
        if row.form is None:
            return self._parts()
        amount = self._amount()
        if row.low is None or row.high is None:
            return translate("Amounts", "{amount} a day, no range recorded").format(amount=amount)
        if not row.low:
            template = translate("Amounts", "{amount} a day; up to {most} g")
            return template.format(amount=amount, most=grams_text(row.high))
        ends = dict.fromkeys((grams_text(row.low), grams_text(row.high)))
        template = translate("Amounts", "{amount} a day; range {range} g")
        return template.format(amount=amount, range=translate("Amounts", " to ").join(ends))

    @property
    def short_amount(self) -> str:
        """The most of a day in the fewest letters: `4.5 g`, `60 %`, `?` where it is not known."""
        row = self.row
        if row.form is None:
            part = row.fraction_of_max
            return "?" if part is None else f"{rounded(part * 100, 0)} %"
        return "?" if row.daily_high is None else f"{grams_text(row.daily_high)} g"

    def _amount(self) -> str:
        low, high = self.row.daily_low, self.row.daily_high
        if low is None or high is None:
            return translate("Amounts", "an amount that is not known")
        if low == high:
            return f"{grams_text(low)} g"
        template = translate("Amounts", "{low} g, up to {high} g")
        return template.format(low=grams_text(low), high=grams_text(high))

    def _parts(self) -> str:
        part = self.row.fraction_of_max
        if part is None:
            return translate("Amounts", "an amount that is not known")
        template = translate("Amounts", "up to {part} % of the maximum")
        return template.format(part=rounded(part * 100, 0))

    @property
    def quiet(self) -> str:
        """The figures, the form, and whether the range is not yet checked."""
        parts = [form_words(self.row.form), self.figures]
        if cites_own(self.row.source):
            parts.append(translate("Amounts", "this practice's own range"))
        if self.row.from_memory:
            parts.append(translate("Amounts", "not yet checked"))
        return " · ".join(parts)

    @property
    def sentence(self) -> str:
        """All of it in words, with the source."""
        sentences = [f"{self.name}: {band_words(self.row.band)}. {self.quiet}."]
        if self.row.why:
            sentences.append(f"{self.row.why[:1].upper()}{self.row.why[1:]}.")
        if self.row.source:
            template = translate("Amounts", "Range from: {source}.")
            sentences.append(template.format(source=self.row.source))
        return " ".join(sentences)


def bars_of(rows: Sequence[Exposure], names: Mapping[str, str]) -> tuple[AmountBar, ...]:
    """A bar for each row, herbs by their names."""
    return tuple(AmountBar(names.get(row.herb, row.herb), row) for row in rows)


class BarsModel(QAbstractListModel):
    """The bars, one a row."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.bars: tuple[AmountBar, ...] = ()

    def show_bars(self, bars: tuple[AmountBar, ...]) -> None:
        """Other bars; where there are as many as before, only what they say changes."""
        if bars == self.bars:
            return
        if len(bars) == len(self.bars) and bars:
            self.bars = bars
            self.dataChanged.emit(self.index(0), self.index(len(bars) - 1))
            return
        self.beginResetModel()
        self.bars = bars
        self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """One a bar."""
        return 0 if parent.isValid() else len(self.bars)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The name, the sentence, or the bar itself."""
        if not index.isValid():
            return None
        bar = self.bars[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return bar.name
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return bar.sentence
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(bar.sentence)
        return bar if role == BAR else None


class RangeBar(QStyledItemDelegate):
    """Draws one bar: the herb and where it lies, the bar itself, the figures beneath."""

    def __init__(self, theme: Theme, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.brushes = Brushes(theme)

    def height(self, bar: AmountBar, width: float) -> int:
        """How high a bar is in so much width: no word is cut."""
        b, room = self.brushes, self._room(width)
        lines = self._name_height(bar, room) + b.unit * 4.5 + self._quiet_height(bar, room)
        if self._is_narrow(bar, room):
            lines += b.metrics(Role.QUIET).height()
        return round(lines)

    def _room(self, width: float) -> float:
        return width - self.brushes.unit * 2

    def _is_narrow(self, bar: AmountBar, room: float) -> bool:
        """Whether name and band have no room beside each other."""
        b = self.brushes
        name = b.metrics(Role.STRONG).horizontalAdvance(bar.name)
        band_width = b.metrics(Role.QUIET).horizontalAdvance(band_words(bar.row.band))
        return name + band_width + b.unit * 2 > room

    def _name_height(self, bar: AmountBar, room: float) -> float:
        box = QRectF(0, 0, room, 10_000)
        return self.brushes.metrics(Role.STRONG).boundingRect(box, WRAP, bar.name).height()

    def _quiet_height(self, bar: AmountBar, room: float) -> float:
        box = QRectF(0, 0, room, 10_000)
        text = _unbroken(bar.quiet)
        return self.brushes.metrics(Role.QUIET).boundingRect(box, WRAP, text).height()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """As wide as the list, as high as its words want."""
        bar: AmountBar | None = index.data(BAR)
        width = option.rect.width() or self.brushes.unit * 40
        parent = self.parent()
        if isinstance(parent, QListView):
            width = parent.viewport().width()
        return QSize(60, self.height(bar, width) if bar else self.brushes.line)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one bar."""
        bar: AmountBar = index.data(BAR)
        b, rect, unit = self.brushes, QRectF(option.rect), self.brushes.unit
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(b.focus)
            painter.drawRect(rect.adjusted(1, 1, -2, -2))
        room = rect.adjusted(unit, unit * 0.75, -unit, 0)
        narrow = self._is_narrow(bar, room.width())
        painter.setFont(b.font(Role.STRONG))
        painter.setPen(b.ink)
        painter.drawText(room, WRAP, bar.name)
        top = room.top() + self._name_height(bar, room.width()) + unit * 0.5
        track = QRectF(room.left(), top, room.width(), unit * 1.75)
        self._bar(painter, track, bar.row)
        beneath = room.adjusted(0, track.bottom() - room.top() + unit * 0.5, 0, 0)
        painter.setFont(b.font(Role.QUIET))
        painter.setPen(QPen(self._colour(bar.row.band)))
        band_text = band_words(bar.row.band)
        if narrow:
            painter.drawText(beneath, LEFT, band_text)
            beneath.setTop(beneath.top() + b.metrics(Role.QUIET).height())
        else:
            painter.drawText(room.adjusted(0, unit * 0.3, 0, 0), RIGHT, band_text)
        painter.setPen(b.quiet)
        painter.drawText(beneath, WRAP, _unbroken(bar.quiet))

    def _colour(self, band: Band) -> QColor:
        theme = self.brushes.theme
        if band is Band.OVER:
            return theme.alarm
        return theme.slate if band in (Band.BELOW, Band.UNKNOWN) else theme.good

    def _bar(self, painter: QPainter, track: QRectF, row: Exposure) -> None:
        theme = self.brushes.theme
        painter.fillRect(track, theme.hover)
        low, high = row.low, row.high
        if low is None or high is None:
            painter.setPen(QPen(theme.outline, 1, Qt.PenStyle.DotLine))
            painter.drawRect(track)
            return
        most = max(high * HEADROOM, (row.daily_high or high) * Fraction(21, 20))

        def at(value: Fraction) -> float:
            return track.left() + track.width() * float(value / most)

        self._band(painter, track, at(low), at(high))
        if row.daily_low is not None and row.daily_high is not None:
            self._amount(painter, track, at(row.daily_low), at(row.daily_high), row.band)
        self._ends(painter, track, at(low), at(high))

    def _band(self, painter: QPainter, track: QRectF, low: float, high: float) -> None:
        theme = self.brushes.theme
        ground = blend(theme.paper, theme.good, 0.28)
        painter.fillRect(QRectF(low, track.top(), max(2.0, high - low), track.height()), ground)
        painter.setPen(QPen(theme.paper, 1))
        for n in (1, 2):
            x = low + (high - low) * n / 3
            painter.drawLine(QPointF(x, track.top()), QPointF(x, track.bottom()))

    def _amount(
        self, painter: QPainter, track: QRectF, low: float, high: float, band: Band
    ) -> None:
        colour, thin = self._colour(band), track.height() * 0.28
        solid = track.adjusted(0, thin, 0, -thin)
        solid.setRight(low)
        painter.fillRect(solid, colour)
        if high > low:
            rest = QRectF(low, solid.top(), high - low, solid.height())
            painter.setPen(QPen(colour, 1, Qt.PenStyle.DashLine))
            painter.drawRect(rest)

    def _ends(self, painter: QPainter, track: QRectF, low: float, high: float) -> None:
        """The range's two ends as lines that stand out of the track."""
        painter.setPen(self.brushes.ink)
        over = self.brushes.unit * 0.5
        for x in (low, high):
            painter.drawLine(QPointF(x, track.top() - over), QPointF(x, track.bottom() + over))


class RangeBars(QListView):
    """The list of bars, as high as it needs to be; arrows move, the tip has it in full."""

    def __init__(self, theme: Theme, name: str, *, drawer: type[RangeBar] | None = None) -> None:
        super().__init__()
        self.bars = BarsModel(self)
        self.drawer = (drawer or RangeBar)(theme, self)
        self.setModel(self.bars)
        self.setItemDelegate(self.drawer)
        self.setAccessibleName(name)
        self.setMouseTracking(True)
        self.setFrameShape(QListView.Shape.NoFrame)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.drawer.brushes = Brushes(theme)
        self._fit()

    def show_bars(self, bars: tuple[AmountBar, ...]) -> None:
        """Show other bars."""
        if bars != self.bars.bars:
            self.bars.show_bars(bars)
            self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Other widths wrap the words otherwise."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._fit()

    def _fit(self) -> None:
        self.setVisible(bool(self.bars.bars))
        self.setFixedHeight(self.sizeHint().height())
        self.scheduleDelayedItemsLayout()

    def sizeHint(self) -> QSize:
        """All bars beneath each other."""
        width = self.viewport().width()
        high = sum(self.drawer.height(bar, width) for bar in self.bars.bars)
        return QSize(self.drawer.brushes.unit * 40, high + 2)

    def minimumSizeHint(self) -> QSize:
        """Narrow enough for a column."""
        return QSize(self.drawer.brushes.unit * 24, self.sizeHint().height())
