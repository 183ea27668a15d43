"""Actions, among what follows: a grid of the wanted actions by phase, gaps obvious."""

from __future__ import annotations

from PySide6.QtCore import QObject, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QSizePolicy,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
)

from sennight.desktop.kit.brushes import Brushes, draw_letter
from sennight.desktop.kit.grid_model import GridModel, Index
from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.parts.fold import Fold
from sennight.desktop.parts.tags import tag_words
from sennight.domain.amounts import rounded
from sennight.domain.courses.phase_names import phase_head, phase_title
from sennight.domain.directions.plain_words import counted, listed
from sennight.domain.exposure.coverage import Coverage
from sennight.domain.remedies.letters import letter_of
from sennight.practice.course_reading import CourseReading

GAP = Qt.ItemDataRole.UserRole + 51
PLACES = Qt.ItemDataRole.UserRole + 52
TEXTS = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole)
PHASES_PART = 0.58
"""Of the width, for the names of phases where they and those of the actions do not all fit."""
LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class ActionsModel(GridModel):
    """Wanted actions down, phases across; a cell has the letters of the remedies that bear it."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.phases: tuple[str, ...] = ()
        self.actions: tuple[str, ...] = ()
        self._cells: dict[tuple[str, str], Coverage] = {}
        self._reading: CourseReading | None = None

    def show_coverage(self, reading: CourseReading, rows: tuple[Coverage, ...]) -> None:
        """Show what the phases of a course bear."""
        phases = tuple(dict.fromkeys(row.phase for row in rows))
        actions = tuple(dict.fromkeys(row.action for row in rows if row.wanted))
        cells = {(row.action, row.phase): row for row in rows if row.wanted}
        before, self._reading = self._reading, reading
        if (phases, actions) == (self.phases, self.actions) and cells:
            if before and (before.places, self._cells) == (reading.places, cells):
                return
            self._cells = cells
            last = self.index(len(actions), len(phases))
            self.dataChanged.emit(self.index(0, 0), last)
            return
        self.beginResetModel()
        self.phases, self.actions, self._cells = phases, actions, cells
        self.endResetModel()

    def row_count(self) -> int:
        """The phases' numbers, and a row a wanted action."""
        return len(self.actions) + 1 if self.actions else 0

    def column_count(self) -> int:
        """The action, and one a phase."""
        return len(self.phases) + 1

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The letters, or that there is a gap; in full for tips and screen readers."""
        if not index.isValid():
            return None
        if not index.row():
            return self._of_head(index.column(), role)
        action = self.actions[index.row() - 1]
        if not index.column():
            name = tag_words(action).capitalize()
            tip = plain_tip(name) if role == Qt.ItemDataRole.ToolTipRole else None
            return name if role in TEXTS else tip
        cell = self._cells.get((action, self.phases[index.column() - 1]))
        if cell is None:
            return None
        return self._of_cell(cell, role)

    def _of_head(self, column: int, role: int) -> object:
        """The number of a phase, and its name for those who hear it."""
        if not column:
            return self.tr("Phase") if role == Qt.ItemDataRole.DisplayRole else None
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(phase_title(self.phases[column - 1]))
        return phase_head(self.phases[column - 1]) if role in TEXTS else None

    def _of_cell(self, cell: Coverage, role: int) -> object:
        if role == Qt.ItemDataRole.DisplayRole:
            return self.tr("gap") if cell.is_gap else self._letters(cell)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self.sentence(cell)
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(self.sentence(cell))
        if role == PLACES:
            places = self._reading.places if self._reading else {}
            return tuple(places[remedy] for remedy in cell.remedies)
        return cell.is_gap if role == GAP else None

    def _letters(self, cell: Coverage) -> str:
        places = self._reading.places if self._reading else {}
        return "".join(letter_of(places[remedy]) for remedy in cell.remedies)

    def sentence(self, cell: Coverage) -> str:
        """A cell in words."""
        named = tag_words(cell.action).capitalize()
        if cell.is_gap:
            text = self.tr("{action} is wanted, but nothing in {phase} covers it.")
            return text.format(action=named, phase=phase_title(cell.phase))
        course = self._reading.course if self._reading else None
        names = [course.remedy(remedy).name for remedy in cell.remedies] if course else []
        text = self.tr("{action} in {phase}: {remedies}; weight {weight}.")
        return text.format(
            action=named,
            phase=phase_title(cell.phase),
            remedies=listed(names),
            weight=rounded(cell.weight, 2),
        )


class GridDelegate(QStyledItemDelegate):
    """Draws the action's name in one line, and the letters of the remedies."""

    def __init__(self, theme: Theme, parent: QObject) -> None:
        super().__init__(parent)
        self.brushes = Brushes(theme)

    @property
    def badge(self) -> float:
        """The room of a remedy's letter."""
        return self.brushes.unit * 3.5

    @property
    def row_height(self) -> int:
        """How high the row of an action is: a line, whatever it says."""
        return round(self.brushes.line * 0.93)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one cell."""
        b, rect = self.brushes, QRectF(option.rect)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        is_gap, places = bool(index.data(GAP)), index.data(PLACES)
        if places and not is_gap:
            self._letters(painter, rect, places)
        else:
            self._words(painter, rect, index, is_gap=is_gap)
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(b.focus)
            painter.drawRect(rect.adjusted(1, 1, -2, -2))

    def _letters(self, painter: QPainter, rect: QRectF, places: tuple[int, ...]) -> None:
        side = self.badge
        fit = max(1, int(rect.width() // side))
        for n, place in enumerate(places[:fit]):
            room = QRectF(rect.left() + side * n, rect.top(), side, rect.height())
            draw_letter(painter, self.brushes, room.adjusted(0, 0, -2, 0), place)

    def _words(self, painter: QPainter, rect: QRectF, index: Index, *, is_gap: bool) -> None:
        b = self.brushes
        painter.setFont(b.font(Role.STRONG if is_gap else Role.QUIET))
        is_head = not index.row()
        painter.setPen(QPen(b.theme.alarm) if is_gap else b.quiet if is_head else b.ink)
        text = str(index.data() or "")
        measure, end = b.metrics(Role.QUIET), Qt.TextElideMode.ElideRight
        if not is_gap:
            text = measure.elidedText(text, end, rect.width() - b.unit * 0.5)
        painter.drawText(rect, LEFT, text)


class Grid(QTableView):
    """The grid, as high as it needs to be."""

    def __init__(self, model: ActionsModel, theme: Theme) -> None:
        super().__init__()
        self._grid = model
        self.drawer = GridDelegate(theme, self)
        self.setModel(model)
        self.setItemDelegate(self.drawer)
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.setAccessibleName(self.tr("Actions by phase"))
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(8)
        self.horizontalHeader().hide()
        self.horizontalHeader().setMinimumSectionSize(8)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        model.modelReset.connect(self.fit)
        model.dataChanged.connect(self.fit)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.drawer.brushes = Brushes(theme)
        self.fit()

    def fit(self) -> None:
        """Phases as wide as their letters and names; the actions' names take the rest."""
        width = self.viewport().width()
        cut = width * PHASES_PART / max(1, len(self._grid.phases))
        for most, apart in ((width, 2.4), (width, 1.1), (cut, 1.1)):
            widths = self._phase_widths(most, apart)
            if self._actions_width() + sum(widths) <= width:
                break
        self.setColumnWidth(0, max(width - sum(widths), 0))
        for column, wide in enumerate(widths, 1):
            self.setColumnWidth(column, wide)
        for row in range(self._grid.rowCount()):
            self.setRowHeight(row, self.drawer.row_height)
        self.setFixedHeight(self.wanted_height())

    def wanted_height(self) -> int:
        """How high all rows are."""
        return self.drawer.row_height * self._grid.rowCount() + 2

    def _actions_width(self) -> int:
        """Room for the longest name of an action."""
        measure = self.drawer.brushes.metrics(Role.QUIET).horizontalAdvance
        names = (str(self._grid.index(row, 0).data()) for row in range(self._grid.rowCount()))
        return round(max(map(measure, names), default=0) + self.drawer.brushes.unit)

    def _phase_widths(self, most: float, apart: float) -> list[int]:
        """Room for each phase's letters, for its name up to so much, and to the next, in units."""
        brushes, phases = self.drawer.brushes, self._grid.phases
        measure = brushes.metrics(Role.QUIET).horizontalAdvance
        gap = brushes.metrics(Role.STRONG).horizontalAdvance(self.tr("gap"))
        widths = []
        for n, phase in enumerate(phases, 1):
            cells = (self._grid.index(row, n).data(PLACES) for row in range(self._grid.rowCount()))
            letters = max((len(places) for places in cells if places), default=0)
            name = min(measure(phase_head(phase)), most)
            widths.append(
                round(max(letters * self.drawer.badge, gap, name) + brushes.unit * apart)
            )
        return widths

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the columns."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.fit()


