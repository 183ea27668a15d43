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
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.grid_model import GridModel, Index
from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.parts.tags import tag_words
from sennight.domain.amounts import rounded
from sennight.domain.directions.plain_words import listed
from sennight.domain.exposure.coverage import Coverage
from sennight.domain.remedies.letters import letter_of
from sennight.practice.course_reading import CourseReading

GAP = Qt.ItemDataRole.UserRole + 51
LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
WRAP = LEFT | Qt.TextFlag.TextWordWrap
MIDDLE = Qt.AlignmentFlag.AlignCenter


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
        self._reading = reading
        if (phases, actions) == (self.phases, self.actions) and cells:
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
            named = role == Qt.ItemDataRole.DisplayRole
            return tag_words(action).capitalize() if named else None
        cell = self._cells.get((action, self.phases[index.column() - 1]))
        if cell is None:
            return None
        return self._of_cell(cell, role)

    def _of_head(self, column: int, role: int) -> object:
        """The number of a phase, and its name for those who hear it."""
        if not column:
            return self.tr("Phase") if role == Qt.ItemDataRole.DisplayRole else None
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self.phases[column - 1]
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(self.phases[column - 1])
        return str(column) if role == Qt.ItemDataRole.DisplayRole else None

    def _of_cell(self, cell: Coverage, role: int) -> object:
        if role == Qt.ItemDataRole.DisplayRole:
            return self.tr("gap") if cell.is_gap else self._letters(cell)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self.sentence(cell)
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(self.sentence(cell))
        return cell.is_gap if role == GAP else None

    def texts(self) -> tuple[str, ...]:
        """All that stands in the phases' cells."""
        return tuple(
            str(self.index(row, column).data() or "")
            for row in range(self.rowCount())
            for column in range(1, self.columnCount())
        )

    def _letters(self, cell: Coverage) -> str:
        places = self._reading.places if self._reading else {}
        return "".join(letter_of(places[remedy]) for remedy in cell.remedies)

    def sentence(self, cell: Coverage) -> str:
        """A cell in words."""
        named = tag_words(cell.action).capitalize()
        if cell.is_gap:
            text = self.tr("{action} is wanted, but nothing in {phase} covers it.")
            return text.format(action=named, phase=cell.phase)
        course = self._reading.course if self._reading else None
        names = [course.remedy(remedy).name for remedy in cell.remedies] if course else []
        text = self.tr("{action} in {phase}: {remedies}; weight {weight}.")
        return text.format(
            action=named,
            phase=cell.phase,
            remedies=listed(names),
            weight=rounded(cell.weight, 2),
        )


class GridDelegate(QStyledItemDelegate):
    """Draws the action's name over as many lines as it wants, and the letters in the middle."""

    def __init__(self, theme: Theme, parent: QObject) -> None:
        super().__init__(parent)
        self.brushes = Brushes(theme)

    def height(self, text: str, width: float) -> int:
        """How high the row of an action is."""
        box = QRectF(0, 0, width, 10_000)
        high = self.brushes.metrics(Role.QUIET).boundingRect(box, WRAP, text).height()
        return round(high + self.brushes.unit * 2)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one cell."""
        b, rect = self.brushes, QRectF(option.rect)
        painter.setPen(b.hairline)
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        text = str(index.data() or "")
        is_gap = bool(index.data(GAP))
        painter.setFont(b.font(Role.STRONG if is_gap else Role.QUIET))
        painter.setPen(QPen(b.theme.alarm) if is_gap else b.ink)
        painter.drawText(rect, WRAP if not index.column() else MIDDLE, text)
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(b.focus)
            painter.drawRect(rect.adjusted(1, 1, -2, -2))


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
        """Phases as wide as their letters, the actions' names take the rest and wrap."""
        wide = self._phase_width()
        name = max(self.viewport().width() - wide * len(self._grid.phases), self.width() // 3)
        for column in range(self._grid.columnCount()):
            self.setColumnWidth(column, wide if column else name)
        high = 2
        for row in range(self._grid.rowCount()):
            text = str(self._grid.index(row, 0).data())
            self.setRowHeight(row, self.drawer.height(text, name))
            high += self.rowHeight(row)
        self.setFixedHeight(high)

    def _phase_width(self) -> int:
        metrics = self.drawer.brushes.metrics(Role.STRONG)
        texts = self._grid.texts()
        widest = max((metrics.horizontalAdvance(text) for text in texts), default=0)
        return round(widest + self.drawer.brushes.unit * 2)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the columns."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.fit()


class ActionsPanel(QWidget):
    """The grid, its key, and the actions that nobody asked for."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.model = ActionsModel(self)
        self.grid = Grid(self.model, theme)
        self.summary = text_label("", wrap=True)
        self.key = text_label("", Role.QUIET, wrap=True)
        self.others = text_label("", Role.QUIET, wrap=True)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(text_label(self.tr("Actions"), Role.HEADING))
        self.choose = button(self.tr("Choose the actions wanted"), kind="link")
        for part in (self.summary, self.grid, self.key, self.others, self.choose):
            layout.addWidget(part)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.grid.apply_theme(theme)

    def refresh(self, reading: CourseReading) -> None:
        """Show what the phases of a course bear."""
        coverage = reading.actions
        self.model.show_coverage(reading, coverage)
        gaps = sum(1 for cell in coverage if cell.is_gap)
        self._update_text(gaps, coverage)
        self.grid.setVisible(bool(self.model.actions))
        phases = enumerate(self.model.phases, 1)
        self.key.setText(" · ".join(f"{n} {phase}" for n, phase in phases))
        self.key.setVisible(bool(self.model.actions))

    def _update_text(self, gaps: int, coverage: tuple[Coverage, ...]) -> None:
        if not self.model.actions:
            self.summary.setText(self.tr("The protocol asks for no actions."))
        elif gaps == 1:
            self.summary.setText(self.tr("1 gap"))
        elif gaps:
            self.summary.setText(self.tr("{n} gaps").format(n=gaps))
        else:
            self.summary.setText(self.tr("Every wanted action is covered in every phase."))
        heavy = dict.fromkeys(tag_words(cell.action) for cell in coverage if cell.heavy)
        text = self.tr("Most used actions: {actions} (three herbs or more; no published limit).")
        self.others.setText(text.format(actions=listed(list(heavy))) if heavy else "")
        self.others.setVisible(bool(heavy))
