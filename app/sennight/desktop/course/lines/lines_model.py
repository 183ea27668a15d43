"""The lines of one phase as a table: remedy, directions, steps, until.

What is typed and cannot be read stays here as a draft and never reaches the course; the last
valid directions stand until it is put right. A line begun but not complete is a draft too.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from operator import is_not

from PySide6.QtCore import QObject, Qt, Signal

from sennight.desktop.course.lines.line_cells import (
    READERS,
    Column,
    LineCell,
    LineEditRequest,
    cell_text,
    explain,
    heading,
    remarks,
)
from sennight.desktop.course.session import Session
from sennight.desktop.kit.grid_model import NOWHERE, GridModel, Index
from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.parts.typed import Explained, question_in
from sennight.domain.courses.editing import (
    EditError,
    add_line,
    remove_line,
    with_directions,
    with_line,
    with_remedy,
    with_steps,
)
from sennight.domain.courses.protocols import Line, Protocol
from sennight.domain.courses.typed_lines import parse_steps, parse_take
from sennight.domain.directions.pieces import Question
from sennight.domain.remedies.remedies import Remedy

READ = Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemNeverHasChildren
CellTexts = dict[tuple[str, str, int], str]
"""Texts of cells by phase, remedy and column."""

EDITED = READ | Qt.ItemFlag.ItemIsEditable
"""What can be done with a cell; Qt asks for it many times each time that the table is drawn."""


class LinesModel(GridModel):
    """The lines of the session's phase in hand."""

    asked = Signal(object)
    refused = Signal(str)

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.shelf: tuple[Remedy, ...] = ()
        self._drafts: CellTexts = {}
        self._begun = False
        self._new: Remedy | None = None
        self.lines: tuple[Line, ...] = session.phase.lines
        self._cells: dict[int, tuple[LineCell, ...]] = {}
        self._cells_of: tuple[object, ...] = ()
        session.changed.connect(self.refresh)
        session.phase_changed.connect(self._other_phase)

    def refresh(self) -> None:
        """Show the phase as the course has it now; drafts stay."""
        self.beginResetModel()
        self.lines = self.session.phase.lines
        taken = {line.remedy for line in self.lines}
        if self._new is not None and self._new.id in taken:
            self._leave_begun()
        self.endResetModel()

    def _other_phase(self) -> None:
        self.beginResetModel()
        self.lines = self.session.phase.lines
        self._leave_begun()
        self.endResetModel()

    def _leave_begun(self) -> None:
        self._begun, self._new = False, None

    # Shape

    def row_count(self) -> int:
        """The lines, and the one begun."""
        return len(self.lines) + self._begun

    def column_count(self) -> int:
        """Remedy, directions, steps, until."""
        return len(Column)

    def column_heading(self, column: int, role: int) -> object:
        """The columns' names."""
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        return heading(column)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """All can be edited but the last day, which follows; a new line from left to right."""
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        if index.row() < len(self.lines):
            last = Column.STEPS
        else:
            last = Column.REMEDY if self._new is None else Column.TAKE
        return EDITED if index.column() <= last else READ

    # Reading

    def remedy_at(self, row: int) -> Remedy | None:
        """The remedy of a row; a line that was begun may have none yet."""
        if row < len(self.lines):
            return self.session.course.remedy(self.lines[row].remedy)
        return self._new

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Texts, what they mean in plain words, and where they are wrong."""
        if not index.isValid():
            return None
        row, column = index.row(), index.column()
        match role:
            case Qt.ItemDataRole.DisplayRole | Qt.ItemDataRole.EditRole:
                return self.cell(row, column).text
            case Qt.ItemDataRole.AccessibleTextRole:
                return self.in_full(row, column)
            case Qt.ItemDataRole.ToolTipRole:
                return plain_tip(self.in_full(row, column))
            case _:
                return None

    def cell(self, row: int, column: int) -> LineCell:
        """A cell with all that it says."""
        return self.cells(row)[column]

    def cells(self, row: int) -> tuple[LineCell, ...]:
        """The cells of a row; kept until the course, the phase or a draft is another."""
        reading, state = self.session.reading, self._cells_of
        drafts = tuple(self._drafts.items())
        now = (reading, self.lines, self._new, self.session.phase_id, self._begun, drafts)
        if not state or any(map(is_not, now[:3], state[:3])) or now[3:] != state[3:]:
            self._cells_of = now
            self._cells.clear()
        if row not in self._cells:
            self._cells[row] = tuple(self._said(row, column) for column in Column)
        return self._cells[row]

    def _said(self, row: int, column: int) -> LineCell:
        text = self._text(row, column)
        return LineCell(text, self._plain(row, column, text), self._wrong(row, column))

    def place(self, row: int) -> int:
        """The place of a row's remedy in the course; -1 where it is not in it yet."""
        remedy = self.remedy_at(row)
        return -1 if remedy is None else self.session.reading.places.get(remedy.id, -1)

    def in_full(self, row: int, column: int) -> str:
        """A cell as a screen reader says it."""
        cell = self.cell(row, column)
        return f"{cell.text}. {cell.plain}" if cell.plain else cell.text

    def text(self, row: int, column: int) -> str:
        """What a cell shows: the draft where there is one."""
        return self.cell(row, column).text

    def _text(self, row: int, column: int) -> str:
        remedy = self.remedy_at(row)
        if remedy is None:
            return ""
        if column == Column.REMEDY:
            return remedy.name
        draft = self._drafts.get(self.key(row, column))
        if draft is not None:
            return draft
        return "" if row >= len(self.lines) else cell_text(self.session, self.lines[row], column)

    def key(self, row: int, column: int) -> tuple[str, str, int]:
        """A cell by phase, remedy and column, whatever row it has."""
        remedy = self.remedy_at(row)
        return self.session.phase_id, remedy.id if remedy else "", column

    @property
    def drafts(self) -> CellTexts:
        """What was typed and not taken, of the lines that are there and of the one begun."""
        phases = self.session.course.protocol.phases
        lines = {(phase.id, line.remedy) for phase in phases for line in phase.lines}
        if self._new is not None:
            lines.add((self.session.phase_id, self._new.id))
        return {key: text for key, text in self._drafts.items() if key[:2] in lines}

    def put_drafts(self, drafts: CellTexts) -> None:
        """Hold these and no others; a line that was begun for one of them is begun again."""
        self.beginResetModel()
        self._drafts = dict(drafts)
        self._leave_begun()
        typed = {remedy for phase, remedy, _ in drafts if phase == self.session.phase_id}
        self._new = next((free for free in self.free_remedies() if free.id in typed), None)
        self._begun = self._new is not None
        self.endResetModel()

    def _plain(self, row: int, column: int, text: str) -> str:
        """Directions in plain words; what was expected, where they cannot be read.

        Beneath the directions also where and how the line is used.
        """
        if column not in (Column.TAKE, Column.STEPS):
            return ""
        said, wrong = self.explain(text, column)
        if wrong is None and self.key(row, column) in self._drafts:
            said = self.tr("Not entered yet (F2, then Enter): {said}").format(said=said)
        told = column == Column.TAKE and row < len(self.lines) and remarks(self.lines[row])
        return f"{said}. {' '.join(told)}" if told else said

    def question(self, row: int, column: int) -> Question | None:
        """What has to be asked about a draft before it can be read."""
        draft = self._drafts.get(self.key(row, column))
        if draft is None or column not in READERS:
            return None
        return question_in(draft, READERS[column])

    def explain(self, text: str, column: int) -> Explained:
        """What a text means, or what is wrong with it and from where to where."""
        return explain(text, column, self.session.course.client.day)

    def _wrong(self, row: int, column: int) -> tuple[int, int] | None:
        """Where a draft is wrong."""
        draft = self._drafts.get(self.key(row, column))
        return self.explain(draft, column)[1] if draft is not None else None

    # Editing

    def setData(self, index: Index, value: object, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Take what was typed: into the course where it is valid, else as a draft."""
        if role != Qt.ItemDataRole.EditRole or not index.isValid():
            return False
        row, column = index.row(), index.column()
        if column == Column.REMEDY:
            return isinstance(value, Remedy) and self._set_remedy(row, value)
        text = " ".join(str(value).split())
        key = self.key(row, column)
        if self.explain(text, column)[1] is not None or (column == Column.TAKE and not text):
            self._drafts[key] = text
            self.dataChanged.emit(index, index)
            return True
        self._drafts.pop(key, None)
        self.dataChanged.emit(index, index)
        self._set_text(row, column, text)
        return True

    def _set_text(self, row: int, column: int, text: str) -> None:
        protocol, phase = self.session.course.protocol, self.session.phase_id
        remedy = self.remedy_at(row)
        if remedy is None:
            return
        if column == Column.STEPS:
            steps = parse_steps(text)
            self._ask(
                self.tr("Change steps"), lambda: with_steps(protocol, phase, remedy.id, steps)
            )
            return
        directions, steps = parse_take(text)
        if row >= len(self.lines):
            line = Line(remedy.id, directions, steps)
            added = add_line(protocol, phase, line)
            course = with_remedy(replace(self.session.course, protocol=added), remedy)
            self.asked.emit(LineEditRequest(self.tr("Add a line"), course, remedy.id, added=line))
        elif steps:
            line = replace(self.lines[row], directions=directions, steps=steps)
            self._ask(
                self.tr("Change directions"), lambda: with_line(protocol, phase, remedy.id, line)
            )
        elif directions != self.lines[row].directions:
            changed = with_directions(protocol, phase, remedy.id, directions)
            course = replace(self.session.course, protocol=changed)
            self.asked.emit(
                LineEditRequest(self.tr("Change directions"), course, remedy.id, directions)
            )

    def replace_line(self, before: Line, line: Line) -> None:
        """Ask for a line of the same remedy in the place of another."""
        protocol, phase = self.session.course.protocol, self.session.phase_id
        self._drafts.pop((phase, before.remedy, int(Column.STEPS)), None)
        self._ask(
            self.tr("Change a line"), lambda: with_line(protocol, phase, before.remedy, line)
        )

    def _set_remedy(self, row: int, remedy: Remedy) -> bool:
        if row >= len(self.lines):
            self._new = remedy
            self.dataChanged.emit(self.index(row, 0), self.index(row, len(Column) - 1))
            return True
        line = self.lines[row]
        if line.remedy != remedy.id:
            protocol, phase = self.session.course.protocol, self.session.phase_id
            other = replace(line, remedy=remedy.id)
            self._ask(
                self.tr("Change remedy"),
                lambda: with_line(protocol, phase, line.remedy, other),
                remedy,
            )
        return True

    def _ask(
        self, words: str, change: Callable[[], Protocol], remedy: Remedy | None = None
    ) -> None:
        """Ask for an edit; a remedy from the shelf comes into the course with it."""
        try:
            protocol = change()
        except EditError as error:
            self.refused.emit(str(error))
            return
        course = replace(self.session.course, protocol=protocol)
        self.asked.emit(LineEditRequest(words, with_remedy(course, remedy) if remedy else course))

    def free_remedies(self) -> tuple[Remedy, ...]:
        """The remedies without a line in this phase: the course's first, then the shelf's."""
        taken = {line.remedy for line in self.lines}
        known = {remedy.id for remedy in self.session.course.remedies}
        more = (remedy for remedy in self.shelf if remedy.id not in known)
        return tuple(r for r in (*self.session.course.remedies, *more) if r.id not in taken)

    def begin_line(self) -> bool:
        """Begin a line; False, and `refused`, where no remedy is free for it.

        Where only one is free the line has it.
        """
        free = self.free_remedies()
        if not free:
            self.refused.emit(self._none_free())
            return False
        if not self._begun:
            row = len(self.lines)
            self.beginInsertRows(NOWHERE, row, row)
            self._begun, self._new = True, free[0] if len(free) == 1 else None
            self.endInsertRows()
        return True

    def _none_free(self) -> str:
        if self.lines:
            return self.tr("Every remedy has a line in this phase already.")
        return self.tr("There is no remedy yet. Create one under Formulas first.")

    def remove(self, row: int) -> None:
        """Remove a line, or leave the one begun."""
        if row >= len(self.lines):
            self.beginRemoveRows(NOWHERE, row, row)
            self._drafts.pop(self.key(row, Column.TAKE), None)
            self._leave_begun()
            self.endRemoveRows()
            return
        protocol, phase = self.session.course.protocol, self.session.phase_id
        remedy = self.lines[row].remedy
        self._ask(self.tr("Remove a line"), lambda: remove_line(protocol, phase, remedy))
