"""The flare-up plans: when to start one, what is taken then, and what becomes of the rest."""

from __future__ import annotations

from collections.abc import Iterator

from sennight.domain.courses.ceilings import within_ceilings
from sennight.domain.courses.phase_words import advice_words, line_remarks, trigger_words
from sennight.domain.courses.protocols import Line, Phase, Step
from sennight.domain.dates import CalendarUnit
from sennight.domain.directions.directions import Directions
from sennight.domain.directions.plain_words import listed, plain_length
from sennight.domain.take_home.document import Block, Bullets, Entry, Sentence, Tone
from sennight.domain.take_home.entries import Piece, described
from sennight.domain.take_home.facts import TakeHomeFacts
from sennight.domain.take_home.names import plan_name

_CALL = "If your symptoms flare up, call us on the day it starts."
BESIDE = "As well as your remedies:"


def flare_plans(facts: TakeHomeFacts) -> tuple[Block, ...]:
    """Each plan with its trigger, its remedies, and the dates that it has already."""
    told = {remedy.id for remedy in facts.usual}
    return tuple(block for plan in facts.plans for block in _plan(facts, plan, told))


def _plan(facts: TakeHomeFacts, plan: Phase, told: set[str]) -> Iterator[Block]:
    """One plan; what is `told` of a remedy already is not told again."""
    lines = [line for line in plan.lines if facts.may_take_in_flare(line.remedy)]
    gone = [line.remedy for line in plan.lines if line not in lines]
    yield Entry(plan_name(plan.id), tuple(_rules(facts, plan, lines)))
    for line in lines:
        taking: Iterator[Piece] = _line(facts, plan, line)
        if line.remedy not in told:
            remedy = facts.layout.course.remedy(line.remedy)
            taking = described(facts, remedy, taking, [])
            told.add(line.remedy)
        yield Entry(facts.mark(line.remedy), tuple(taking))
    if lines and plan.advice:
        day = facts.layout.course.client.day
        yield Bullets(tuple(advice_words(advice, day) for advice in plan.advice), BESIDE)
    if gone:
        names = listed([facts.layout.course.remedy(remedy).name for remedy in gone])
        pronoun = "them" if len(gone) > 1 else "it"
        words = f"Stopped: {names}. Do not use {pronoun} in a flare-up either."
        yield Sentence(words, Tone.STRONG)


def may_begin(facts: TakeHomeFacts, plan: Phase) -> bool:
    """Whether anything of a plan is left to take."""
    return any(facts.may_take_in_flare(line.remedy) for line in plan.lines)


def _rules(facts: TakeHomeFacts, plan: Phase, lines: list[Line]) -> Iterator[Sentence]:
    """The days that are agreed already with what becomes of the rest, then when to begin it."""
    dated = [
        facts.saying.days(run.span)
        for run in facts.layout.flares
        if run.phase.id == plan.id and run.span.touches(facts.window)
    ]
    for days in dated:
        yield Sentence(f"This plan runs from {days}.", Tone.STRONG)
    if not lines:
        yield Sentence(f"{_CALL} There is nothing to take from this plan now.")
        return
    rest = _rest(facts, plan)
    if dated:
        yield Sentence(rest)
    length = f" for {plain_length(plan.length)}" if plan.length else ""
    take = f"Then take these{length}."
    if plan.trigger:
        begin = trigger_words(plan.trigger, "Later, start it again" if dated else "Start")
        yield Sentence(begin, Tone.PLAIN if dated else Tone.STRONG)
        yield Sentence(f"Call us on that day. {take}{'' if dated else f' {rest}'}")
    elif dated:
        yield Sentence(f"If your symptoms flare up again later, call us on that day. {take}")
    else:
        yield Sentence(f"{_CALL} {take} {rest}")


def _rest(facts: TakeHomeFacts, plan: Phase) -> str:
    """What becomes of the usual remedies meanwhile."""
    if plan.stand_in:
        # Said of herbs alone: “nothing else” could be read as if medicines were to rest too.
        return (
            "Stop your other herbal remedies on those days. Go on with the medicines that your "
            "doctor prescribed."
        )
    usual = {
        line.remedy for phase in facts.layout.course.protocol.sequence for line in phase.lines
    }
    own = [line.remedy for line in plan.lines if line.remedy in usual]
    if not own:
        return "Carry on with your usual plan as well."
    names = listed([facts.layout.course.remedy(remedy).name for remedy in own])
    return f"For {names}, follow this plan only. Carry on with the rest of your usual plan."


def _line(facts: TakeHomeFacts, plan: Phase, line: Line) -> Iterator[Sentence]:
    course = facts.layout.course
    remedy, saying = course.remedy(line.remedy), facts.saying

    def said(directions: Directions) -> str:
        day = course.client.day
        allowed = within_ceilings(course.protocol, line.remedy, directions, day)
        return saying.taking(allowed, remedy)

    yield Sentence(said(line.directions))
    for step in line.steps:
        if is_reached(plan, step):
            yield Sentence(f"After {plain_length(step.after)}: {said(step.directions)}")
    for remark in line_remarks(line, remedy.form):
        yield Sentence(remark)
    stopped = facts.stopped(line.remedy)
    if stopped is not None:
        yield Sentence(f"Stop on {saying.day(stopped)}: take none from then on.", Tone.STRONG)


def is_reached(plan: Phase, step: Step) -> bool:
    """Whether the plan is long enough for a step to come; in one of months it always is told."""
    if plan.length is None or plan.length.unit is CalendarUnit.MONTHS:
        return True
    days = plan.length.count * (7 if plan.length.unit is CalendarUnit.WEEKS else 1)
    return step.after_days < days
