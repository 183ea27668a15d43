"""Dialogs: a heading, what is asked, and two buttons."""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import QEvent, QObject, QSize, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QBoxLayout,
    QDialog,
    QHBoxLayout,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.kit.draft_note import DraftNote
from sennight.desktop.kit.drafts import DraftKeeper, Fields, by_name
from sennight.desktop.kit.forms import FieldForm, PairedForm
from sennight.desktop.kit.room import (
    FILLS_ROOM,
    fills_room,
    hold_to_width,
    in_halves,
    lacking_height,
    room_on,
    takes_any_room,
)
from sennight.desktop.kit.short_dialogs import confirm, name_window
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import (
    button,
    hairline,
    pressed_by_enter,
    restyle,
    tab_stops,
    text_label,
)
from sennight.practice.drafts import DraftKey
from sennight.practice.opening import OpenPractice

COLUMN, TWO_COLUMNS = 40, 84
"""Letters across in a dialog that is part of a page, where it is narrow and where it is wide."""

AROUND_FIELDS = 9
"""Lines of text that the heading, the sentence and the buttons take."""

LEAST_FOR_TWO = 50
"""Letters across from which on two fields fit side by side."""

LEAST_BESIDE = 60
"""Letters across from which on a sentence stands beside the buttons of a part of a page."""

FEW_LINES = 30
"""A screen of fewer lines of text is low, and a dialog has to save every line it can."""


