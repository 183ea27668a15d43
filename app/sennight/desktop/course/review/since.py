"""What the client was told last, and what is otherwise since: findings, decisions."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtWidgets import QVBoxLayout, QWidget

from sennight.desktop.course.safety.rows import summary
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.courses.revision_words import revision_sentence
from sennight.domain.directions.plain_words import listed, plain_date
from sennight.domain.follow_up.consultations import Consultation
from sennight.domain.papers import PaperKind, kind_words
from sennight.practice.course_reading import CourseReading
from sennight.practice.reviewing import SinceGiven
from sennight.practice.safety import WordedFinding


class SincePanel(QWidget):
    """Paragraphs under the headings Last time and Findings now."""

    def __init__(self) -> None:
        super().__init__()
        self.told = text_label("", wrap=True)
        self.findings = text_label("", wrap=True)
        room = QVBoxLayout(self)
        room.setContentsMargins(0, 0, 0, 0)
        room.addWidget(text_label(translate("Review", "Last time"), Role.HEADING))
        room.addWidget(self.told)
        room.addWidget(text_label(translate("Review", "Findings, checked again"), Role.HEADING))
        room.addWidget(self.findings)

    def show_since(self, reading: CourseReading, since: SinceGiven) -> None:
        """Say what was given and noted last, what was decided since, and what is found now."""
        self.told.setText("\n".join(_told(reading, since)))
        self.findings.setText("\n".join(_found(reading, since)))


def _told(reading: CourseReading, since: SinceGiven) -> Iterator[str]:
    if since.on is None:
        yield translate("Review", "Nothing was given for this course yet.")
    else:
        text = translate("Review", "Given on {day}: {papers}.")
        yield text.format(day=plain_date(since.on), papers=_papers(since))
    if since.note is not None:
        yield from _note(since.note)
    for revision in since.decided:
        yield revision_sentence(revision, reading.course)


def _papers(since: SinceGiven) -> str:
    """The papers in words; where the diary sheet's boxes are is told by the sheet."""
    names = [kind_words(kind) for kind in since.papers if kind is not PaperKind.DIARY_GRID]
    return listed([f"{name[:1].lower()}{name[1:]}" for name in names])


def _note(note: Consultation) -> Iterator[str]:
    """The last consultation, what was written under each heading."""
    text = translate("Review", "Noted on {day}:")
    yield text.format(day=plain_date(note.day))
    for part in note.parts:
        yield f"{part.heading}: {part.text}" if part.heading else part.text


def _found(reading: CourseReading, since: SinceGiven) -> Iterator[str]:
    yield summary(reading.safety)
    if since.on is None:
        return
    if not since.new and not since.gone:
        yield translate("Review", "The same findings as when papers were given last.")
    for heading, lines in (
        (translate("Review", "New since then: {finding}"), since.new),
        (translate("Review", "No longer found: {finding}"), since.gone),
    ):
        yield from (heading.format(finding=_words(line)) for line in lines)


def _words(line: WordedFinding) -> str:
    return line.heading.rstrip(".") + "."
