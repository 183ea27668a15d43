"""What a phase holds beside directions, in plain words for a client."""

from __future__ import annotations

from collections.abc import Mapping

from sennight.domain.courses.courses import Course
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.courses.protocols import AdviceLine, Ceiling, Line, Phase
from sennight.domain.day import ClientDay
from sennight.domain.directions.plain_words import counted, listed, plain_timing, times_over
from sennight.domain.remedies.forms import Form, is_for_skin
from sennight.domain.remedies.sites import LITTLE_GETS_THROUGH, is_deep
from sennight.domain.tag_words import lower_first

_ENDS = (".", "!", "?", "…")


def named_remarks(name: str, line: Line) -> str:
    """The same behind a remedy's name: `Knee rub: right knee only. With honey.`; or nothing."""
    about = f"{name}: {_ended(line.site)}" if line.site else ""
    note = _sentence(line.note) if about else f"{name}: {_ended(line.note)}"
    return f"{about} {note}".strip() if line.note else about


def line_remarks(line: Line, form: Form | None = None) -> tuple[str, ...]:
    """Where and how a line is used, a sentence each; none where nothing is said of it.

    Of what goes on the skin (`form`), with what is said of its place.
    """
    where = (f"Where: {_ended(line.site)}",) if line.site else ()
    if form and is_for_skin(form) and is_deep(line.site):
        where = (*where, f"{LITTLE_GETS_THROUGH}.")
    return (*where, _sentence(line.note)) if line.note else where


def advice_words(advice: AdviceLine, day: ClientDay) -> str:
    """Advice as a sentence, with when it is for: `Walk for 20 minutes: once a day, at lunch.`"""
    if advice.timing is None:
        return _sentence(advice.text)
    said = advice.text.rstrip(" .:;,")
    return f"{_sentence(said).removesuffix('.')}: {plain_timing(advice.timing, day)}."


def trigger_words(trigger: str, verb: str = "Start") -> str:
    """When a flare-up plan is started, as a sentence: `Start when the knee is hot and swollen.`"""
    words = lower_first(trigger.rstrip(" .:;,"))
    begins = words if words.startswith(("when ", "if ", "as soon as ")) else f"when {words}"
    return f"{verb} {begins}."


def phase_remarks(phase: Phase, names: Mapping[str, str], day: ClientDay) -> tuple[str, ...]:
    """All that a phase holds beside remedies and directions, a sentence each."""
    least = phase.at_least_weeks
    return (
        *((trigger_words(phase.trigger),) if phase.trigger else ()),
        *((f"At least {counted(least, 'week')}.",) if least else ()),
        *(
            remarks
            for line in phase.lines
            if (remarks := named_remarks(names.get(line.remedy, line.remedy), line))
        ),
        *(advice_words(advice, day) for advice in phase.advice),
    )


def remark_changes(before: Course, after: Course) -> tuple[str, ...]:
    """What two courses say otherwise beside remedies and directions, a sentence each."""
    was, now = _remarks(before), _remarks(after)
    gone = [f"No longer, {where}: {said}" for where, said in was if (where, said) not in now]
    new = [f"New, {where}: {said}" for where, said in now if (where, said) not in was]
    return (*gone, *new)


def _remarks(course: Course) -> list[tuple[str, str]]:
    """Every remark of a course, with the phase that it belongs to."""
    names = {remedy.id: remedy.name for remedy in course.remedies}
    of_phases = [
        (f"in {phase_title(phase.id)}", remark)
        for phase in course.protocol.phases
        for remark in phase_remarks(phase, names, course.client.day)
    ]
    ceilings = course.protocol.ceilings
    return of_phases + [("in all phases", ceiling_words(ceiling, names)) for ceiling in ceilings]


def ceiling_words(ceiling: Ceiling, names: Mapping[str, str]) -> str:
    """A ceiling over remedies as a sentence; remedies by their names, or their ids."""
    remedies = [names.get(remedy, remedy) for remedy in ceiling.remedies]
    often = times_over(ceiling.most)
    if len(remedies) == 1:
        return f"{remedies[0]}: no more than {often} a day."
    return f"{listed(remedies)}, all together: no more than {often} a day."


def _sentence(text: str) -> str:
    return _ended(f"{text[:1].upper()}{text[1:]}")


def _ended(text: str) -> str:
    return text if text.endswith(_ENDS) else f"{text}."
