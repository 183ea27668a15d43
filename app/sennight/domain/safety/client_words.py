"""What the client is told because of a finding, in a sentence for the sheet."""

from __future__ import annotations

from datetime import date

from sennight.domain.day import clock
from sennight.domain.directions.plain_words import counted, listed, plain_date
from sennight.domain.safety.finding_rules import (
    EthanolWithFact,
    HerbWithFact,
    HoursBetween,
    LengthOfUse,
)
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.for_client import ClientSentence, Place
from sennight.domain.safety.statements import (
    LastDoseBefore,
    LastDoseOn,
    MoveDose,
    Step,
    TooNear,
)
from sennight.domain.safety.themes import Theme
from sennight.domain.safety.wording_statements import Names
from sennight.domain.tag_words import lower_first

ALCOHOL = "it contains alcohol; take no more of it than is written here"


def client_sentence(finding: Finding, theme: Theme | None, names: Names) -> ClientSentence | None:
    """The sentence; None for a note, and where there is nothing that the client would do."""
    if finding.severity is Severity.NOTE or not finding.remedies:
        return None
    day = _last_day(finding)
    place, says = _said(finding, theme, names)
    if not says:
        return None
    text = f"{names.remedies(finding.remedies)}: {says}."
    minutes = _minutes(finding) if place is Place.DAY else ()
    return ClientSentence(place, says, text, finding.remedies, minutes, day)


def _said(finding: Finding, theme: Theme | None, names: Names) -> tuple[Place, str]:
    """Where it belongs, and the sentence without names and stop."""
    last = next((sentence for step in finding.steps if (sentence := _last_dose(step, names))), "")
    match finding.rule:
        case HoursBetween():
            return Place.DAY, _hours(finding, names)
        case LengthOfUse():
            return Place.USE, last
        case EthanolWithFact():
            return Place.USE, ALCOHOL
        case HerbWithFact() if theme is not None:
            return theme.place, f"{last}, and {theme.client}" if last else theme.client
        case _:
            return Place.STOP, ""


def _last_dose(step: Step, names: Names) -> str:
    match step:
        case LastDoseBefore(day):
            return f"take the last dose before {plain_date(day)}"
        case LastDoseOn(herb, day):
            name = lower_first(names.herb(herb))
            return f"it contains {name}: take it for the last time on {plain_date(day)}"
        case _:
            return ""


def _last_day(finding: Finding) -> date | None:
    """The day before which, or on which, the last dose is taken."""
    for step in finding.steps:
        if isinstance(step, LastDoseBefore | LastDoseOn):
            return step.day
    return None


def _near(finding: Finding) -> list[TooNear]:
    return [statement for statement in finding.statements if isinstance(statement, TooNear)]


def _minutes(finding: Finding) -> tuple[int, ...]:
    """The clock times of the doses that come too near, in minutes of the client's day.

    All of the remedies' times where it is not known when the medicine is taken.
    """
    moved = {step.minute for step in finding.steps if isinstance(step, MoveDose)}
    times = (minute for near in _near(finding) for dose in near.doses for minute in dose.times)
    return tuple(sorted(moved or set(times)))


def _hours(finding: Finding, names: Names) -> str:
    """How far from which medicine, and when instead where that is known."""
    near = _near(finding)
    medicines = listed(list(dict.fromkeys(names.label(statement.medicine) for statement in near)))
    hours = counted(max(statement.hours for statement in near), "hour")
    moved = [clock(step.to_minute) for step in finding.steps if isinstance(step, MoveDose)]
    instead = f"; {listed(list(dict.fromkeys(moved)))} is far enough" if moved else ""
    return f"keep {hours} between it and your {medicines}{instead}"
