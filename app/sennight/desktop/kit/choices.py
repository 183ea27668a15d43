"""One of a few words, chosen: words in a row, the chosen one in ink with a line beneath."""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF, QSignalBlocker, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QTabBar, QWidget

from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.motion import Glide, between
from sennight.desktop.kit.theme import Role, Theme


class Choices(QTabBar):
    """Words to choose from. A tab bar underneath, so keys and screen readers know it.

    A word may carry a quiet addition, drawn smaller behind it.
    """

    chosen = Signal(int)

    def __init__(
        self, texts: tuple[str, ...], theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setDrawBase(False)
        self.setExpanding(False)
        self.setUsesScrollButtons(True)
        self.brushes = Brushes(theme)
        self._says_all, self._texts = True, tuple((text, "") for text in texts)
        self.keeps_all = False
        for text in texts:
            self.addTab(text)
        self._glide, self._was = Glide(self, self.update), self.currentIndex()
        self.currentChanged.connect(self._go_to)
        self.currentChanged.connect(self.chosen)

    def _go_to(self, _index: int) -> None:
        """Let the line glide from the word that was chosen before."""
        self._glide.begin()

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.brushes = Brushes(theme)
        self._fit_words(self.width())
        self.updateGeometry()
        self.update()

    def show_texts(self, texts: tuple[tuple[str, str], ...], current: int) -> None:
        """Other words, each with its quiet addition, without telling of a choice."""
        if (texts, current) == (self._texts, self.currentIndex()):
            return
        with QSignalBlocker(self):
            if texts != self._texts:
                self._put_texts(texts)
            self.setCurrentIndex(current)
        self.update()

    def _put_texts(self, texts: tuple[tuple[str, str], ...]) -> None:
        self._texts = texts
        while self.count() > len(texts):
            self.removeTab(self.count() - 1)
        while self.count() < len(texts):
            self.addTab("")
        for n, (text, quiet) in enumerate(texts):
            if self.tabText(n) != text:  # each text that is set has all of them laid out anew
                self.setTabText(n, text)
            self.setTabData(n, quiet)
            self.setTabToolTip(n, "")
        self._fit_words(self.width())
        self.updateGeometry()

    def set_shown(self, index: int, *, is_shown: bool) -> None:
        """Offer a word, or leave it out for now."""
        if is_shown == self.isTabVisible(index):
            return
        self.setTabVisible(index, is_shown)
        self._fit_words(self.width())
        self.updateGeometry()

    def choose(self, index: int) -> None:
        """Choose a word without telling of it."""
        with QSignalBlocker(self):
            self.setCurrentIndex(index)

    def tabSizeHint(self, index: int) -> QSize:
        """The word, its addition, and air."""
        unit = self.brushes.theme.unit
        wide = self.brushes.metrics(Role.STRONG).horizontalAdvance(self.tabText(index))
        quiet = self._quiet(index)
        if quiet:
            wide += self.brushes.metrics(Role.QUIET).horizontalAdvance(quiet) + unit * 1.5
        return QSize(round(wide + unit * 4), round(self.brushes.theme.line + unit * 1.2))

    def minimumTabSizeHint(self, index: int) -> QSize:
        """No word is cut."""
        return self.tabSizeHint(index)

    def _quiet(self, index: int) -> str:
        return str(self.tabData(index) or "") if self._says_all else ""

    def least_width(self) -> int:
        """The room for all words, their additions left out."""
        says_all, self._says_all = self._says_all, False
        shown = (n for n in range(self.count()) if self.isTabVisible(n))
        whole = sum(self.tabSizeHint(n).width() for n in shown)
        self._says_all = says_all
        return whole

    def minimumSizeHint(self) -> QSize:
        """Words that `keeps_all` keeps in view; others are turned through."""
        least = super().minimumSizeHint()
        return QSize(self.least_width(), least.height()) if self.keeps_all else least

    def resizeEvent(self, event: QResizeEvent) -> None:
        """See which words there is room for."""
        self._fit_words(event.size().width())
        super().resizeEvent(event)

    def _fit_words(self, width: int) -> None:
        """Leave the quiet additions out where there is no room for all."""
        self._says_all = True
        whole = sum(self.tabSizeHint(n).width() for n in range(self.count()))
        self._says_all = whole <= width
        if self.count():
            self.setTabText(0, self.tabText(0))  # the one way to have the words laid out anew

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the words."""
        painter = QPainter(self)
        for index in range(self.count()):
            self._word(painter, self.tabRect(index), index)
        if self.currentIndex() >= 0:
            self._line(painter)

    def _line(self, painter: QPainter) -> None:
        """The line beneath the chosen word; on its way to it, where it glides."""
        theme, part = self.brushes.theme, self._glide.part
        now = QRectF(self.tabRect(self.currentIndex()))
        if part >= 1:
            self._was = self.currentIndex()
        was = QRectF(self.tabRect(self._was)) if self._was < self.count() else now
        left = between(was.left(), now.left(), part) + theme.unit * 2
        right = between(was.right(), now.right(), part) - theme.unit * 2
        high = max(2.0, theme.scale / 60)
        line = QRectF(left, now.bottom() - high, right - left, high)
        painter.fillRect(line, theme.focus if self.hasFocus() else theme.ink)

    def _word(self, painter: QPainter, rect: QRect, index: int) -> None:
        b, theme = self.brushes, self.brushes.theme
        is_chosen = index == self.currentIndex()
        room = QRectF(rect).adjusted(theme.unit * 2, 0, 0, -theme.unit * 0.5)
        left = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        if is_chosen and self.hasFocus():
            painter.setPen(b.focus)
            painter.drawRect(QRectF(rect).adjusted(theme.unit, 1, -theme.unit, -1))
        role = Role.STRONG if is_chosen else Role.TEXT
        painter.setFont(b.font(role))
        painter.setPen(b.ink if is_chosen else b.quiet)
        painter.drawText(room, left, self.tabText(index))
        wide = b.metrics(role).horizontalAdvance(self.tabText(index))
        painter.setFont(b.font(Role.QUIET))
        painter.setPen(b.quiet)
        painter.drawText(room.adjusted(wide + theme.unit * 1.5, 0, 0, 0), left, self._quiet(index))
