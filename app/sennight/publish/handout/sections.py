"""The sections of the handout around what is taken: letterhead, making, advice, weeks, notes."""

from __future__ import annotations

from reportlab.platypus import Flowable, KeepTogether, PageBreak, Spacer

from sennight.domain.directions.plain_words import (
    counted,
    plain_date,
    plain_dates,
)
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.advice import EXTERNAL, Advice, advice_for
from sennight.domain.remedies.forms import is_taken_by_mouth
from sennight.domain.remedies.letters import letter_of
from sennight.domain.remedies.remedies import Remedy
from sennight.publish.handout.input import Handout
from sennight.publish.handout.remedies import holding, making
from sennight.publish.handout.taking import named
from sennight.publish.handout.weeks import sheet
from sennight.publish.pdf.paragraphs import items, text
from sennight.publish.pdf.style import ACCENT, HAIRLINE, HAIRLINE_COLOUR, INK_COLOUR
from sennight.publish.pdf.tables import Columns, rows, section
from sennight.publish.pdf.tags import decoration


def opening(handout: Handout) -> list[Flowable]:
    """The letterhead, the client's name and the course's dates."""
    course, card = handout.layout.course, handout.card
    letterhead = Columns(
        [[_practice(card), [text(line, "contact") for line in contact_lines(card)]]],
        colWidths=[handout.page.measure * 0.55, handout.page.measure * 0.45],
        style=[
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 0),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 8),
            ("LINEBELOW", (0, 0), (-1, -1), 0.8, INK_COLOUR),
        ],
        hAlign="LEFT",
    )
    days = handout.layout.days
    length = counted(-(-days.days // 7), "week") if days.days % 7 == 0 else ""
    dates = f"{plain_dates(days)}{f', {length}' if length else ''}"
    return [
        letterhead,
        Spacer(0, 26),
        text("Your course of herbs", "quiet"),
        text(course.client.name, "title"),
        Spacer(0, 5),
        text(dates, "name"),
        text(f"Made on {plain_date(handout.today)}. This sheet replaces any older one.", "quiet"),
    ]


def _practice(card: PracticeCard) -> list[Flowable]:
    lines: list[Flowable] = [text(card.name, "practice")]
    if card.practitioner:
        lines.append(text(card.practitioner, "quiet"))
    return lines


def contact_lines(card: PracticeCard) -> tuple[str, ...]:
    """Where the practice is and how it is reached."""
    return tuple(line for line in (*card.address, card.phone, card.email) if line)


# Making and taking


def how_to(handout: Handout) -> list[Flowable]:
    """How each remedy is made or used, and what it holds."""
    content = []
    for index, remedy in handout.remedies:
        content.append([named(index, remedy), _formula_words(handout, remedy)])
    if not content:
        return []
    table = rows(handout.page, content)
    return [*section(handout.page, "How to make and use them", table), table]


def _formula_words(handout: Handout, remedy: Remedy) -> list[Flowable]:
    """How a remedy is made and what is in it; again where another formula takes its place."""
    words: list[Flowable] = []
    for first, formula in handout.formulas(remedy):
        if first is not None:
            words.append(text(f"From {plain_date(first)} it is made in another way:"))
        words += [*_use(handout, formula), *holding(formula, handout.herbs.names)]
    return words


def _use(handout: Handout, remedy: Remedy) -> list[Flowable]:
    """How it is made or used, said once for all remedies that are used alike."""
    alike = ((n, other) for n, other in handout.remedies if other.form is remedy.form)
    index, first = next(alike)
    if remedy.tea is not None or first is remedy:
        return making(handout.layout, remedy)
    only = "" if is_taken_by_mouth(remedy.form) else f"{EXTERNAL} "
    return [text(f"{only}Use it in the same way as {letter_of(index)}, {first.name}.")]


# Advice


def please_read(handout: Handout) -> list[Flowable]:
    """When to stop and when to get help, keeping, and whom to tell."""
    about = (Advice("Your remedies", handout.herbs.notes),) if handout.herbs.notes else ()
    advice = (*advice_for(handout.forms), *about)
    rules = [
        ("LINEABOVE", (0, n), (-1, n), 1.8, ACCENT)
        for n, topic in enumerate(advice)
        if topic.urgent
    ]
    table = rows(handout.page, [_advice(topic) for topic in advice], *rules)
    return [*section(handout.page, "Please read this", table), table]


def _advice(advice: Advice) -> list[object]:
    name = text(advice.title, "urgent" if advice.urgent else "name")
    if advice.urgent:
        return [name, [text(advice.items[0]), *items(advice.items[1:])]]
    return [name, items(advice.items)]


class Notes(Flowable):
    """Ruled lines down to the foot of the page, a few at least."""

    LINE = 24
    LEAST = 4

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:
        """Its size in the space at hand."""
        self.lines = max(self.LEAST, int(aH // self.LINE))
        self.width, self.height = aW, self.lines * self.LINE
        return self.width, self.height

    def draw(self) -> None:
        """Draw it."""
        with decoration(self.canv):
            self.canv.setStrokeColor(HAIRLINE_COLOUR)
            self.canv.setLineWidth(HAIRLINE)
            for n in range(self.lines):
                self.canv.line(0, n * self.LINE + 1, self.width, n * self.LINE + 1)


def weeks(handout: Handout) -> list[Flowable]:
    """The sheet of weeks, on pages of its own that can come back filled in."""
    return [
        PageBreak(),
        *section(handout.page, "Your weeks"),
        text("Tick off what you take, and bring these pages to your next visit.", "aside"),
        sheet(handout.page, handout.layout),
    ]


def contact(handout: Handout) -> list[Flowable]:
    """Whom to ask, and space for notes."""
    return [
        KeepTogether([text("Ask us", "section"), *_whom(handout)]),
        *section(handout.page, "Notes"),
        Notes(),
    ]


def _whom(handout: Handout) -> list[Flowable]:
    """The practice's card; without one, room to write by hand who it is."""
    card = handout.card
    who = " · ".join(part for part in (card.practitioner, card.name) if part)
    lines = contact_lines(card)
    if who or lines:
        return [text(who, "name"), *(text(line) for line in lines)]
    by_hand = ("Practitioner", "Telephone")
    return [rows(handout.page, [[text(label, "name"), text("")] for label in by_hand])]
