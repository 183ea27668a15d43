"""The sections of the handout, each as a list of flowables."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from reportlab.platypus import Flowable, KeepTogether, PageBreak, Spacer, Table

from sennight.domain.advice import Advice, advice_for
from sennight.domain.dates import Span
from sennight.domain.day import clock
from sennight.domain.plain_words import (
    counted,
    listed,
    plain_amount,
    plain_date,
    plain_dates,
    plain_day,
    plain_days,
    plain_directions,
    plain_length,
)
from sennight.domain.practices import PracticeCard
from sennight.domain.protocols import Line, Phase
from sennight.domain.remedies import Form, Remedy
from sennight.domain.stretches import Layout, Stretch
from sennight.domain.taking import (
    DayKind,
    Stage,
    Taking,
    flare_stages,
    kinds_of_day,
    stages,
)
from sennight.publish.handout_marks import Marked
from sennight.publish.handout_remedies import holding, making
from sennight.publish.handout_sheet import phase_name, sheet
from sennight.publish.handout_style import (
    HAIRLINE,
    HAIRLINE_COLOUR,
    INK_COLOUR,
    Page,
    items,
    kept,
    rows,
    section,
    text,
)
from sennight.publish.handout_tags import decoration

VERBS = {Form.TEA: "Drink", Form.TINCTURE: "Take", Form.RUB: "Use", Form.CAPSULE: "Take"}

MOST_DAYS_OFF = 4
"""More spells off than these are left to the sheet of weeks."""


@dataclass(frozen=True, slots=True)
class Handout:
    """All that the sections are made from."""

    layout: Layout
    card: PracticeCard
    today: date
    herb_names: Mapping[str, str]
    page: Page

    @property
    def forms(self) -> frozenset[Form]:
        """The forms of the course's remedies."""
        return frozenset(remedy.form for remedy in self.layout.course.remedies)


