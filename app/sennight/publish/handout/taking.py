"""The sections that say what is taken and when: phases, flare-ups, the day."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, assert_never

from reportlab.platypus import Flowable, Spacer

from sennight.domain.courses.ceilings import within_ceilings
from sennight.domain.courses.phase_words import line_remarks
from sennight.domain.courses.protocols import Line, Phase, Protocol
from sennight.domain.courses.stretches import Stretch
from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.day import clock
from sennight.domain.directions.directions import Directions
from sennight.domain.directions.plain_words import (
    counted,
    listed,
    plain_dates,
    plain_day,
    plain_days,
    plain_directions,
    plain_dose,
    plain_length,
)
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.schedule.stages import (
    DayKind,
    Taking,
    TakingStage,
    flare_stages,
    kinds_of_day,
    stages,
)
from sennight.publish.handout.input import Handout
from sennight.publish.handout.marks import Marked
from sennight.publish.handout.weeks import phase_name
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.style import INK_COLOUR, Page
from sennight.publish.pdf.tables import Ruled, kept, rows, section

MOST_DAYS_OFF = 4
"""More spells off than these are left to the sheet of weeks."""


def _verb(form: Form) -> str:
    match form:
        case Form.TEA:
            return "Drink"
        case Form.TINCTURE | Form.CAPSULE:
            return "Take"
        case Form.RUB:
            return "Use"
        case _:
            assert_never(form)


def what_to_take(handout: Handout) -> list[Flowable]:
    """Each phase with its dates, and each remedy's directions in plain words."""
    tables = [_stage(handout, stage) for stage in stages(handout.layout)]
    story = _tables(handout.page, "What to take, and when", tables)
    pauses = handout.layout.pauses
    if pauses:
        spans = listed([plain_dates(span) for span in pauses])
        story.append(text(f"Pause, {spans}: take nothing from this list on those days.", "aside"))
    return story


def _tables(page: Page, title: str, tables: Sequence[Ruled]) -> list[Flowable]:
    """A section of tables, its heading on the page of the first."""
    first, *others = tables
    story: list[Flowable] = [*section(page, title, first), first, Spacer(0, 12)]
    for table in others:
        story += [*kept(page, table), Spacer(0, 12)]
    return story


def _stage(handout: Handout, stage: TakingStage) -> Ruled:
    """A phase as rows; its name comes again where it goes on on a further page."""
    head = [
        text(phase_name(stage.run.phase.id), "phase"),
        text(_stage_dates(stage.run.span), "quiet"),
    ]
    content: list[list[Any]] = [
        head,
        *(_taking(handout, taking) for taking in stage.takings),
    ]
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
    return [named(taking.index, remedy), words]


def _ways(handout: Handout, taking: Taking) -> list[str]:
    course = handout.layout.course
    verb = _verb(course.remedy(taking.remedy).form)
    first, *later = taking.ways
    words = plain_directions(first.directions, course.client.day)
    sentences = [f"{verb} {words}."]
    joined = taking.joined
    if joined and not later:
        sentences = [
            f"From {plain_day(joined.first)} to {plain_day(joined.last)}, {verb.lower()} {words}."
        ]
    elif joined:
        last = later[0].span.first - ONE_DAY
        sentences = [
            f"From {plain_day(joined.first)} to {plain_day(last)}, {verb.lower()} {words}."
        ]
    elif later:
        last = later[0].span.first - ONE_DAY
        sentences = [f"Until {plain_day(last)}, {verb.lower()} {words}."]
    for way in later:
        words = plain_directions(way.directions, course.client.day)
        sentences.append(
            f"From {plain_day(way.span.first)}, {verb.lower()} this instead: {words}."
        )
    if taking.stopped:
        sentences.append(f"Stop on {plain_day(taking.stopped)}: none from that day on.")
    if taking.days_off:
        sentences.append(_days_off(taking.days_off))
    return sentences


def _days_off(spans: Sequence[Span]) -> str:
    return f"Days off: {_spells(spans)}."


def _spells(spans: Sequence[Span]) -> str:
    if len(spans) > MOST_DAYS_OFF:
        return f"{counted(len(spans), 'break')}, hatched on the sheet of weeks"
    return "; ".join(plain_dates(span) for span in spans)


# Flare-ups


