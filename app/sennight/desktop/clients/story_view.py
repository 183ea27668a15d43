"""The story of a client: written at its head, narrowed by kind or words, newest first."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QGuiApplication, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHBoxLayout,
    QLineEdit,
    QListView,
    QMenu,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.clients.consultation_writer import ConsultationWriter
from sennight.desktop.clients.story_delegate import StoryDelegate
from sennight.desktop.clients.story_model import Shown, StoryModel
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import text_label
from sennight.domain.follow_up.story import StoryItem, StoryKind
from sennight.practice.consultations import find_consultations
from sennight.practice.opening import OpenPractice
from sennight.practice.story import client_story

LEAST_FOR_BOTH = 20
"""In lines of text: lower, the story gives way to what is being written."""


class StoryList(QListView):
    """The items; Enter or a click opens one."""

    opened = Signal(int)

    def __init__(self, model: StoryModel, theme: Theme) -> None:
        super().__init__()
        self.items = model
        self.setModel(model)
        self.setProperty("kind", "story")
        self.delegate = StoryDelegate(model, theme, self)
        self.setItemDelegate(self.delegate)
        self.setMouseTracking(True)
        self.setUniformItemSizes(False)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.clicked.connect(lambda index: self.opened.emit(index.row()))

    def sizeHint(self) -> QSize:
        """It takes what room is left, and asks for little."""
        return QSize(super().sizeHint().width(), self.minimumHeight())

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """What can be done with the item under the pointer, or the one that the keyboard is on."""
        by_key = event.reason() == QContextMenuEvent.Reason.Keyboard
        index = self.currentIndex() if by_key else self.indexAt(event.pos())
        if index.isValid():
            self.setCurrentIndex(index)
            self.menu(index.row()).exec(event.globalPos())

    def menu(self, row: int) -> QMenu:
        """The acts on an item: to open it, and to have its words."""
        item, menu = self.items.items[row], QMenu(self)
        is_written = item.kind is StoryKind.CONSULTATION
        words = self.tr("Change, attach or strike out…") if is_written else self.tr("Open")
        act = menu.addAction(words)
        act.setEnabled(item.kind is not StoryKind.DISPENSED or bool(item.course))
        act.triggered.connect(lambda: self.opened.emit(row))
        copy = menu.addAction(self.tr("Copy"))
        copy.triggered.connect(lambda: QGuiApplication.clipboard().setText(item.words))
        return menu

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens the item that the keyboard is on."""
        row = self.currentIndex().row()
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and row >= 0:
            self.opened.emit(row)
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Words go over other lines where the width is another."""
        super().resizeEvent(event)
        width = self.viewport().width()
        if width != self.delegate.width:
            self.delegate.width = width
            self.delegate.forget_heights()
            self.scheduleDelayedItemsLayout()


class StoryView(QWidget):
    """One client's story; `opened` has the item that was chosen."""

    opened = Signal(object)
    written = Signal()
    status_message = Signal(str)

    def __init__(self, practice: OpenPractice, theme: Theme, today: date) -> None:
        super().__init__()
        self._practice, self._client, self._theme = practice, "", theme
        self.model = StoryModel(self)
        self.list = StoryList(self.model, theme)
        self.list.setAccessibleName(self.tr("Story"))
        self.writer = ConsultationWriter(practice, today)
        self.shown = QComboBox()
        self.shown.setProperty("kind", "quiet")
        self.shown.setAccessibleName(self.tr("Show"))
        for words in (
            self.tr("All"),
            self.tr("Consultations"),
            self.tr("Decisions"),
            self.tr("Given"),
            self.tr("Diary and scores"),
        ):
            self.shown.addItem(words)
        self.search = QLineEdit()
        self.search.setPlaceholderText(self.tr("Find in the story"))
        self.search.setAccessibleName(self.tr("Find in the story"))
        self.search.setClearButtonEnabled(True)
        self.nothing = text_label("", Role.QUIET, wrap=True)
        self._lay_out()
        self.apply_theme(theme)
        self._connect()

    def _lay_out(self) -> None:
        self._head, self.heading = QWidget(), text_label(self.tr("Story"), Role.HEADING)
        head = QHBoxLayout(self._head)
        head.setContentsMargins(0, 0, 0, 0)
        head.addWidget(self.heading)
        head.addWidget(self.search, 1)
        head.addWidget(self.shown)
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        head.setSpacing(self.fontMetrics().height())
        self._layout.addWidget(self._head)
        self._layout.addWidget(self.writer)
        self._layout.addWidget(self.nothing)
        self._layout.addWidget(self.list, 1)
        stops = (self.writer.keep_button, self.search, self.shown, self.list)
        for stop, after in pairwise(stops):
            self.setTabOrder(stop, after)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another theme."""
        self._layout.setSpacing(theme.unit * 2)
        self.writer.apply_theme(theme)
        self.list.delegate.apply_theme(theme)
        self.list.scheduleDelayedItemsLayout()
        self.list.setMinimumHeight(theme.line * 2)
        self._theme = theme
        self._make_room()
        self._fit_shown()

    def _make_room(self) -> None:
        """Where it is low, what is written has all the room while it is written."""
        is_tight = self.writer.is_open and self.height() < self._theme.line * LEAST_FOR_BOTH
        for part in (self._head, self.list):
            part.setVisible(not is_tight)

    def _fit_shown(self) -> None:
        """As wide as what is chosen, so that the field beside it has the room."""
        measure, room = self.shown.fontMetrics(), self._theme.unit * 10
        self.shown.setFixedWidth(measure.horizontalAdvance(self.shown.currentText()) + room)
        self.shown.view().setMinimumWidth(self.shown.sizeHint().width() + room)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """See what there is room for."""
        super().resizeEvent(event)
        self._make_room()

    def _connect(self) -> None:
        self.list.opened.connect(lambda row: self.opened.emit(self.model.items[row]))
        self.writer.kept.connect(self.written)
        self.writer.status_message.connect(self.status_message)
        self.search.textChanged.connect(self._narrow)
        self.shown.currentIndexChanged.connect(self._narrow)
        self.shown.currentIndexChanged.connect(self._fit_shown)
        self.writer.opened_up.connect(self._make_room)

    def show_client(self, client_id: str, name: str, today: date) -> None:
        """Show a client's story up to today."""
        if client_id != self._client:
            self.search.clear()
            self.shown.setCurrentIndex(0)
            self._client = client_id
            self.writer.show_client(client_id, name, today)
        self.refresh(today)

    def refresh(self, today: date) -> None:
        """Read the story anew."""
        self.list.delegate.today = today
        self.model.show_items(client_story(self._practice, self._client, today=today))
        self._narrow()

    def _narrow(self) -> None:
        shown = tuple(Shown)[self.shown.currentIndex()]
        self.model.narrow(shown, self.search.text(), self._found)
        is_narrowed = shown is not Shown.ALL or bool(self.search.text().strip())
        self.nothing.setText(
            self.tr("Nothing of that kind.")
            if is_narrowed
            else self.tr("What you write, decide and give appears here, day by day.")
        )
        self.nothing.setVisible(not self.model.items)

    def _found(self, typed: str) -> frozenset[int]:
        found = find_consultations(self._practice, typed, client_id=self._client)
        return frozenset(consultation.id for consultation in found)

    def show_item(self, item: StoryItem) -> None:
        """Bring an item into view."""
        if item in self.model.items:
            index = self.model.index(self.model.items.index(item))
            self.list.setCurrentIndex(index)
            self.list.scrollTo(index)
