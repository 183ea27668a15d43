"""All that a line says beside its directions: where, how, its steps as a table of days."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QCompleter, QGridLayout, QLineEdit, QWidget

from sennight.desktop.course.session import Session
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.parts.directions_edit import DirectionsEdit
from sennight.desktop.parts.question_bar import QuestionBar
from sennight.desktop.parts.typed import explain_steps
from sennight.domain.courses.protocols import CountFrom, Line
from sennight.domain.courses.typed_lines import parse_steps, steps_text
from sennight.domain.directions.parser import DirectionsError
from sennight.domain.directions.plain_words import plain_dates, plain_directions
from sennight.domain.remedies.sites import SITES
from sennight.domain.schedule.titration import Stage, titration


class LineDialog(FormDialog):
    """Edits one line of the phase in hand; `line` is as the fields have it."""

    def __init__(self, session: Session, theme: Theme, line: Line, parent: QWidget | None) -> None:
        name = session.course.remedy(line.remedy).name
        super().__init__(parent, name, do=translate("LineDialog", "Change the line"))
        self.session, self.before, self.line = session, line, line
        self._make_fields(theme)
        self.form = FieldForm()
        self.form.row(
            self.tr("Where it is used"),
            self.site,
            help_text=self.tr("for example: right knee only"),
        )
        self.form.row(
            self.tr("Other instructions"), self.note, help_text=self.tr("for example: with honey")
        )
        if not session.phase.is_rescue:
            self.form.row(self.tr("Weeks on and off count from"), self.count_from)
        self.steps_row = self.form.row(
            self.tr("Changes in this phase"),
            self.steps,
            help_text=self.tr(
                "for example: 3 d: 1 cup bd; 4 w: 1 cup od, from the phase’s first day"
            ),
        )
        layout = self.steps_row.layout()
        if layout is not None:
            layout.addWidget(QuestionBar.beneath(self.steps))
        self.table = StageTable()
        self.form.row(self.tr("How it is taken"), self.table)
        self.form.keep_together()
        self.set_body(self.form, columns=76, lines=32)
        self._read()
        self.site.setFocus(Qt.FocusReason.OtherFocusReason)

    def _make_fields(self, theme: Theme) -> None:
        day = self.session.course.client.day
        self.site, self.note = QLineEdit(self.before.site), QLineEdit(self.before.note)
        places = QCompleter([site.name for site in SITES], self.site)
        places.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.site.setCompleter(places)
        self.count_from = QComboBox()
        for text, counted_from in (
            (self.tr("where its directions begin"), CountFrom.ANCHOR),
            (self.tr("the first day of the course"), CountFrom.COURSE),
        ):
            self.count_from.addItem(text, counted_from.value)
        self.count_from.setCurrentIndex(self.count_from.findData(self.before.count_from.value))
        self.steps = DirectionsEdit(lambda text: explain_steps(text, day), theme, read=parse_steps)
        self.steps.setText(steps_text(self.before.steps))
        self.steps.textChanged.connect(self._read)

    def _read(self) -> bool:
        """Take the fields into the line; whether all of them can be read."""
        try:
            steps = parse_steps(self.steps.text())
        except DirectionsError:
            explained, _ = explain_steps(self.steps.text(), self.session.course.client.day)
            self.steps_row.wrong(explained)
            return False
        self.steps_row.explain("")
        self.line = replace(
            self.before,
            steps=steps,
            site=" ".join(self.site.text().split()),
            note=" ".join(self.note.text().split()),
            count_from=CountFrom(self.count_from.currentData()),
        )
        day = self.session.course.client.day
        plan = self.session.reading.layout.plan
        stages = titration(plan, self.session.phase, self.line)
        self.table.show_rows(
            tuple((*_days(stage), plain_directions(stage.directions, day)) for stage in stages)
        )
        return True

    def submit(self) -> None:
        """Carry on where all can be read."""
        if self._read():
            self.accept()
        else:
            self.form.to_first_wrong()

    def is_changed(self) -> bool:
        """Whether anything would be lost."""
        return not self._read() or self.line != self.before


def _days(stage: Stage) -> tuple[str, str]:
    """Its days of the phase, and its dates; a stage that the phase ends before says so."""
    if stage.span is not None:
        dates = plain_dates(stage.span)
    else:
        never = stage.last is None or stage.first > stage.last
        dates = translate("LineDialog", "after the phase’s end") if never else ""
    first = translate("LineDialog", "from day {day}").format(day=stage.first)
    if stage.last is None or stage.last < stage.first:
        return first, dates
    days = translate("LineDialog", "days {first} to {last}")
    alone = translate("LineDialog", "day {first}")
    shown = alone if stage.last == stage.first else days
    return shown.format(first=stage.first, last=stage.last), dates


class StageTable(QWidget):
    """Rows of words: days of the phase, dates, directions."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: tuple[tuple[str, ...], ...] = ()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(self.fontMetrics().height())
        self._grid.setColumnStretch(2, 1)

    def show_rows(self, rows: tuple[tuple[str, ...], ...]) -> None:
        """Show other rows."""
        if rows == self.rows:
            return
        while self._grid.count():
            item = self._grid.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.deleteLater()
        for n, row in enumerate(rows):
            for column, words in enumerate(row):
                role = Role.TEXT if column == 2 else Role.QUIET
                label = text_label(words, role, wrap=column == 2)
                self._grid.addWidget(label, n, column, Qt.AlignmentFlag.AlignTop)
        self.rows = rows
        self.setAccessibleDescription("\n".join(", ".join(filter(None, row)) for row in rows))