class ActionsPanel(Fold):
    """The grid, its key where the phases have numbers, and the actions that nobody asked for."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(translate("ActionsPanel", "Actions"), theme)
        self.model = ActionsModel(self)
        self.grid = Grid(self.model, theme)
        self.others = text_label("", Role.QUIET, wrap=True)
        self.choose = button(self.tr("Choose…"), kind="word")
        self.choose.setAccessibleName(self.tr("Choose wanted actions"))
        self.choose.setToolTip(self.tr("Choose wanted actions"))
        self.head_room.insertWidget(1, self.choose)
        for part in (self.grid, self.others):
            self.room.addWidget(part)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        super().apply_theme(theme)
        self.grid.apply_theme(theme)

    def body_height(self, width: int) -> int:
        """How high the grid is in so much width."""
        if not self.model.actions:
            return super().body_height(width)
        return self.grid.wanted_height()

    def refresh(self, reading: CourseReading) -> None:
        """Show what the phases of a course bear."""
        coverage = reading.actions
        self.model.show_coverage(reading, coverage)
        gaps = sum(1 for cell in coverage if cell.is_gap)
        self._update_text(gaps, coverage)
        self.grid.setVisible(bool(self.model.actions))

    def _update_text(self, gaps: int, coverage: tuple[Coverage, ...]) -> None:
        if not self.model.actions:
            self.head.say(self.tr("none wanted"))
        elif gaps:
            self.head.say(counted(gaps, self.tr("gap")), lambda theme: theme.alarm)
        else:
            self.head.say(self.tr("no gap"))
        heavy = dict.fromkeys(tag_words(cell.action) for cell in coverage if cell.heavy)
        text = self.tr("Most used actions: {actions} (three herbs or more; no published limit).")
        said = text.format(actions=listed(list(heavy))) if heavy else ""
        self.others.setText(said)
        self.others.setVisible(bool(heavy) and not self.model.actions)
        self.grid.setToolTip(plain_tip(said))
        self.grid.setAccessibleDescription(said)
