"""Makes the whole neutral document: the card first, then the sheet."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from sennight.domain.courses.phase_words import advice_words, ceiling_words, trigger_words
from sennight.domain.courses.plan import PhaseRun
from sennight.domain.dates import course_week
from sennight.domain.directions.plain_words import listed, plain_date
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.advice import STOP, advice_for, get_help, see_soon
from sennight.domain.reminders.phone_steps import old_calendar, steps_on_paper
from sennight.domain.reminders.published import Published
from sennight.domain.safety.for_client import Place
from sennight.domain.schedule.day_kinds import DayKind, kind_on
from sennight.domain.schedule.ways import breaks_of
from sennight.domain.tag_words import lower_first
from sennight.domain.take_home.changes import next_change
from sennight.domain.take_home.document import (
    Block,
    Bullets,
    Entry,
    Letterhead,
    Part,
    Section,
    Sentence,
    TakeHome,
    Tone,
)
from sennight.domain.take_home.entries import entries
from sennight.domain.take_home.facts import TakeHomeFacts
from sennight.domain.take_home.flare_plans import BESIDE, flare_plans, may_begin
from sennight.domain.take_home.grids import grid_of, night_note
from sennight.domain.take_home.names import phase_name, plan_name

OVER = "This course is over. Do not take these remedies again unless we tell you to."
A_WEEK = timedelta(days=7)
MADE = "It replaces older sheets, but keep the pages that you ticked."


def take_home(facts: TakeHomeFacts) -> TakeHome:
    """The whole document; raises ValueError for a course without a day."""
    if not facts.layout.days:
        raise ValueError("the course has no day left; expected a course with a day to print")
    course = facts.layout.course
    card = (_now(facts), _dates(facts), _help(facts))
    return TakeHome(
        "Your herbal remedies",
        course.client.name,
        facts.saying.with_year(facts.window),
        f"Made on {plain_date(facts.today)}. {MADE}",
        facts.window,
        _letterhead(facts.card),
        tuple(section for section in card if section.blocks),
        tuple(section for section in _sheet(facts) if section.blocks),
    )


def _letterhead(card: PracticeCard) -> Letterhead:
    return Letterhead(card.name, card.practitioner, ", ".join(card.address), card.email)


# The card


def _running(facts: TakeHomeFacts) -> DayKind | None:
    return None if facts.is_over else kind_on(facts.kinds, facts.window.first)


def _now(facts: TakeHomeFacts) -> Section:
    """What is taken now: the running phase, or the flare-up plan while one runs."""
    kind = _running(facts)
    if kind is None:
        return Section(Part.NOW, "Your day", (Sentence(OVER, Tone.STRONG),))
    blocks = (grid_of(facts, kind), *night_note(facts), *_ceilings(facts), *_beside(facts))
    return Section(Part.NOW, _title(facts, kind), blocks)


def _ceilings(facts: TakeHomeFacts) -> Iterator[Sentence]:
    """The most doses a day of several remedies together."""
    course = facts.layout.course
    names = {remedy.id: remedy.name for remedy in facts.remedies}
    for ceiling in course.protocol.ceilings:
        if names.keys() & set(ceiling.remedies):
            yield Sentence(ceiling_words(ceiling, names), Tone.STRONG)


def _beside(facts: TakeHomeFacts) -> Iterator[Block]:
    """What is advised beside the remedies in the running phase."""
    run = facts.layout.phase_on(facts.window.first)
    if run and run.phase.advice:
        day = facts.layout.course.client.day
        yield Bullets(tuple(advice_words(advice, day) for advice in run.phase.advice), BESIDE)


def _title(facts: TakeHomeFacts, kind: DayKind) -> str:
    first = facts.window.first
    if kind.flare:
        return f"Now: {lower_first(plan_name(kind.flare))}"
    title = f"Your day from {facts.saying.day(first)}" if first > facts.today else "Your day now"
    phase = facts.layout.phase_on(first)
    return f"{title} ({phase_words(facts, phase)})" if phase else title


def phase_words(facts: TakeHomeFacts, run: PhaseRun) -> str:
    """A phase by its weeks and what it is: `weeks 1 to 12: full dose`."""
    start = facts.layout.course.start
    first, last = course_week(start, run.span.first), course_week(start, run.span.last)
    weeks = f"week {first}" if first == last else f"weeks {first} to {last}"
    return f"{weeks}: {phase_name(run.phase)}"


def _dates(facts: TakeHomeFacts) -> Section:
    """What comes next, when the bottles are empty, and the next visit."""
    return Section(Part.DATES, "What comes next", tuple(_date_blocks(facts)))


def _visit_words(facts: TakeHomeFacts, day: date) -> str:
    """When it is, or by when, where no time was agreed yet."""
    agreed = facts.appointment
    if agreed is None or agreed.day != day:
        return f"By {facts.saying.day(day)}. Call us to agree a time."
    if agreed.at is None:
        return f"On {facts.saying.day(day)}. Call us to agree a time."
    at = facts.saying.clock(agreed.at.hour * 60 + agreed.at.minute)
    return f"{facts.saying.day(day)} at {at}."


def _date_blocks(facts: TakeHomeFacts) -> Iterator[Block]:
    change = next_change(facts)
    if change:
        yield Entry("Next change", (Sentence(change),))
    breaks = breaks_of(facts.layout, facts.window)
    if breaks and not facts.is_over:
        words = f"Take no herbal remedies from your usual plan: {facts.saying.spans(breaks)}."
        yield Entry("Breaks", (Sentence(words, Tone.STRONG),))
    supply = tuple(_supply(facts))
    if supply:
        yield Entry("Supply", supply)
    if facts.next_visit:
        yield Entry("Next visit", (Sentence(_visit_words(facts, facts.next_visit)),))
    triggers = tuple(_triggers(facts))
    if triggers:
        yield Entry("Flare-up", triggers)
    stopped = tuple(_stopped_before(facts))
    if stopped:
        words = f"Do not use {listed(stopped)} any more."
        yield Entry("Stopped", (Sentence(words, Tone.STRONG),))


def _triggers(facts: TakeHomeFacts) -> Iterator[Sentence]:
    """When each flare-up plan is begun, while none runs; how is on the sheet."""
    running = _running(facts)
    for plan in facts.plans:
        if plan.trigger and not (running and running.flare) and may_begin(facts, plan):
            name = lower_first(plan_name(plan.id))
            yield Sentence(f"{trigger_words(plan.trigger)} See your {name} on the next pages.")


def _supply(facts: TakeHomeFacts) -> Iterator[Sentence]:
    """How long what the client has lasts, of what runs out before the course's end."""
    for remedy, day in facts.lasts_until.items():
        if day >= facts.window.first:
            name, last = facts.mark(remedy).name, facts.saying.day(day)
            ask = "Ask for more a week before."
            if day - A_WEEK <= facts.today:
                ask = "Ask us for more now."
            yield Sentence(f"{name} lasts until about {last}. {ask}")


