"""Read a sheet: photos of diary sheets, what was read drawn over them, and the unclear boxes.

M says that a box is marked, E that it is empty, S leaves it open; each goes on to the next unclear
one. Arrows and clicks take any other box in hand. Nothing goes into the diary before that is
confirmed, and then as a draft.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QWidget

from sennight.desktop.course.diary.sheet_answers import SheetAnswers, Spot
from sennight.desktop.course.diary.sheet_asking import SheetAsking
from sennight.desktop.course.diary.sheet_reader import SheetReader
from sennight.desktop.course.diary.sheet_view import SheetView
from sennight.desktop.course.diary.sheet_words import says_words, state_words, trouble_words
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.drafts import Fields
from sennight.desktop.kit.file_dialogs import ask_for_files
from sennight.desktop.kit.fitting_area import FittingArea
from sennight.desktop.kit.short_dialogs import message_dialog
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, text_label
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.follow_up.diaries import Reported
from sennight.practice.given_sheets import GivenSheets
from sennight.practice.opening import PracticeFileError
from sennight.practice.reading_diaries import SheetsRead
from sennight.practice.sheet_pages import PICTURE_SUFFIXES, BoxState, SeenPage

KeepPictures = Callable[[int, tuple[SeenPage, ...]], None]
"""Keeps the pictures of pages with a consultation."""
_KEYS = {
    Qt.Key.Key_M: BoxState.MARKED,
    Qt.Key.Key_E: BoxState.EMPTY,
    Qt.Key.Key_S: BoxState.UNCLEAR,
}
_WAYS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class SheetDialog(FormDialog):
    """The pages, the unclear boxes one after the other, and what all of it comes to."""

    def __init__(
        self,
        sheets: GivenSheets,
        names: Mapping[str, str],
        theme: Theme,
        keep_pictures: KeepPictures,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(
            parent,
            translate("SheetDialog", "Read a sheet"),
            do=translate("SheetDialog", "Enter into the diary"),
        )
        self.sheets, self.names, self._keep_pictures = sheets, names, keep_pictures
        self.answers = SheetAnswers(sheets)
        self.reader = SheetReader(self)
        self.view = SheetView(self.answers, theme)
        self.asking = SheetAsking(self.view.picture.marker)
        self.add = button(self.tr("Add photos…"))
        self.stop = button(self.tr("Stop"))
        self.progress = text_label("", Role.STRONG, wrap=True)
        self.keep = QCheckBox(self._keep_words())
        self.keep.setEnabled(sheets.consultation is not None)
        self._lay_out_body()
        self._connect()
        self._show()
        self.view.setFocus()

    def _lay_out_body(self) -> None:
        body = QWidget()
        room = QHBoxLayout(body)
        room.setContentsMargins(0, 0, 0, 0)
        room.setSpacing(self.fontMetrics().height())
        room.addWidget(self.view, 1)
        self.beside = FittingArea(self.asking)  # each half scrolls by itself, not around them
        room.addWidget(self.beside)
        line = QHBoxLayout()
        line.addWidget(self.progress, 1)
        line.addWidget(self.stop)
        line.addWidget(self.add)
        self.foot.addLayout(line)
        self.foot.addWidget(self.keep)
        self.save_height()
        self.set_body(body, columns=120, lines=40)

    def _connect(self) -> None:
        self.add.clicked.connect(self.ask_for_photos)
        self.stop.clicked.connect(self.reader.stop)
        self.reader.seen.connect(self.answers.add)
        self.reader.refused.connect(self.asking.refuse)
        self.reader.progressed.connect(self._show_progress)
        self.answers.changed.connect(self._show)
        self.answers.wanted.connect(self._read_again)
        self.view.picture.picked.connect(self.go_to)
        self.asking.said.connect(self.say)
        self.asking.turned.connect(self.turn)

    def _keep_words(self) -> str:
        entry = self.sheets.consultation
        if entry is None:
            return self.tr("Keep the pictures (once there is a consultation)")
        day = plain_date(entry.consultation.day)
        return self.tr("Keep the pictures with the consultation of {day}").format(day=day)

    # Reading

    def ask_for_photos(self) -> None:
        """Ask for photos, and read them."""
        kinds = " ".join(f"*{suffix}" for suffix in PICTURE_SUFFIXES)
        wanted = self.tr("Photos and scans ({kinds})").format(kinds=kinds)
        self.read(ask_for_files(self, self.tr("Photos of diary sheets"), wanted))

    def read(self, photos: list[Path]) -> None:
        """Read photos that were not chosen before."""
        new = [path for path in dict.fromkeys(photos) if path not in self.answers.photos]
        self.answers.photos += new
        self.reader.read(new, self.sheets.grids)

    def _read_again(self) -> None:
        self.reader.finish()
        self.view.picture.here = Spot("", 0)
        self.reader.read(self.answers.photos, self.sheets.grids)

    # Boxes

    @property
    def here(self) -> Spot | None:
        """The box in hand."""
        spot = self.view.picture.here
        return spot if spot.code in self.answers.pages else None

    def go_to(self, spot: Spot) -> None:
        """Take a box in hand."""
        self.view.go_to(spot)
        self._show()

    def say(self, state: BoxState) -> None:
        """Say what the box in hand holds, and go on to the next unclear one."""
        here = self.here
        if here is None:
            return
        was_asked = here in self.answers.to_ask()
        self.answers.say(here, state)
        if was_asked:
            self.go_on()

    def go_on(self) -> None:
        """Take the next unclear box in hand, from the first again behind the last."""
        to_ask, here = self.answers.to_ask(), self.here
        if to_ask:
            order = {spot: n for n, spot in enumerate(self.answers.spots())}
            at = order[here] if here else -1
            self.go_to(next((spot for spot in to_ask if order[spot] > at), to_ask[0]))

    def turn(self, step: int) -> None:
        """Look at another page, at its first box."""
        codes = list(self.answers.pages)
        if codes and self.here:
            at = codes.index(self.here.code) + step
            if 0 <= at < len(codes):
                self.go_to(Spot(codes[at], 0))

    def _move(self, across: int, down: int) -> None:
        """To the nearest box in a direction."""
        if (here := self.here) is None:
            return
        box, best = self.answers.box(here), list[tuple[float, int]]()
        for n, other in enumerate(self.answers.pages[here.code].boxes):
            x, y = other.x - box.x, other.y - box.y
            along = x * across + y * down
            beside = abs(x * down) + abs(y * across)
            if along > box.side / 2 and beside < along:
                best.append((along + 3 * beside, n))
        if best:
            self.go_to(Spot(here.code, min(best)[1]))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """A key for each answer, arrows from box to box, N to the next unclear one."""
        key = Qt.Key(event.key())
        if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            super().keyPressEvent(event)
        elif key in _KEYS:
            self.say(_KEYS[key])
        elif key in _WAYS:
            self._move(*_WAYS[key])
        elif key == Qt.Key.Key_N:
            self.go_on()
        elif key in {Qt.Key.Key_PageUp, Qt.Key.Key_PageDown}:
            self.turn(1 if key == Qt.Key.Key_PageDown else -1)
        else:
            super().keyPressEvent(event)

    # Showing

    def _show_progress(self) -> None:
        """Once all is read, begin with the first unclear box, unless one was answered before."""
        if not self.reader.is_reading and not self.answers.said:
            self.view.picture.here = Spot("", 0)
        self._show()

    def _show(self, *_: object) -> None:
        """Show what there is now: the page and box in hand, what is open, how far it got."""
        pages = self.answers.pages
        if self.here is None:
            if pages:
                to_ask = self.answers.to_ask()
                self.view.go_to(to_ask[0] if to_ask else Spot(next(iter(pages)), 0))
            else:
                self.view.show_page("")
        self._show_box()
        troubles = [
            f"{told.source}: {trouble_words(told.trouble)}" for told in self.answers.unread
        ]
        again = self.tr("{name}: this page was already read; where the two differ, it is unclear")
        troubles += [again.format(name=name) for name in self.answers.twice]
        self.asking.tell(troubles)
        self.beside.setVisible(bool(pages) or bool(self.asking.troubles.text()))
        self.stop.setVisible(self.reader.is_reading)
        self.add.setEnabled(bool(self.sheets.grids))
        self.progress.setText(self._progress())
        self.main_button.setEnabled(bool(pages) and not self.reader.is_reading)

    def _show_box(self) -> None:
        here, left = self.here, len(self.answers.to_ask())
        if here is None:
            self.asking.show_nothing()
            return
        box = self.answers.box(here)
        words = says_words(box.says, self.names, self.sheets.advice)
        state = state_words(self.answers.state(here))
        self.asking.show_box(self.view.picture.image, box, words, state, left)
        codes, seen = list(self.answers.pages), self.answers.pages[here.code]
        text = self.tr("Page {n} of {all}: {source}")
        place = codes.index(here.code)
        self.asking.show_page(
            text.format(n=place + 1, all=len(codes), source=seen.source), place, len(codes)
        )
        self.view.setAccessibleName(f"{words}: {state}")

    def _progress(self) -> str:
        if not self.sheets.grids:
            return self.tr(
                "No diary sheet was given for this course. Only sheets that were given under "
                "“Handout and reminders” can be read."
            )
        if self.reader.is_reading:
            text = self.tr("Reading file {n} of {all}…")
            return text.format(n=self.reader.count + 1, all=self.reader.total)
        if not self.answers.pages:
            return self.tr(
                "Add photos of the sheet: one photo per page, with all four corners in view."
            )
        return self._comes_to(self.answers.result())

    def _comes_to(self, read: SheetsRead) -> str:
        entries = len(read.taken) + len(read.followed) + len(read.scores)
        text = self.tr(
            "Entries: {n}. Left open: {open}. Days without any mark, left out: {blank}."
        )
        return text.format(n=entries, open=len(read.unclear), blank=len(read.blank))

    # Leaving

    def reported(self) -> Reported:
        """What goes into the diary: what is open and what has no mark stays out."""
        read = self.answers.result()
        return Reported(read.taken, read.followed, read.scores)

    def draft_fields(self) -> Fields:
        """The photos, what was said of boxes, and whether pictures are kept."""
        return {"sheets": self.answers, "keep": self.keep}

    def is_changed(self) -> bool:
        """Whether anything was read or said."""
        return bool(self.answers.pages or self.answers.said)

    def submit(self) -> None:
        """Keep the pictures where that is wanted, and go on to the diary."""
        if self.keep.isChecked() and self.sheets.consultation is not None:
            try:
                pages = tuple(self.answers.pages.values())
                self._keep_pictures(self.sheets.consultation.id, pages)
            except (PracticeFileError, LookupError, ValueError) as error:
                title = self.tr("The pictures could not be kept")
                message_dialog(self, title, str(error)).exec()
                return
        super().submit()

    def done(self, result: int) -> None:
        """Read no more."""
        self.reader.finish()
        super().done(result)
