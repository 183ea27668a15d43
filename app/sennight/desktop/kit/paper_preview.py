"""The papers as they will be, drawn beside the choices; made and drawn off the window's thread."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import (
    QCoreApplication,
    QRectF,
    QSize,
    Qt,
    QThreadPool,
    QTimer,
    Signal,
)
from PySide6.QtGui import QImage, QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QComboBox,
    QHBoxLayout,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.kit.background import Job, JobSignals
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import button, text_label
from sennight.domain.papers import kind_words
from sennight.practice.page_pictures import page_picture
from sennight.practice.papers import Paper

if TYPE_CHECKING:
    from sennight.practice.page_pictures import PagePicture

_PAUSE = 150
"""Milliseconds after a change before papers are made anew."""
_LEAST_DOTS, _MOST_DOTS = 30.0, 220.0
_LEAST_LINES = 7
"""A page is at least as high and wide as so many lines of text."""


class PageView(QWidget):
    """One page of a paper, as large as there is room; paper is white in every theme."""

    resized = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.image: QImage | None = None
        least = self.fontMetrics().height() * _LEAST_LINES
        self.setMinimumSize(QSize(least, least))

    def show_image(self, image: QImage | None) -> None:
        """Show a page; None for none."""
        self.image = image
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """A page of another size is drawn anew."""
        super().resizeEvent(event)
        self.resized.emit()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - Qt's name
        """Draw the page in the middle, with a thin edge."""
        if self.image is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        size = self.image.size().scaled(self.size(), Qt.AspectRatioMode.KeepAspectRatio)
        place = QRectF(0.5, 0.5, size.width() - 1, size.height() - 1)
        place.moveLeft((self.width() - size.width()) / 2 + 0.5)
        painter.drawImage(place, self.image)
        painter.setPen(self.palette().color(QPalette.ColorRole.Mid))
        painter.drawRect(place)


class PapersPreview(QWidget):
    """Which paper, which page, and the page; what cannot be printed is told in its place."""

    def __init__(self, make: Callable[[], tuple[Paper, ...]]) -> None:
        super().__init__()
        self.make = make
        self.papers: tuple[Paper, ...] = ()
        self.page, self.pages = 0, 0
        self._made, self._drawn = 0, 0
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)
        self._making, self._drawing = JobSignals(), JobSignals()
        self._making.done.connect(self._show_papers)
        self._drawing.done.connect(self._show_page)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_PAUSE)
        self._timer.timeout.connect(self._start)
        self.which = QComboBox()
        self.which.setAccessibleName(self.tr("Paper to look at"))
        self.which.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.which.currentIndexChanged.connect(partial(self.turn_to, 0))
        self.before, self.after = button("‹"), button("›")
        self.before.setAccessibleName(self.tr("Previous page"))
        self.after.setAccessibleName(self.tr("Next page"))
        self.before.clicked.connect(lambda: self.turn_to(self.page - 1))
        self.after.clicked.connect(lambda: self.turn_to(self.page + 1))
        self.count = text_label("", Role.QUIET)
        self.words = text_label("", Role.ALARM, wrap=True)
        self.view = PageView()
        self.view.resized.connect(self._draw)
        self._lay_out()

    def _lay_out(self) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        self._head, self._turning = QBoxLayout(QBoxLayout.Direction.LeftToRight), QHBoxLayout()
        self._head.addWidget(self.which, 1)
        for turning in (self.before, self.after):
            turning.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        for part in (self.before, self.count, self.after):
            self._turning.addWidget(part)
        self._turning.addStretch(1)
        self._head.addLayout(self._turning)
        layout.addLayout(self._head)
        layout.addWidget(self.words)
        layout.addWidget(self.view, 1)
        self._tell("")

    def resizeEvent(self, event: QResizeEvent) -> None:
        """See whether the pages fit beside the paper’s name."""
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        air = self.fontMetrics().height()  # Qt asks for less than a name with its arrow takes
        need = self._turning.sizeHint().width() + self._head.spacing() + air
        fits = self.which.isHidden() or self.which.sizeHint().width() + need <= self.width()
        ways = QBoxLayout.Direction
        self._head.setDirection(ways.LeftToRight if fits else ways.TopToBottom)

    def minimumSizeHint(self) -> QSize:
        """As wide as the names of the papers alone, since the pages can go beneath."""
        least = super().minimumSizeHint()
        wide = (self._turning.minimumSize().width(), self.view.minimumWidth())
        return QSize(max(*wide, self.which.minimumSizeHint().width()), least.height())

    def refresh(self) -> None:
        """Make the papers anew, a moment after the last change."""
        self._timer.start()

    def show_now(self) -> None:
        """Make the papers and draw the page before this returns."""
        self.finish()
        self._start()
        for _ in range(2):  # the papers, then the page of one
            self._pool.waitForDone()
            QCoreApplication.processEvents()

    def finish(self) -> None:
        """Wait for what is under way, and start nothing more; to be called before giving."""
        self._timer.stop()
        self._pool.clear()
        self._pool.waitForDone()

    def turn_to(self, page: int, *_: object) -> None:
        """Look at a page of the chosen paper, counted from 0."""
        self.page = page
        self._draw()

    def _start(self) -> None:
        self._made += 1
        self._pool.start(Job(self._made, self.make, self._making))

    def _show_papers(self, number: int, result: object) -> None:
        if number != self._made:
            return
        if isinstance(result, ValueError):
            self.papers = ()
            self._tell(str(result))
        else:
            self.papers = _to_look_at(result)
            self._tell("" if self.papers else self.tr("Nothing is printed."))
        self._offer()
        self._draw()

    def _tell(self, words: str) -> None:
        self.words.setText(words)
        self.words.setVisible(bool(words))

    def _offer(self) -> None:
        """Offer the papers that there are now; the one that is looked at stays."""
        names = [kind_words(paper.kind) for paper in self.papers]
        now = self.which.currentText()
        self.which.blockSignals(True)  # noqa: FBT003 - Qt's
        self.which.clear()
        self.which.addItems(names)
        self.which.setCurrentIndex(names.index(now) if now in names else 0)
        self.which.blockSignals(False)  # noqa: FBT003 - Qt's
        self._arrange()

    def _draw(self) -> None:
        self._drawn += 1
        if not self.papers:
            self._show_page(self._drawn, None)
            return
        pdf = self.papers[max(0, self.which.currentIndex())].content
        pixels = max(1, round(self.view.height() * self.devicePixelRatioF()))
        dots = min(_MOST_DOTS, max(_LEAST_DOTS, pixels / 11))
        work = partial(page_picture, pdf, self.page, dots_per_inch=dots)
        self._pool.start(Job(self._drawn, work, self._drawing))

    def _show_page(self, number: int, picture: PagePicture | ValueError | None) -> None:
        if number != self._drawn:
            return
        if isinstance(picture, ValueError):
            self._tell(str(picture))
            picture = None
        self.page, self.pages = (picture.number, picture.pages) if picture else (0, 0)
        self.view.show_image(image_of(picture) if picture else None)
        self.before.setEnabled(self.page > 0)
        self.after.setEnabled(self.page < self.pages - 1)
        text = self.tr("Page {page} of {pages}") if self.pages else ""
        self.count.setText(text.format(page=self.page + 1, pages=self.pages))
        for part in (self.before, self.count, self.after):
            part.setVisible(self.pages > 1)
        self.view.setAccessibleName(f"{self.which.currentText()}: {self.count.text()}")
        self._arrange()


def _to_look_at(papers: Any) -> tuple[Paper, ...]:  # noqa: ANN401 - as a signal brings it
    return tuple(paper for paper in papers if paper.suffix == ".pdf")


def image_of(picture: PagePicture) -> QImage:
    """A page's picture as Qt draws it."""
    shape = (picture.width, picture.height, picture.stride)
    return QImage(picture.pixels, *shape, QImage.Format.Format_RGB32).copy()