def opening(handout: Handout) -> list[Flowable]:
    """The letterhead, the client's name and the course's dates."""
    course, card = handout.layout.course, handout.card
    letterhead = Table(
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
    found: list[Flowable] = [text(card.name, "practice")]
    if card.practitioner:
        found.append(text(card.practitioner, "quiet"))
    return found


def contact_lines(card: PracticeCard) -> tuple[str, ...]:
    """Where the practice is and how it is reached."""
    return tuple(line for line in (*card.address, card.phone, card.email) if line)


def _named(index: int, remedy: Remedy) -> Marked:
    """A remedy's mark, name and form."""
    return Marked(index, [text(remedy.name, "name"), text(remedy.form, "quiet")], remedy.form)


# What to take


def what_to_take(handout: Handout) -> list[Flowable]:
    """Each phase with its dates, and each remedy's directions in plain words."""
    found = section("What to take, and when")
    for stage in stages(handout.layout):
        found += [kept(_stage(handout, stage)), Spacer(0, 12)]
    pauses = handout.layout.pauses
    if pauses:
        spans = listed([plain_dates(span) for span in pauses])
        found.append(text(f"Pause, {spans}: take nothing from this list on those days.", "aside"))
    return found


def _stage(handout: Handout, stage: Stage) -> Table:
    """A phase as rows; its name comes again where it goes on on a further page."""
    head = [
        text(phase_name(stage.run.phase.id), "phase"),
        text(_stage_dates(stage.run.span), "quiet"),
    ]
    content = [head, *(_taking(handout, taking) for taking in stage.takings)]
    if not stage.takings:
        content.append(["", text("Nothing to take.")])
    return rows(
        handout.page,
        content,
        ("LINEABOVE", (0, 0), (-1, 0), 0.8, INK_COLOUR),
        ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
        heads=1,
    )


def _stage_dates(span: Span) -> str:
    weeks, over = divmod(span.days, 7)
    length = counted(span.days, "day") if over or not weeks else counted(weeks, "week")
    return f"{plain_dates(span)}, {length}"


def _taking(handout: Handout, taking: Taking) -> list[object]:
    course = handout.layout.course
    remedy = course.remedy(taking.remedy)
    words = [text(line) for line in _ways(handout, taking)]
    return [_named(taking.index, remedy), words]


def _ways(handout: Handout, taking: Taking) -> list[str]:
    course = handout.layout.course
    verb = VERBS[course.remedy(taking.remedy).form]
    first, *later = taking.ways
    said = [f"{verb} {plain_directions(first.directions, course.client.day)}."]
    for way in later:
        words = plain_directions(way.directions, course.client.day)
        said.append(f"From {plain_day(way.span.first)}: {words}.")
    if taking.stopped:
        said.append(f"Stop on {plain_day(taking.stopped)}: none from that day on.")
    if taking.days_off:
        said.append(_days_off(taking.days_off))
    return said


def _days_off(spans: Sequence[Span]) -> str:
    if len(spans) > MOST_DAYS_OFF:
        return f"Days off: {counted(len(spans), 'spell')}, hatched on the sheet of weeks."
    return f"Days off: {'; '.join(plain_dates(span) for span in spans)}."


# Flare-ups


def flare_plan(handout: Handout) -> list[Flowable]:
    """What to do in a flare-up, and the flare-ups that have dates already."""
    course = handout.layout.course
    plans = [phase for phase in course.protocol.phases if phase.is_rescue]
    if not plans:
        return []
    found = section("If you have a flare-up")
    for phase in plans:
        found += [text(_flare_rule(phase)), Spacer(0, 6)]
        found += [rows(handout.page, [_flare_line(handout, line) for line in phase.lines])]
        found += [Spacer(0, 8)]
    for stage in flare_stages(handout.layout):
        dates = plain_dates(stage.run.span)
        found.append(text(f"Set down for you: the flare-up plan on {dates}.", "aside"))
    return found


def _flare_rule(phase: Phase) -> str:
    tell = "Tell us on the day that it begins."
    length = f" for {plain_length(phase.length)}" if phase.length else ""
    if phase.stand_in:
        return f"{tell} Take these{length}, in place of everything above."
    return (
        f"{tell} Take these{length}. Where a remedy is in the list above too, these directions "
        "take the place of those; go on with the others."
    )


def _flare_line(handout: Handout, line: Line) -> list[object]:
    course = handout.layout.course
    remedy = course.remedy(line.remedy)
    index = course.remedies.index(remedy)
    day = course.client.day
    words = [text(f"{VERBS[remedy.form]} {plain_directions(line.take, day)}.")]
    for step in line.steps:
        after = counted(step.after_weeks, "week")
        words.append(text(f"After {after}: {plain_directions(step.take, day)}."))
    return [_named(index, remedy), words]


# The client's day


def your_day(handout: Handout) -> list[Flowable]:
    """The day with its clock times, as it is from each change on."""
    kinds = kinds_of_day(handout.layout)
    if not any(kind.plan.times or kind.plan.as_needed for kind in kinds):
        return []
    found = section("Your day")
    for kind in kinds:
        found += [kept(_day(handout, kind)), Spacer(0, 12)]
    return found


def _day(handout: Handout, kind: DayKind) -> Table:
    name = phase_name(kind.run.phase.id)
    content: list[list[object]] = [
        [text(name, "phase"), text(f"from {plain_day(kind.first)}", "quiet")]
    ]
    for at in kind.plan.times:
        when = [text(clock(at.minute), "name")]
        when += [text(at.moment, "quiet")] if at.moment else []
        content.append([when, [_dose(handout, dose.index, dose.stretch) for dose in at.doses]])
    if kind.plan.as_needed:
        said = [
            _dose(handout, one.index, one.stretch, f"at most {counted(one.ceiling, 'time')} a day")
            for one in kind.plan.as_needed
        ]
        content.append([text("When needed", "name"), said])
    return rows(
        handout.page,
        content,
        ("LINEABOVE", (0, 0), (-1, 0), 0.8, INK_COLOUR),
        ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
        heads=1,
    )


def _dose(handout: Handout, index: int, stretch: Stretch, more: str = "") -> Marked:
    remedy = handout.layout.course.remedies[index]
    said = f"{remedy.name}, {plain_amount(stretch.amount, stretch.unit)}"
    said += f", {more}" if more else ""
    rule = stretch.days
    said += f" ({plain_days(rule)})" if rule.weekdays or rule.every > 1 else ""
    return Marked(index, [text(said)])


# Making and taking


def how_to(handout: Handout) -> list[Flowable]:
    """How each remedy is made or used, and what it holds."""
    course = handout.layout.course
    content = []
    for index, remedy in enumerate(course.remedies):
        words = [*making(handout.layout, remedy), *holding(remedy, handout.herb_names)]
        content.append([_named(index, remedy), words])
    return [*section("How to make and use them"), rows(handout.page, content)]


# Advice


def please_read(handout: Handout) -> list[Flowable]:
    """When to stop and when to get help, keeping, and whom to tell."""
    content = [_advice(handout, one) for one in advice_for(handout.forms)]
    return [*section("Please read this"), rows(handout.page, content)]


def _advice(handout: Handout, advice: Advice) -> list[object]:
    del handout
    name = text(advice.title, "urgent" if advice.urgent else "name")
    if advice.urgent:
        return [name, [text(advice.items[0]), *items(advice.items[1:])]]
    return [name, items(advice.items)]


class Notes(Flowable):
    """Ruled lines down to the foot of the page, a few at least."""

    LINE = 24
    LEAST = 4

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: N803 - the library's
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
    """The sheet of weeks, on a page of its own."""
    return [
        PageBreak(),
        *section("Your weeks"),
        sheet(handout.page, handout.layout),
    ]


def contact(handout: Handout) -> list[Flowable]:
    """Whom to ask, and space for notes."""
    card = handout.card
    who = " · ".join(part for part in (card.practitioner, card.name) if part)
    lines = [text(who, "name"), *(text(line) for line in contact_lines(card))]
    return [
        KeepTogether([text("Ask us", "section"), *lines]),
        *section("Notes"),
        Notes(),
    ]