def flare_plan(handout: Handout) -> list[Flowable]:
    """What to do in a flare-up, and the flare-ups that have dates already."""
    course = handout.layout.course
    plans = [phase for phase in course.protocol.phases if phase.is_rescue]
    if not plans:
        return []
    story = section(handout.page, "If you have a flare-up")
    for phase in plans:
        story += [text(_flare_rule(course.protocol, phase)), Spacer(0, 6)]
        story += [rows(handout.page, [_flare_line(handout, line) for line in phase.lines])]
        story += [Spacer(0, 8)]
    for stage in flare_stages(handout.layout):
        dates = plain_dates(stage.run.span)
        story.append(text(f"Your flare-up plan: {dates}.", "aside"))
    return story


def _flare_rule(protocol: Protocol, phase: Phase) -> str:
    tell = "Tell us on the day that it begins."
    length = f" for {plain_length(phase.length)}" if phase.length else ""
    if phase.stand_in:
        return f"{tell} Take these{length}, in place of everything above."
    above = {line.remedy for phase_before in protocol.sequence for line in phase_before.lines}
    if not above & {line.remedy for line in phase.lines}:
        return f"{tell} Take these{length}, and go on with everything above."
    return (
        f"{tell} Take these{length}. Where a remedy is in the list above too, these directions "
        "take the place of those; go on with the others."
    )


def _flare_line(handout: Handout, line: Line) -> list[object]:
    course = handout.layout.course
    remedy = course.remedy(line.remedy)
    index = course.remedies.index(remedy)
    day = course.client.day

    def said(directions: Directions) -> str:
        return plain_directions(
            within_ceilings(course.protocol, line.remedy, directions, day), day
        )

    words = [f"{_verb(remedy.form)} {said(line.directions)}."]
    words += [f"After {plain_length(step.after)}: {said(step.directions)}." for step in line.steps]
    words += line_remarks(line)
    return [named(index, remedy), [text(sentence) for sentence in words]]


# The client's day


def your_day(handout: Handout) -> list[Flowable]:
    """The day with its clock times, as it is from each change on."""
    kinds = kinds_of_day(handout.layout)
    if not any(kind.plan.times or kind.plan.as_needed for kind in kinds):
        return []
    return _tables(handout.page, "Your day", [_day(handout, kind) for kind in kinds])


def _day(handout: Handout, kind: DayKind) -> Ruled:
    name = phase_name(kind.run.phase.id)
    content: list[list[Any]] = [
        [text(name, "phase"), text(f"from {plain_day(kind.span.first)}", "quiet")]
    ]
    if kind.days_off:
        left_out = [_left_out(handout, index, spans) for index, spans in kind.days_off]
        content.append([text("Days off", "name"), left_out])
    for at in kind.plan.times:
        when = [text(clock(at.minute), "name")]
        when += [text(at.moment, "quiet")] if at.moment else []
        content.append([when, [_dose(handout, dose.index, dose.stretch) for dose in at.doses]])
    if kind.plan.as_needed:
        lines = [
            _dose(
                handout,
                as_needed.index,
                as_needed.stretch,
                _at_most(as_needed.ceiling),
            )
            for as_needed in kind.plan.as_needed
        ]
        content.append([text("When needed", "name"), lines])
    return rows(
        handout.page,
        content,
        ("LINEABOVE", (0, 0), (-1, 0), 0.8, INK_COLOUR),
        ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
        heads=1,
    )


def _at_most(ceiling: int) -> str:
    return f"at most {'once' if ceiling == 1 else counted(ceiling, 'time')} a day"


def _left_out(handout: Handout, index: int, spans: Sequence[Span]) -> Marked:
    name = handout.layout.course.remedies[index].name
    return Marked(index, [text(f"{name}: {_spells(spans)}")])


def _dose(handout: Handout, index: int, stretch: Stretch, more: str = "") -> Marked:
    remedy = handout.layout.course.remedies[index]
    words = f"{remedy.name}, {plain_dose(stretch.directions)}"
    words += f", {more}" if more else ""
    rule = stretch.days
    words += f" ({plain_days(rule)})" if rule.weekdays or rule.every > 1 else ""
    return Marked(index, [text(words)])


def named(index: int, remedy: Remedy) -> Marked:
    """A remedy's mark, name and form."""
    return Marked(index, [text(remedy.name, "name"), text(remedy.form, "quiet")], remedy.form)
