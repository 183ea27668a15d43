"""The lower part of the page: phases, the lines of the one in hand, and what is typed, said."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QApplication, QLabel, QVBoxLayout, QWidget

from sennight.desktop.course.lines.line_dialog import LineDialog
from sennight.desktop.course.lines.lines_model import LinesModel
from sennight.desktop.course.lines.lines_view import LinesView
from sennight.desktop.course.lines.phase_bar import PhaseBar
from sennight.desktop.course.lines.typed_lines import TypedLines
from sennight.desktop.course.session import Session
from sennight.desktop.kit.draft_note import DraftNote
from sennight.desktop.kit.drafts import DraftKeeper
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import Shortened, button, restyle, text_label
from sennight.desktop.parts.directions_edit import DirectionsEdit
from sennight.desktop.parts.question_bar import QuestionBar
from sennight.domain.courses.phase_words import ceiling_words, phase_remarks
from sennight.domain.directions.pieces import Question
from sennight.domain.remedies.remedies import Remedy
from sennight.practice.drafts import DraftKey
from sennight.practice.opening import OpenPractice

FAR_MORE = 1000
"""The table’s share of the height, so that what is free beneath it has only what it leaves."""


class LinesEditor(QWidget):
    """Phases and lines of a session's course; `asked` carries each edit wanted.

    `message_label` says what is typed, or why something could not be done; a page may
    have it in a place of its own.
    """

    asked = Signal(object)

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.model = LinesModel(session, self)
        self.bar = PhaseBar(session, theme)
        self.table = LinesView(self.model, theme)
        self.message_label = text_label("", Role.QUIET, wrap=True)
        layout = self._layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(self.bar)
        layout.addWidget(self.table, 1)
        self.holds_label: QLabel = Shortened("", Role.QUIET)
        layout.addWidget(self.holds_label)
        layout.addWidget(self.message_label)
        self.questions = QuestionBar()
        layout.addWidget(self.questions)
        self.typed = TypedLines(self.bar, self.table)
        self.draft: DraftKeeper | None = None
        self.draft_note: DraftNote | None = None
        self.again = button(translate("LinesEditor", "Try again"), kind="link")
        self._repeat: Callable[[], object] | None = None
        self.again.clicked.connect(self._try_again)
        layout.addWidget(self.again)
        self.message_label.hide()
        self.again.hide()
        self._connect()
        self._show_held()

    def keep_together(self) -> None:
        """Let what the phase holds stand whole beneath its last line, and leave the rest free."""
        whole = text_label("", Role.QUIET, wrap=True)
        self._layout.replaceWidget(self.holds_label, whole)
        self.holds_label.hide()
        self.holds_label.deleteLater()
        self.holds_label = whole
        self.table.is_as_high_as_rows = True
        self._layout.addStretch(1)
        self._layout.setStretchFactor(self.table, FAR_MORE)
        self._show_held()

    def wanted_height(self) -> int:
        """In how much height every line of the phase is seen with all its words."""
        return self._height_for(self.table.rows_height(is_tight=False))

    def tight_height(self) -> int:
        """In how much height every line of the phase is seen, its plain words cut to a line."""
        return self._height_for(self.table.rows_height(is_tight=True))

    def _height_for(self, rows: int) -> int:
        beneath = (self.holds_label, self.questions, self.again, self.draft_note)
        shown = (part for part in beneath if part is not None and not part.isHidden())
        extra = sum(part.sizeHint().height() for part in shown)
        heads = self.bar.sizeHint().height() + self.table.horizontalHeader().sizeHint().height()
        return heads + rows + extra + self._theme.unit * 2

    def _show_held(self) -> None:
        """What the phase holds beside its lines, on one line that is whole in its tip."""
        session = self.model.session
        course, phase = session.course, replace(session.phase, lines=())
        names = {remedy.id: remedy.name for remedy in course.remedies}
        held = phase_remarks(phase, names, course.client.day)
        ceilings = (ceiling_words(ceiling, names) for ceiling in course.protocol.ceilings)
        words = " ".join((*held, *ceilings))
        self.holds_label.setText(words)
        self.holds_label.setVisible(bool(words))

    def _connect(self) -> None:
        self.bar.asked.connect(self.asked)
        self.model.asked.connect(self.asked)
        self.bar.refused.connect(self.refuse)
        self.model.refused.connect(self.refuse)
        self.bar.add_line.clicked.connect(self.table.begin_line)
        self.bar.more_wanted.connect(self.open_line)
        self.table.delegate.explained.connect(self._explain)
        self.table.delegate.asked.connect(self._asked)
        self.table.selectionModel().currentChanged.connect(self._cell_changed)
        self.questions.chosen.connect(self._chosen)
        self.model.session.changed.connect(self._say_nothing)
        self.model.session.changed.connect(self._show_held)
        self.model.session.changed.connect(self._drafts_changed)
        self.model.session.phase_changed.connect(self._show_held)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self._theme = theme
        self.bar.apply_theme(theme)
        self.table.apply_theme(theme)

    def keep_clear(self, edge: int) -> None:
        """Leave so many pixels free at the right, where something else begins."""
        self._layout.setContentsMargins(0, 0, edge, 0)

    def _cell_changed(self) -> None:
        self._asked(None)

    def _asked(self, question: Question | None) -> None:
        """Show what could be meant: of what is being typed, else of the draft in hand."""
        at = self.table.currentIndex()
        drafted = self.model.question(at.row(), at.column()) if at.isValid() else None
        self.questions.ask(question or drafted)

    def _chosen(self, choice: str) -> None:
        """Write what was meant into the field, or into the draft where none is open."""
        field = QApplication.focusWidget()
        if self.table.is_typing and isinstance(field, DirectionsEdit):
            field.choose(choice)
            return
        at = self.table.currentIndex()
        question = self.model.question(at.row(), at.column()) if at.isValid() else None
        if question is not None:
            draft = self.model.text(at.row(), at.column())
            meant = f"{draft[: question.start]}{choice}{draft[question.end :]}"
            self.model.setData(at, meant)
            self._asked(None)

    def open_line(self) -> None:
        """Ask for what the line in hand says beside its directions."""
        row = self.table.currentIndex().row()
        if not 0 <= row < len(self.model.lines):
            self.refuse(translate("LinesEditor", "Select a line first."))
            return
        line = self.model.lines[row]
        dialog = LineDialog(self.model.session, self._theme, line, self.window())
        session = self.model.session
        session.keep_draft(dialog, f"line/{session.phase_id}/{line.remedy}")
        if dialog.exec() and dialog.line != line:
            self.model.replace_line(line, dialog.line)
        dialog.deleteLater()

    # What is typed, kept on disk

    def keep_drafts(self, practice: OpenPractice, key: DraftKey, about: str) -> None:
        """Keep what is typed into the lines of another course; bring back what was not taken."""
        if self.draft is None or self.draft_note is None:
            self.draft = DraftKeeper(self, practice, lambda: {"lines": self.typed})
            self.draft_note = DraftNote(self.draft)
            self._layout.addWidget(self.draft_note)
        self.model.put_drafts({})
        self.draft_note.hide()
        title = translate("LinesEditor", "Lines – {about}").format(about=about)
        self.draft.begin(key, title)

    def hideEvent(self, event: QHideEvent) -> None:
        """Going out of view ends what is typed; what could not be taken is kept then."""
        super().hideEvent(event)
        QTimer.singleShot(0, self, self.keep_typed)

    def keep_typed(self) -> None:
        """Keep at once what is typed and not taken."""
        if self.draft is not None:
            self.draft.keep()

    def _drafts_changed(self) -> None:
        """Once all of it is taken, there is nothing back any more."""
        if self.draft_note is not None and not self.model.drafts:
            self.draft_note.hide()

    def set_shelf(self, remedies: tuple[Remedy, ...]) -> None:
        """The remedies on the shelf, which a line can take beside the course's own."""
        self.model.shelf = remedies

    def _say_nothing(self) -> None:
        self._repeat = None
        self.again.hide()
        self._explain("", wrong=False)

    def refuse(self, text: str) -> None:
        """Say why something could not be done."""
        self._explain(f"{text[:1].upper()}{text[1:]}", wrong=True)

    def offer_again(self, repeat: Callable[[], object]) -> None:
        """Offer to do again what could not be saved, beneath why it could not."""
        self._repeat = repeat
        self.again.show()

    def _try_again(self) -> None:
        repeat, self._repeat = self._repeat, None
        self.again.hide()
        if repeat is not None:
            repeat()

    def _explain(self, text: str, wrong: bool) -> None:  # noqa: FBT001 - a signal takes no names
        self.message_label.setText(text)
        self.message_label.setVisible(bool(text))
        role = "alarm" if wrong else "quiet"
        if self.message_label.property("role") != role:
            self.message_label.setProperty("role", role)
            restyle(self.message_label)
