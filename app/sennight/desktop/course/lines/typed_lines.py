"""What is typed into a phase's lines or its length and not taken, kept on disk as a draft."""

from __future__ import annotations

from sennight.desktop.course.lines.lines_model import CellTexts
from sennight.desktop.course.lines.lines_view import LinesView
from sennight.desktop.course.lines.phase_bar import PhaseBar
from sennight.desktop.kit.drafts import as_list, as_object, leaving_out_what_cannot_be_read
from sennight.desktop.kit.tables import text_being_typed
from sennight.practice.drafts import Json


class TypedLines:
    """A field of the lines' drafts, of the cell that is open, and of the length as typed.

    What comes back stays a draft, also where it could be taken: nobody has pressed Enter yet.
    """

    def __init__(self, bar: PhaseBar, table: LinesView) -> None:
        self._bar, self._table = bar, table

    def draft_value(self) -> Json:
        """The texts with their phases, remedies and columns."""
        cells: list[Json] = [[*key, text] for key, text in self._cells().items()]
        length = self._bar.typed_length()
        return {"cells": cells, "length": None if length is None else list(length)}

    def _cells(self) -> CellTexts:
        model = self._table.lines
        cells = model.drafts
        if typed := text_being_typed(self._table):
            (row, column), text = typed
            key = model.key(row, column)
            if text != model.text(row, column) and key[1]:  # a name yet to be found is no text
                cells[key] = text
        return cells

    def put_draft_value(self, value: Json) -> None:
        """Hold the texts again, with the phase in hand that they were typed in."""
        with leaving_out_what_cannot_be_read():
            held, session = as_object(value), self._table.lines.session
            cells: CellTexts = {}
            for entry in as_list(held["cells"]):
                phase, remedy, column, text = map(str, as_list(entry))
                cells[phase, remedy, int(column)] = text
            for phase, *_ in reversed(cells):
                session.choose_phase(phase)
            self._table.lines.put_drafts(cells)
            if held["length"] is None:
                self._bar.refresh()
                return
            phase, text = map(str, as_list(held["length"]))
            session.choose_phase(phase)
            self._bar.length.setText(text)
