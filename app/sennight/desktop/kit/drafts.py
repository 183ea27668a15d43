"""What is typed into a form is kept on disk until it is saved or given up.

A form is asked every second for what its fields hold, rather than told of each key: so a field
that is added tomorrow cannot forget to tell. A dialog opts in with `keep_draft`, a page with a
`DraftKeeper` of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from typing import Protocol, runtime_checkable

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QWidget,
)

from sennight.practice.drafts import (
    Draft,
    DraftKey,
    Json,
    Typed,
    draft_of,
    drop_draft,
    keep_draft,
    typed_in,
)
from sennight.practice.opening import OpenPractice, PracticeFileError

EVERY = 1000
"""Milliseconds after which a form is asked again for what was typed."""

AFTER_TROUBLE = 20_000
"""The same, while it cannot be kept: a file that another program holds makes each try wait."""


@runtime_checkable
class DraftField(Protocol):
    """A field of several parts that says itself what was typed into it."""

    def draft_value(self) -> Json:
        """What it holds, typed or chosen, also what is half typed."""

    def put_draft_value(self, value: Json) -> None:
        """Hold that again; a value that an older version wrote otherwise is left out."""


@contextmanager
def leaving_out_what_cannot_be_read() -> Iterator[None]:
    """Put back what can be read of a field of several parts; the rest was written otherwise."""
    with suppress(ValueError, LookupError, TypeError, ArithmeticError):
        yield


def as_object(value: Json) -> dict[str, Json]:
    """An object of JSON; raises TypeError for anything else."""
    if not isinstance(value, dict):
        raise TypeError("not an object")
    return value


def as_list(value: Json) -> list[Json]:
    """A list of JSON; raises TypeError for anything else."""
    if not isinstance(value, list):
        raise TypeError("not a list")
    return value


Fields = Mapping[str, object]
"""Fields by their names: Qt's own that are typed into, ticked or chosen from, and DraftFields."""

ALIKE = " #"
"""Stands before the number of a field where several have one name."""


def can_be_kept(field: object) -> bool:
    """Whether a field holds something that is typed, ticked or chosen."""
    if isinstance(field, QAbstractButton):
        return field.isCheckable()
    return isinstance(field, QLineEdit | QPlainTextEdit | QComboBox | DraftField)


def by_name(fields: Iterable[tuple[str, object]]) -> Fields:
    """Those of some named fields that can be kept; of alike names the later ones are numbered."""
    kept: dict[str, object] = {}
    for name, field in fields:
        if can_be_kept(field):
            alike = sum(taken.partition(ALIKE)[0] == name for taken in kept)
            kept[f"{name}{ALIKE}{alike + 1}" if alike else name] = field
    return kept


def value_of(field: object) -> Json:
    """What a field holds; raises TypeError for one that cannot be kept."""
    match field:
        case DraftField():
            return field.draft_value()
        case QLineEdit():
            return field.text()
        case QPlainTextEdit():
            return field.toPlainText()
        case QComboBox():
            return field.currentText()
        case QAbstractButton() if field.isCheckable():
            return field.isChecked()
        case _:
            raise TypeError(f"a {type(field).__name__} cannot be kept as a draft")


def put_value(field: object, value: Json) -> None:
    """Let a field hold a value again, as if it were typed now."""
    match field, value:
        case DraftField(), _:
            field.put_draft_value(value)
        case QLineEdit(), str(text):
            field.setText(text)
            field.textEdited.emit(text)
        case QPlainTextEdit(), str(text):
            field.setPlainText(text)
        case QComboBox(), str(text) if field.findText(text) >= 0:
            field.setCurrentIndex(field.findText(text))
        case QAbstractButton(), bool(on) if field.isCheckable():
            field.setChecked(on)
        case _:  # a choice that is there no more, or another kind of field than it was
            pass