class FormDialog(QDialog):
    """A dialog whose body scrolls where the screen is too small for it.

    What stands in `foot` stays in view beneath it. Escape leaves; where something was changed,
    it asks first, so that nothing typed is lost. `be_part` makes it a part of a page instead.
    """

    def __init__(self, parent: QWidget | None, title: str, *, do: str) -> None:
        super().__init__(parent)
        self.draft: DraftKeeper | None = None
        self.is_saved_later = False
        self.is_part = self._is_low = False
        name_window(self, title)
        self.heading = text_label(title, Role.TITLE, wrap=True)
        self.main_button = button(do, kind="main")
        self.main_button.setDefault(True)
        self.leave_button = button(self.tr("Cancel"))
        self.aside_label = text_label("", Role.QUIET, wrap=True)
        self._foot = QWidget()
        self.foot = QVBoxLayout(self._foot)
        self.foot.setContentsMargins(0, 0, 0, 0)
        self._body = QScrollArea()
        self._body.setWidgetResizable(True)
        self._body.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._body.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._body.setMinimumHeight(self.fontMetrics().height())  # Qt asks for room for its bar
        self.main_button.clicked.connect(self.submit)
        self.leave_button.clicked.connect(self.reject)
        self._lay_out()

    def _lay_out(self) -> None:
        gap = self.fontMetrics().height()
        self._margin = gap * 2
        layout = self._layout = QVBoxLayout(self)
        layout.setContentsMargins(self._margin, gap * 3 // 2, self._margin, gap * 3 // 2)
        layout.setSpacing(gap)
        self._title_row = QHBoxLayout()
        self._title_row.addWidget(self.heading, 1)
        layout.addLayout(self._title_row)
        layout.addWidget(self._body, 1)
        layout.addWidget(self._foot)
        self._line = hairline()
        layout.addWidget(self._line)
        self._button_row = self._buttons()
        layout.addLayout(self._button_row)

    def _buttons(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.addWidget(self.aside_label, 1)
        row.addStretch()  # for where it stands elsewhere
        row.addWidget(self.leave_button)
        row.addWidget(self.main_button)
        return row

    def be_part(self) -> None:
        """Be a part of a page, which has less room than a window of its own, and has no title.

        It is left as a dialog is, `finished` tells when, and whoever put it there takes it away.
        """
        self.is_part = True
        self.setAttribute(Qt.WidgetAttribute.WA_Moved)  # else Qt puts it where a dialog goes
        gap = self.fontMetrics().height()
        self._margin = gap // 2
        self._layout.setContentsMargins(self._margin, 0, self._margin, 0)
        self._layout.setSpacing(gap // 2)
        self._line.hide()
        self.heading.setProperty("role", Role.HEADING.name.lower())
        restyle(self.heading)
        self.setMinimumHeight(1)  # what scrolls gives way, so that the window need not grow

    def set_low(self, *, is_low: bool) -> None:
        """Where height is short, what stands in the foot goes beside the buttons.

        What stood there, `aside_label`, goes beside the heading.
        """
        if is_low == self._is_low:
            return
        self._is_low = is_low
        self.heading.setWordWrap(not is_low)
        ways = Qt.AlignmentFlag
        self.aside_label.setAlignment(ways.AlignRight if is_low else ways.AlignLeft)
        self._title_row.setStretchFactor(self.heading, int(not is_low))
        if is_low:
            self._title_row.addWidget(self.aside_label, 1)
            self._button_row.insertWidget(0, self._foot, 1)
        else:
            self._button_row.insertWidget(0, self.aside_label, 1)
            self._layout.insertWidget(self._layout.indexOf(self._body) + 1, self._foot)
        self._place_aside()

    def _place_aside(self) -> None:
        """In a narrow part of a page a line of its own, where it does not wrap beside buttons."""
        if self._is_low or not self.is_part:
            return
        is_beneath = self._layout.indexOf(self.aside_label) >= 0
        is_narrow = self.width() < self._width(LEAST_BESIDE)
        if is_narrow and not is_beneath:
            self._layout.insertWidget(self._layout.indexOf(self._line), self.aside_label)
        elif is_beneath and not is_narrow:
            self._button_row.insertWidget(0, self.aside_label, 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """See where there is room for what stands beside the buttons."""
        super().resizeEvent(event)
        self._place_aside()

    def save_height(self) -> None:
        """On a low screen have small gaps, no heading and what is in the foot beside the buttons.

        The window’s title says the same as the heading. To be called before `set_body`.
        """
        if not self._is_screen_low():
            return
        self.set_low(is_low=True)
        self.heading.hide()
        self.aside_label.hide()
        self._have_small_gaps()
        at_corner = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignBottom
        for press in (self.leave_button, self.main_button):
            self._button_row.setAlignment(press, at_corner)

    def _is_screen_low(self) -> bool:
        return self._room().height() < self.fontMetrics().height() * FEW_LINES

    def _have_small_gaps(self) -> None:
        gap = self.fontMetrics().height()
        self._margin = gap
        self._layout.setContentsMargins(gap, gap // 2, gap, gap // 2)
        self._layout.setSpacing(gap // 2)

    def _save_room(self) -> None:
        """Where the body would scroll, have small gaps first, then on a low screen no heading.

        A list of the body that scrolls in what room there is has more of it then.
        """
        has_list = self._is_screen_low() and fills_room(self._body)
        if self.is_part or self._is_low or not (has_list or self._lacks_height()):
            return
        self._have_small_gaps()
        self.fit()
        if has_list or (self._is_screen_low() and self._lacks_height()):
            self.heading.hide()
            self.fit()
        self.fit()  # once more: without its scroll bar the body is wider, and perhaps lower

    def pair_fields(self, form: PairedForm, size: QSize) -> bool:
        """Let fields stand by twos where a part of a page is too low for them; whether they do."""
        is_low = form.height_in_one() > size.height() - self.fontMetrics().height() * AROUND_FIELDS
        has_two = self.is_part and is_low and size.width() >= self._width(LEAST_FOR_TWO)
        form.set_columns(2 if has_two else 1)
        self.set_low(is_low=has_two)
        return has_two

    def width_in(self, height: int) -> int:
        """How wide a part of a page has to be to be seen whole where it is so high.

        It is as wide as its fields need, or has room for two columns.
        """
        body = self._body.widget()
        if body is None:
            return self.minimumSizeHint().width()
        bar = self._body.verticalScrollBar().sizeHint().width()
        around = 2 * self._margin + bar
        narrow = max(body.minimumSizeHint().width() + around, self._width(COLUMN))
        foot = max(self._foot.heightForWidth(narrow), self._foot.sizeHint().height())
        self.aside_label.ensurePolished()
        rest = (self.heading, self.leave_button, self.aside_label)
        other = foot + sum(part.sizeHint().height() + self._layout.spacing() for part in rest)
        inner = narrow - around
        wanted = body.heightForWidth(inner) if body.hasHeightForWidth() else 0
        fits = max(wanted, body.sizeHint().height()) + other + self._layout.spacing() * 2 <= height
        return narrow if fits else max(narrow, self._width(TWO_COLUMNS))

    def set_body(self, body: QWidget, *, columns: int, lines: int) -> None:
        """What is asked; the dialog is sized for so many columns of text, and as high as the body.

        Where a list or a text is to have what room there is, it is `lines` of text high. It is
        wider where the body needs more, and takes at most what `room_on` gives it.
        """
        self._body.setWidget(body)
        body.installEventFilter(self)
        for view in body.findChildren(QAbstractItemView):
            if not view.property(FILLS_ROOM):
                view.setSizeAdjustPolicy(QAbstractItemView.SizeAdjustPolicy.AdjustToContents)
        height = self.fontMetrics().lineSpacing() * lines
        bar = self._body.verticalScrollBar().sizeHint().width()
        around = 2 * self._margin + bar
        width = max(self._width(columns), body.minimumSizeHint().width() + around)
        self.resize(min(width, self._room().width()), min(height, self._room().height()))

    def direction(self, columns: int) -> QBoxLayout.Direction:
        """How two halves go: side by side where the screen has so many columns of text."""
        fits = self._width(columns) <= self._room().width()
        ways = QBoxLayout.Direction
        return ways.LeftToRight if fits else ways.TopToBottom

    def halves(
        self, left: QWidget, right: QWidget, *, columns: int, shares: tuple[int, int] = (1, 1)
    ) -> QWidget:
        """Two halves of a body, side by side where the screen has so many columns of text."""
        gap = self.fontMetrics().height() * 2
        return in_halves(self.direction(columns), gap, ((left, shares[0]), (right, shares[1])))

    def _width(self, columns: float) -> int:
        return round(self.fontMetrics().horizontalAdvance("n") * columns)

    def _room(self) -> QSize:
        return room_on(self.screen().availableGeometry().size())

    def showEvent(self, event: QShowEvent) -> None:
        """Let Tab go through the body, the foot and then the buttons."""
        super().showEvent(event)
        self._foot.setVisible(self.foot.count() > 0)
        if self.is_part:
            self.setAttribute(Qt.WidgetAttribute.WA_Moved)  # which showing takes off
        parts = (*tab_stops(self._body), *tab_stops(self._foot))
        for before, after in pairwise((*parts, self.leave_button, self.main_button)):
            self.setTabOrder(before, after)
        self.fit()
        self._save_room()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses the button that the keyboard is on, else the main one.

        With Ctrl it presses the main one from anywhere, also where Enter begins a line.
        """
        with_ctrl = event.modifiers() & Qt.KeyboardModifier.ControlModifier
        if with_ctrl and event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.main_button.click()
        elif not pressed_by_enter(event, self.focusWidget()):
            super().keyPressEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A body that has become higher, as by what is wrong with a field, asks for more room."""
        if watched is self._body.widget():
            if event.type() == QEvent.Type.LayoutRequest:
                QTimer.singleShot(0, self, self.grow)
            elif event.type() == QEvent.Type.Resize:
                hold_to_width(self._body)
        return super().eventFilter(watched, event)

    def fit(self) -> None:
        """Be as high as the body, as far as the screen has room; what takes any room has it."""
        body = self._body.widget()
        self._be_higher(or_lower=body is not None and not takes_any_room(body))

    def grow(self) -> None:
        """Be as high as the body now wants to be, as far as the screen has room."""
        self._be_higher(or_lower=False)

    def _be_higher(self, *, or_lower: bool) -> None:
        body = self._body.widget()
        if body is None or not self.isVisible():
            return
        self._layout.activate()
        hold_to_width(self._body)
        if self.is_part:
            return
        more = lacking_height(self._body, or_lower=or_lower)
        if more > 0 or (more < 0 and or_lower):
            self.resize(self.width(), min(self.height() + more, self._room().height()))

    def _lacks_height(self) -> bool:
        """Whether the body has to scroll though the dialog is as high as it may be."""
        self._layout.activate()
        return lacking_height(self._body, or_lower=False) > 0

    # What is typed, kept on disk

    def draft_fields(self) -> Fields:
        """The fields whose content is kept, by their names: those of the dialog's forms."""
        forms = (form for form in self.findChildren(FieldForm) if dialog_of(form) is self)
        return by_name((row.name, row.field) for form in forms for row in form.rows)

    def keep_draft(
        self,
        practice: OpenPractice,
        kind: str,
        subject: str = "",
        *,
        about: str = "",
        bring_back: bool = True,
    ) -> None:
        """Keep what is typed from now on, and bring back what was not saved.

        `kind` is a word of the dialog's own, `subject` the id of the record that it is about,
        and `about` its name where the dialog's title does not have it. A dialog that is opened
        with an answer already in it brings nothing back.
        """
        self.draft = DraftKeeper(self, practice, self.draft_fields)
        self._layout.insertWidget(1, DraftNote(self.draft))
        title = f"{self.accessibleName()} – {about}" if about else self.accessibleName()
        self.draft.begin(DraftKey(kind, subject), title, bring_back=bring_back)

    def keep_draft_within(self, part: QWidget, kind: str) -> None:
        """The same for a dialog that a part of another one opens, if that keeps what is typed."""
        outer = dialog_of(part)
        if outer is not None and outer.draft is not None:
            key = outer.draft.key
            self.keep_draft(outer.draft.practice, f"{key.kind}/{kind}", key.subject)

    def forget_draft(self) -> None:
        """What was typed is saved, or given up."""
        if self.draft is not None:
            self.draft.forget()

    # Leaving

    def submit(self) -> None:
        """Do what the main button says; a dialog that checks its fields does so here."""
        self.accept()

    def accept(self) -> None:
        """Leave with what was asked for; what is saved only then stays a draft until it is."""
        if not self.is_saved_later:
            self.forget_draft()
        super().accept()

    def is_changed(self) -> bool:
        """Whether something was typed that leaving would lose."""
        return False

    def reject(self) -> None:
        """Leave, after asking where something would be lost."""
        if not self.is_changed() or confirm(
            self,
            self.tr("Close without saving?"),
            self.tr("What you typed here is not saved yet."),
            do=self.tr("Close"),
            stay=self.tr("Keep editing"),
        ):
            self.forget_draft()
            super().reject()


def dialog_of(part: QWidget) -> FormDialog | None:
    """The dialog that a part stands in, be it a window or part of a page; None where none is."""
    within: QWidget | None = part
    while within is not None and not isinstance(within, FormDialog):
        within = None if within.isWindow() else within.parentWidget()
    return within