def _stopped_before(facts: TakeHomeFacts) -> Iterator[str]:
    """The remedies that the client took and that are stopped by the first day."""
    taken = {s.remedy for s in facts.layout.stretches if s.span.first < facts.window.first}
    for remedy in facts.layout.course.remedies:
        if remedy.id in taken and not facts.may_take_in_flare(remedy.id):
            yield remedy.name


def _help(facts: TakeHomeFacts) -> Section:
    """When to get help, and whom to call: on the first page."""
    advice = get_help(facts.card.emergency, facts.concerns)
    urgent = (Entry(a.title, (Bullets(a.items, a.lead),)) for a in advice)
    return Section(Part.HELP, "Get help", (*urgent, *_contact(facts.card)))


def _contact(card: PracticeCard) -> Iterator[Block]:
    """How to call the practice; room to write it by hand where it is not known."""
    if card.phone:
        digits = "".join(sign for sign in card.phone if sign.isdigit() or sign == "+")
        yield Sentence(f"Call us: {card.phone}", Tone.STRONG, f"tel:{digits}")
    elif card.email:
        yield Sentence(f"Write to us: {card.email}", Tone.STRONG, f"mailto:{card.email}")
    else:
        yield Sentence("Call us: ______________________________", Tone.STRONG)


# The sheet


def _sheet(facts: TakeHomeFacts) -> Iterator[Section]:
    remedies = "What you took" if facts.is_over else "Your remedies"
    flare = Section(Part.FLARE, "If you have a flare-up", flare_plans(facts))
    if facts.in_flare:
        yield flare
    yield Section(Part.REMEDIES, remedies, entries(facts))
    title = "How your day changes" if len(facts.kinds) > 1 else "What comes after"
    yield Section(Part.DAYS, title, tuple(_other_days(facts)))
    if not facts.in_flare:
        yield flare
    yield Section(Part.ADVICE, "Important information", tuple(_advice(facts)))


def _advice(facts: TakeHomeFacts) -> Iterator[Entry]:
    """What concerns this client first, then what is told to everyone."""
    places = tuple(place for place in Place if place not in (Place.STOP, Place.COME_BACK))
    checked = (facts.checked,) if facts.checked else ()
    own = (*facts.told_apart(*places), *facts.told_apart(Place.COME_BACK), *checked)
    if own:
        yield Entry("For you", (Bullets(own),))
    forms = {remedy.form for remedy in facts.remedies}
    for advice in advice_for(forms, may_be_pregnant=facts.may_be_pregnant):
        yield Entry(advice.title, (Bullets(advice.items, advice.lead),))
        signs = (*see_soon(facts.concerns), *facts.told_apart(Place.STOP))
        more = signs if advice.title == STOP.title else ()
        if more:
            yield Entry("Signs to look out for", (Bullets(more),))
    if not facts.is_over:
        yield Entry("Reminders on your phone", (_phones(facts),))


def _phones(facts: TakeHomeFacts) -> Bullets:
    """How the calendar file comes onto each kind of phone."""
    phone = facts.phone or Published(facts.layout.course.id).phone_calendar(fresh=False)
    first = (old_calendar(phone.old),) if phone.old else ()
    return Bullets((*first, *steps_on_paper(phone.name)), "If we gave you a calendar file:")


def _other_days(facts: TakeHomeFacts) -> Iterator[Block]:
    """The days on which it is not as on the card, and what comes after the document's last."""
    running = _running(facts)
    for kind in facts.kinds:
        if kind is not running and not facts.is_over:
            yield grid_of(facts, kind)
    yield from _later_advice(facts)
    if facts.window.end < facts.layout.days.end:
        last = facts.saying.day(facts.window.last)
        yield Sentence(
            f"Your course continues after {last}. We will give you a new sheet at your visit. "
            "If you cannot come, call us."
        )


def _later_advice(facts: TakeHomeFacts) -> Iterator[Block]:
    """What is advised beside the remedies in phases that begin later in the window."""
    day = facts.layout.course.client.day
    for run in facts.layout.phases:
        if run.phase.advice and facts.window.first < run.span.first < facts.window.end:
            lead = f"From {facts.saying.day(run.span.first)}, as well as your remedies:"
            yield Bullets(tuple(advice_words(advice, day) for advice in run.phase.advice), lead)