class DraftKeeper(QObject):
    """Keeps what is typed into the fields of a form that is in view.

    A dialog has one record all its life, a page one after the other. `brought_back` has the
    draft that `begin` found, and the names of the fields that showed something else when it was
    typed. `refused` says why it cannot be kept, empty once it can.
    """

    brought_back = Signal(object, object)
    refused = Signal(str)

    def __init__(
        self, form: QWidget, practice: OpenPractice, fields: Callable[[], Fields]
    ) -> None:
        super().__init__(form)
        self._form, self.practice, self._fields = form, practice, fields
        self.key = DraftKey("")
        self._is_on = False
        self._title, self._trouble = "", ""
        self._before: dict[str, Json] = {}
        self._kept = Typed({}, {})
        self._held: dict[DraftKey, Typed] = {}
        self._timer = QTimer(self)
        self._timer.timeout.connect(self._ask)

    def begin(
        self,
        key: DraftKey,
        title: str,
        *,
        saved: Mapping[str, Json] | None = None,
        bring_back: bool = True,
    ) -> None:
        """The form shows a record: keep what is typed from now on.

        `saved` is what its fields hold where nothing is typed, if that is not what they show.
        What was typed before and not saved is brought back, unless that is not wanted.
        """
        self.key, self._title, self._is_on = key, title, True
        self._before = self._now() if saved is None else dict(saved)
        self._kept = Typed({}, {})
        self._timer.start(EVERY)
        draft = draft_of(self.practice, key) if bring_back else None
        if draft is not None:
            self._kept = typed_in(draft)
            self._bring_back(draft, self._kept)
        elif key in self._held and bring_back:
            self._put(self._held[key].fields)

    def _bring_back(self, draft: Draft, typed: Typed) -> None:
        self._put(typed.fields)
        otherwise = [
            name
            for name, value in typed.fields.items()
            if self._before.get(name) not in (typed.before[name], value)
        ]
        self.brought_back.emit(draft, otherwise)

    def _now(self) -> dict[str, Json]:
        return {name: value_of(field) for name, field in self._fields().items()}

    def _put(self, values: Mapping[str, Json]) -> None:
        fields = self._fields()
        for name, value in values.items():
            if name in fields:
                put_value(fields[name], value)

    def _ask(self) -> None:
        if self._form.isVisible():
            self.keep()

    @property
    def is_kept(self) -> bool:
        """Whether nothing is typed that is not on the disk, of no record that was in view."""
        return not self._held and (not self._is_on or self._typed == self._kept)

    @property
    def _typed(self) -> Typed:
        return Typed.since(self._before, self._now())

    def keep(self) -> bool:
        """Keep what is typed now, or forget the draft where that is nothing; whether it was.

        What cannot be kept on disk is held as long as the form is there.
        """
        if not self._is_on:
            return True
        typed = self._typed
        if typed != self._kept:
            self._write(typed)
        return not self._trouble

    def _write(self, typed: Typed) -> None:
        try:
            if typed:
                keep_draft(self.practice, self.key, typed, title=self._title)
            else:
                drop_draft(self.practice, self.key)
        except PracticeFileError as error:
            self._held[self.key] = typed
            self._say(str(error))
        else:
            self._kept = typed
            self._held.pop(self.key, None)
            self._say("")

    def _say(self, trouble: str) -> None:
        if trouble != self._trouble:
            self._trouble = trouble
            self._timer.setInterval(AFTER_TROUBLE if trouble else EVERY)
            self.refused.emit(trouble)

    def start_afresh(self) -> None:
        """Show again what the form began with, and forget the draft."""
        self._put(self._before)
        self.forget()

    def forget(self) -> None:
        """What was typed is saved or given up: what the form shows now is where it begins."""
        if self._is_on:
            self._before = self._now()
            self._held.pop(self.key, None)
            if self._kept:
                self._write(Typed({}, {}))
                self._held.pop(self.key, None)

    def stop(self) -> None:
        """Keep what is typed and mind the form no more, since the program ends."""
        self.keep()
        self._timer.stop()
        self._is_on = False


def all_keepers() -> list[DraftKeeper]:
    """The keepers of every form of the program, those of dialogs in front among them."""
    keepers: dict[int, DraftKeeper] = {}
    for window in QApplication.topLevelWidgets():
        keepers |= {id(keeper): keeper for keeper in window.findChildren(DraftKeeper)}
    return list(keepers.values())
