"""The dialog in which a course is started from a protocol; it says first what it will do."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QBoxLayout, QLineEdit, QSizePolicy, QWidget

from sennight.desktop.kit.date_field import DateField
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.drafts import Fields
from sennight.desktop.kit.forms import FieldForm, read_field
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import restyle, text_label
from sennight.desktop.parts.phases_view import PhasesView
from sennight.desktop.parts.standing import course_sentence
from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.protocols import empty_protocol
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.directions.plain_words import listed
from sennight.practice.drafts import Json
from sennight.practice.protocols import ShelfProtocol


@dataclass(frozen=True, slots=True)
class Start:
    """What was chosen: a protocol, the first day and, if given, the last.

    `protocol_id` is empty for one that is not on the shelf but empty, under the name `name`.
    """

    protocol_id: str
    name: str
    first: date
    until: date | None


LEAST_LINES = 12
"""Lines of a protocol’s phases that are in view at least."""
_NONE = ShelfProtocol("", empty_protocol(""), ())


class StartDialog(FormDialog):
    """Asks for a protocol and a first day; `answer` has them once it was accepted."""

    def __init__(
        self,
        parent: QWidget | None,
        client: Client,
        shelf: Sequence[ShelfProtocol],
        *,
        today: date,
        supplied: Sequence[ShelfProtocol] = (),
    ) -> None:
        title = self.tr("Start a course for {name}").format(name=client.name)
        super().__init__(parent, title, do=self.tr("Start the course"))
        self._client, self._shelf, self._supplied = client, tuple(shelf), tuple(supplied)
        self._unsaved: frozenset[str] = frozenset()
        self.answer: Start | None = None
        self._make_choice()
        self._make_days(today)
        self.save_height()
        self.set_body(self._columns(), columns=110, lines=34)
        self.protocols.selectionModel().currentRowChanged.connect(self._choose)
        self.protocols.entered_row.connect(self.submit)
        self.name.textEdited.connect(self._tell)
        self.first.textEdited.connect(self._tell)
        self.until.textEdited.connect(self._tell)
        if not self._shelf:
            self.protocols.selectRow(len(self._supplied))
        self._choose()
        self.protocols.setFocus(Qt.FocusReason.OtherFocusReason)

    # Layout

    def _make_choice(self) -> None:
        model = TextTable((self.tr("Protocol"),), self)
        self.protocols = RowsView(model, shares=(1,))
        self.protocols.setAccessibleName(self.tr("Protocols"))
        own = [entry.protocol.name for entry in self._shelf]
        more = [self.tr("{name} (supplied)").format(name=s.protocol.name) for s in self._supplied]
        names = [*own, *more, self.tr("An empty protocol")]
        model.show_rows(len(names), lambda row: (names[row],))
        self.phases = PhasesView()
        self.phases.setMinimumHeight(self.fontMetrics().height() * LEAST_LINES)
        policy = QSizePolicy.Policy
        self.phases.setSizePolicy(policy.Expanding, policy.Preferred)  # as high as the list

    def _make_days(self, today: date) -> None:
        self.first, self.until = DateField(today), DateField(today)
        self.first.set_day(_next_monday(today))
        self.sentence = text_label("", Role.STRONG, wrap=True)
        self.sentence.setAccessibleName(self.tr("What this does"))
        self._days = FieldForm()
        self.name = QLineEdit()
        self._name_row = self._days.row(self.tr("Name of the protocol"), self.name)
        self._first_row, self._until_row = self._days.line(
            (self.tr("First day"), self.first),
            (self.tr("Last day of an open phase"), self.until),
        )

    def _columns(self) -> QWidget:
        body, gap = QWidget(), self.fontMetrics().height()
        layout = QBoxLayout(self.direction(80), body)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(gap * 2)
        layout.addWidget(self.protocols, 2)
        layout.addWidget(self.phases, 4)
        self.flags = text_label("", Role.QUIET, wrap=True)
        self.unsaved = text_label("", Role.ALARM, wrap=True)
        for part in (self._days, self.sentence, self.unsaved, self.flags):
            self.foot.addWidget(part)
        self.flags.hide()
        return body

    # What is typed, kept on disk

    def draft_fields(self) -> Fields:
        """The protocol chosen as well."""
        return {**super().draft_fields(), "Protocol": self}

    def draft_value(self) -> Json:
        """The id of the protocol; empty for one that is not on the shelf."""
        return self._chosen.id

    def put_draft_value(self, value: Json) -> None:
        """Choose a protocol again."""
        ids = [entry.id for entry in (*self._shelf, *self._supplied, _NONE)]
        if isinstance(value, str) and value in ids:
            self.protocols.select_row(ids.index(value))

    # Behaviour

    def tell_flags(self, text: str, *, stands: bool, is_asked: bool) -> None:
        """Say when red flags were asked for last, and what stands."""
        self.flags.setText(text)
        role = "alarm" if stands else "quiet" if is_asked else "doubt"
        self.flags.setProperty("role", role)
        restyle(self.flags)
        self.flags.show()

    def tell_unsaved(self, remedies: Collection[str]) -> None:
        """Say of which remedies, by their ids, there are changes that are not saved."""
        self._unsaved = frozenset(remedies)
        self._tell_unsaved()

    def _tell_unsaved(self) -> None:
        names = [remedy.name for remedy in self._chosen.remedies if remedy.id in self._unsaved]
        text = self.tr("Changes that are not saved are left out: {names}.")
        self.unsaved.setText(text.format(names=listed(names)) if names else "")
        self.unsaved.setVisible(bool(names))

    @property
    def _is_empty(self) -> bool:
        """Whether the row is chosen that stands for no protocol of the shelf."""
        return self.protocols.currentIndex().row() == len(self._shelf) + len(self._supplied)

    @property
    def _chosen(self) -> ShelfProtocol:
        if self._is_empty:
            name = " ".join(self.name.text().split())
            return ShelfProtocol("", empty_protocol(name), ())
        row = max(0, self.protocols.currentIndex().row())
        return (*self._shelf, *self._supplied, _NONE)[row]

    def _choose(self) -> None:
        self.phases.show_protocol(self._chosen, self._client)
        self._name_row.setVisible(self._is_empty)
        self._until_row.setVisible(self._is_open)
        self._tell_unsaved()
        self._tell()

    @property
    def _is_open(self) -> bool:
        return any(phase.length is None for phase in self._chosen.protocol.sequence)

    def _tell(self) -> None:
        """Say what starting would do, as far as the days can be read yet."""
        for row in (self._name_row, self._first_row, self._until_row):
            row.explain("")
        try:
            layout = self._layout_of(self.first.value(), self._until())
        except (ReadingError, LayoutError):
            layout = None
        known = layout is not None and bool(self._chosen.protocol.name)
        self.sentence.setText(
            course_sentence(self._chosen.protocol.name, layout) if layout and known else ""
        )
        self.sentence.setVisible(known)

    def _until(self) -> date | None:
        return self.until.value() if self._is_open else None

    def _layout_of(self, first: date | None, until: date | None) -> Layout | None:
        """The course as it would be laid out; None without a first day."""
        if first is None:
            return None
        shelf = self._chosen
        return lay_out(Course("", self._client, shelf.remedies, shelf.protocol, first, until))

    def submit(self) -> None:
        """Accept with what was chosen, or show at its field what is wrong."""
        first = read_field(self._first_row, self.first)
        until = read_field(self._until_row, self.until) if self._is_open else None
        if not self._chosen.protocol.name:
            self._name_row.wrong(self.tr("Enter a name, for example Worn joints"))
        if first is None and not self._first_row.is_wrong:
            self._first_row.wrong(self.tr("Enter a first day, for example 4 January 2027"))
        if self._days.to_first_wrong() or first is None:
            return
        try:
            self._layout_of(first, until)
        except LayoutError as error:
            row = self._until_row if self._is_open else self._first_row
            row.wrong(str(error))
            self._days.to_first_wrong()
            return
        self.answer = Start(self._chosen.id, self._chosen.protocol.name, first, until)
        self.accept()


def _next_monday(today: date) -> date:
    """The Monday after a day; weeks of a course then lie as those of the calendar."""
    return today + timedelta(days=7 - today.weekday())
