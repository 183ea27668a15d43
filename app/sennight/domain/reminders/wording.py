"""What a reminder says: titles for the lock screen, and texts for who opens the entry.

The words are those of the client's sheet: no codes, and nothing that the title says already.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import assert_never

from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import Stretch
from sennight.domain.day import ClientDay, clock
from sennight.domain.directions.directions import Food, Unit
from sennight.domain.directions.plain_words import counted, plain_wait
from sennight.domain.remedies.letters import letter_of
from sennight.domain.remedies.making_words import making_sentence
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.reminders.overlaps import DueDose
from sennight.domain.tag_words import lower_first

DISCREET_TITLE = "Reminder"
"""What a lock screen shows where no remedy's name may be on it, before the sheet's letters."""
UNTESTED = "only if your skin test was clear"
"""What a use says that comes too soon after the rub's patch test."""


def dose_title(doses: Sequence[DueDose], *, discreet: bool) -> str:
    """All that is due, each with its amount; discreetly the letters on the client's sheet."""
    if discreet:
        letters = dict.fromkeys(letter_of(dose.place) for dose in doses)
        return f"{DISCREET_TITLE}: {', '.join(letters)}"
    return ", ".join(dose.label for dose in doses)


def dose_text(course: Course, doses: Sequence[DueDose], *, discreet: bool) -> str:
    """What the title leaves out: times where there are several, food, the ceiling, the making."""
    lines = [f"{clock(dose.minute)} {dose.label}" for dose in doses]
    if len(doses) == 1 and not discreet:
        lines = []
    details = (dose.details for dose in doses if dose.details)
    remedies = {dose.remedy: dose for dose in doses}
    makings = (_making(course, due, discreet=discreet) for due in remedies.values())
    return "\n".join((*lines, *dict.fromkeys(details), *filter(None, makings)))


def name_of(remedy: Remedy, place: int, *, discreet: bool) -> str:
    """What a remedy is called: its name, or its form with its letter on the client's sheet."""
    return f"{str(remedy.form).capitalize()} {letter_of(place)}" if discreet else remedy.name


def dose_details(name: str, stretch: Stretch, day: ClientDay, remarks: str = "") -> str:
    """Food, what else to heed, and how much more may be taken as needed, in whole sentences."""
    return " ".join(filter(None, (remarks, *_details(name, stretch, day))))


def _details(name: str, stretch: Stretch, day: ClientDay) -> Iterator[str]:
    take = stretch.directions
    if take.food:
        yield f"Take {name} {_food(take.food)}."
    if take.rhythm is None or take.as_needed is None:
        return
    most = take.as_needed.ceiling(day)
    wait = plain_wait(take.as_needed)
    often = f"up to {counted(most, 'extra dose')} of {name} a day"
    yield f"If you need more: {often}{f', {wait}' if wait else ''}."


def _food(food: Food) -> str:
    match food:
        case Food.WITH:
            return "with food"
        case Food.BEFORE:
            return "before food"
        case Food.AFTER:
            return "after food"
        case _:
            assert_never(food)


def _making(course: Course, dose: DueDose, *, discreet: bool) -> str:
    """How a dose is made, or by its name, since others may stand beside it, how it is used."""
    formula = course.remedy(dose.formula)
    if formula.tea is not None and dose.unit in (Unit.CUP, Unit.APPLICATION):
        return making_sentence(formula.form, formula.tea)
    if not formula.form.facts.in_short:
        return ""
    name = name_of(course.remedy(dose.remedy), dose.place, discreet=discreet)
    return f"{name}: {lower_first(formula.form.facts.in_short)}"
