"""What is said about each remedy: what it is for, how it is taken, made and used."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from sennight.domain.courses.phase_words import line_remarks
from sennight.domain.day import DAY_MINUTES
from sennight.domain.directions.plain_words import WEEKDAY_NAMES, listed
from sennight.domain.remedies.forms import is_for_skin
from sennight.domain.remedies.letters import letter_of
from sennight.domain.remedies.remedies import Remedy, TeaMaking
from sennight.domain.remedies.remedy_words import remedy_words
from sennight.domain.remedies.use_words import EXTERNAL
from sennight.domain.schedule.ways import Way
from sennight.domain.tag_words import lower_first, upper_first
from sennight.domain.take_home.document import Bullets, Entry, Sentence, Steps, Tone
from sennight.domain.take_home.facts import TakeHomeFacts
from sennight.domain.take_home.making import cups_a_day, day_of_tea, how_made, made_from

MOST_SENTENCES = 2
"""More ways than these of taking one remedy are a table."""
Piece = Sentence | Bullets | Steps


def entries(facts: TakeHomeFacts) -> tuple[Entry, ...]:
    """An entry for each remedy, in the course's order; those of flare-up plans stand there."""
    return tuple(
        Entry(facts.mark(remedy.id), tuple(_pieces(facts, remedy))) for remedy in facts.usual
    )


def _pieces(facts: TakeHomeFacts, remedy: Remedy) -> Iterator[Piece]:
    ways = [way for way in facts.ways if way.remedy == remedy.id]
    return described(facts, remedy, _taking(facts, remedy, ways), ways)


def described(
    facts: TakeHomeFacts, remedy: Remedy, taking: Iterable[Piece], ways: list[Way]
) -> Iterator[Piece]:
    """What a remedy is for, how it is taken, what to mind, how it is made and used."""
    purposes = facts.purposes.get(remedy.id, ())
    if purposes:
        yield Sentence(f"Used to {listed(purposes)}.", Tone.QUIET)
    yield from taking
    for sentence in facts.told_with(remedy.id):
        yield Sentence(f"{upper_first(sentence.says)}.", Tone.STRONG)
    yield from _making(facts, remedy, ways)


# How it is taken


def _taking(facts: TakeHomeFacts, remedy: Remedy, ways: list[Way]) -> Iterator[Piece]:
    if not ways:
        yield Sentence("Only in a flare-up.", Tone.STRONG)
        return
    if len(ways) > MOST_SENTENCES:
        rows = tuple((facts.saying.days(way.span), _way(facts, remedy, way)) for way in ways)
        yield Steps(rows)
    else:
        for way in ways:
            yield Sentence(_dated(facts, remedy, way))
    off = tuple(span for way in ways for span in way.days_off)
    if off:
        yield Sentence(f"Days off: {facts.saying.spans(off)}.", Tone.STRONG)
    yield from _stop(facts, remedy, ways)
    phases = {way.stretch.phase for way in ways}
    lines = (
        line
        for phase in facts.layout.course.protocol.phases
        for line in phase.lines
        if phase.id in phases and line.remedy == remedy.id
    )
    remarks = (remark for line in lines for remark in line_remarks(line, remedy.form))
    yield from (Sentence(remark) for remark in dict.fromkeys(remarks))


def _way(facts: TakeHomeFacts, remedy: Remedy, way: Way) -> str:
    return facts.saying.taking(way.directions, remedy, way.first_days)


def _dated(facts: TakeHomeFacts, remedy: Remedy, way: Way) -> str:
    """A way with its dates, where they are not those of the whole document."""
    words = _way(facts, remedy, way)
    if way.span == facts.window and not facts.is_over:
        return words
    return f"{facts.saying.from_to(way.span)}: {lower_first(words)}"


def _stop(facts: TakeHomeFacts, remedy: Remedy, ways: list[Way]) -> Iterator[Sentence]:
    """The day from which it is stopped, and the night that still belongs to the day before."""
    day = facts.stopped(remedy.id)
    if day is None or day not in facts.window:
        return
    words = f"Stop on {facts.saying.day(day)}: take none from then on."
    if any(minute >= DAY_MINUTES for way in ways for minute in way.stretch.times):
        words += f" The night from {_night(day)} still counts for the day before."
    yield Sentence(words, Tone.STRONG)


def _night(day: date) -> str:
    """The night that ends on a day: `Thursday to Friday`."""
    return f"{WEEKDAY_NAMES[day.weekday() - 1]} to {WEEKDAY_NAMES[day.weekday()]}"


# How it is made and used


def _making(facts: TakeHomeFacts, remedy: Remedy, ways: list[Way]) -> Iterator[Piece]:
    for first, formula in _formulas(facts, remedy):
        if first is not None:
            yield Sentence(f"From {facts.saying.day(first)} it is made differently.")
        if formula.tea is not None:
            yield Sentence(how_made(formula.form, formula.tea))
            yield from _days_of_tea(facts, formula.tea, ways)
        if first is None:
            yield from _use(facts, remedy)
        made = " ".join(made_from(formula, facts.herb_names))
        if made:
            yield Sentence(made, Tone.QUIET)


def _formulas(facts: TakeHomeFacts, remedy: Remedy) -> Iterator[tuple[date | None, Remedy]]:
    """What it is made of inside the window, and from which day on where that changes."""
    course, window = facts.layout.course, facts.window
    own = (s for s in facts.layout.stretches if s.remedy == remedy.id)
    taken = sorted((s for s in own if s.span.touches(window)), key=lambda s: s.span)
    firsts: dict[str, date | None] = {}
    for stretch in taken:
        first = stretch.span.first if firsts else None
        firsts.setdefault(stretch.formula, first)
    for formula, first in (firsts or {remedy.id: None}).items():
        yield first, course.remedy(formula)


def _days_of_tea(facts: TakeHomeFacts, tea: TeaMaking, ways: list[Way]) -> Iterator[Sentence]:
    """What a day's cups are made from, for each way that has more than one."""
    many = {cups: way for way in reversed(ways) if (cups := cups_a_day(way)) > 1}
    dated = len({cups_a_day(way) for way in ways}) > 1
    for cups, way in sorted(many.items(), key=lambda item: item[1].span):
        when = f" ({lower_first(facts.saying.from_to(way.span))})" if dated else ""
        yield Sentence(f"{day_of_tea(tea, cups)}{when}.")


def _use(facts: TakeHomeFacts, remedy: Remedy) -> Iterator[Piece]:
    """How it is used, said once for all remedies that are used alike."""
    alike = next(other for other in facts.in_order if other.form is remedy.form)
    if alike is remedy:
        items = (*remedy_words(remedy), *remedy.form.facts.use)
        if items:
            yield Bullets(items)
        return
    if not remedy.form.facts.use:
        return
    if own := remedy_words(remedy):
        yield Bullets(own)
    only = f"{EXTERNAL} " if is_for_skin(remedy.form) else ""
    mark = facts.mark(alike.id)
    yield Sentence(f"{only}How to use: see {letter_of(mark.index)}, {mark.name}.")
