"""What the client is told because of a finding, in a sentence for the sheet."""

from __future__ import annotations

from datetime import date
from typing import assert_never

from sennight.domain.day import clock
from sennight.domain.directions.plain_words import counted, listed, plain_date
from sennight.domain.safety.finding_rules import (
    ConstituentCeiling,
    DeepSite,
    EssentialOilOver,
    EthanolInDose,
    EthanolWithFact,
    FactUnchecked,
    FlagStands,
    FormsUnrecorded,
    HerbAfterReaction,
    HerbAtAge,
    HerbForm,
    HerbNumber,
    HerbUnrecorded,
    HerbWithFact,
    HoursBetween,
    LengthOfUse,
    OverDayCeiling,
    OverMost,
    SteamForChild,
    SugarWithFact,
)
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.for_client import ClientSentence, Place
from sennight.domain.safety.names import (
    Names,
)
from sennight.domain.safety.statements import (
    OnSkinWhileFeeding,
    TooNear,
)
from sennight.domain.safety.steps import (
    LastDoseBefore,
    LastDoseOn,
    MoveDose,
    NotBefore,
    Step,
)
from sennight.domain.safety.themes import Theme
from sennight.domain.tag_words import lower_first, short_name

ALLERGY = "allergy"
"""The theme of what may set off an allergy."""
SUGAR = "count the sugar, and test your blood sugar as usual"
ALCOHOL = "because of the alcohol, take no more than this sheet says"
NO_MORE = "use no more than this sheet says"
DO_NOT_DRIVE = "because of the alcohol, do not drive or use machines for 2 hours after a dose"


def client_sentence(finding: Finding, theme: Theme | None, names: Names) -> ClientSentence | None:
    """The sentence; None for a note, and where no remedy is concerned."""
    if finding.severity is Severity.NOTE or not finding.remedies:
        return None
    day = _last_day(finding)
    place, says = _said(finding, theme, names)
    text = f"{names.remedies(finding.remedies)}: {says}."
    minutes = _minutes(finding) if place is Place.DAY else ()
    return ClientSentence(place, says, text, finding.remedies, minutes, day)


def _said(finding: Finding, theme: Theme | None, names: Names) -> tuple[Place, str]:
    """Where it belongs, and the sentence without names and stop."""
    last = next((sentence for step in finding.steps if (sentence := _last_dose(step, names))), "")
    match finding.rule:
        case HerbWithFact(_, tag):
            place, says = _of_theme(theme) if theme else _of_fact(tag, finding, names)
            if theme and theme.id == ALLERGY:
                says = f"{_allergen(tag, finding, names)}: {says}"
            if any(isinstance(said, OnSkinWhileFeeding) for said in finding.statements):
                says = f"keep it off your breasts; {says}"
            return place, f"{last}, and {says}" if last else says
        case HoursBetween():
            return Place.DAY, _hours(finding, names)
        case LengthOfUse():
            return Place.USE, _length(finding, names)
        case EthanolWithFact():
            return Place.USE, ALCOHOL
        case SugarWithFact():
            return Place.USE, SUGAR
        case EthanolInDose():
            return Place.DRIVING, DO_NOT_DRIVE
        case ConstituentCeiling(group) | HerbNumber(group):
            return _of_theme(names.rules.theme_of_sum(group))
        case (
            OverMost()
            | OverDayCeiling()
            | HerbAtAge()
            | HerbForm()
            | FormsUnrecorded()
            | HerbUnrecorded()
        ):
            return Place.USE, NO_MORE
        case EssentialOilOver() | DeepSite():
            return Place.USE, "use no more than this sheet says, and only where we agreed"
        case SteamForChild():
            return Place.USE, (
                "for a child under 12 only as we agreed; an adult pours the water, and stays "
                "beside the bowl until it is cold"
            )
        case HerbAfterReaction():
            return Place.STOP, "stop at once and tell us if what you had before comes back"
        case FactUnchecked():
            return Place.MEDICINES, _ask_about(finding, names)
        case FlagStands():
            return Place.STOP, "see a doctor soon, as we agreed, and at once if it gets worse"
        case _:
            assert_never(finding.rule)


def _herb(herb: str, names: Names) -> str:
    return lower_first(short_name(names.herb(herb)))


def _of_theme(theme: Theme | None) -> tuple[Place, str]:
    """What a theme tells the client; where it tells nothing, to keep to the dose."""
    return (theme.place, theme.client) if theme and theme.client else (Place.USE, NO_MORE)


def _allergen(tag: str, finding: Finding, names: Names) -> str:
    """Which herb it is, and that the client told of the allergy: said with the remedy itself."""
    herbs = listed([_herb(herb, names) for herb in finding.herbs])
    allergies = [_allergy(fact.tag, names) for fact in finding.met] or [_allergy(tag, names)]
    told = listed(list(dict.fromkeys(allergies)))
    return f"it contains {herbs}, and you told us of your {told}"


def _allergy(tag: str, names: Names) -> str:
    """An allergy by its name; to a herb or a constituent, to that."""
    if names.materia_medica.herb(tag):
        return f"allergy to {_herb(tag, names)}"
    if names.rules.records.is_condition(tag):
        return names.label(tag)
    return f"allergy to {names.label(tag)}"


def _of_fact(tag: str, finding: Finding, names: Names) -> tuple[Place, str]:
    """What is told of a fact that belongs to no theme."""
    if not finding.fact:
        return Place.USE, NO_MORE  # what is said of the herb by mouth, whoever takes it
    called = _called(tag, finding, names)
    if names.rules.records.is_medicine(tag) or tag in names.rules.records.properties:
        return Place.MEDICINES, f"tell us before anything about your {called} changes"
    return Place.STOP, f"stop and tell us if your {called} gets worse"


def _called(tag: str, finding: Finding, names: Names) -> str:
    facts = [names.fact(fact) for fact in finding.met]
    return listed(list(dict.fromkeys(facts))) if facts else names.label(tag)


def _ask_about(finding: Finding, names: Names) -> str:
    name = _called(finding.fact, finding, names)
    them = "these remedies" if len(finding.remedies) > 1 else "this remedy"
    return f"ask your pharmacist or doctor whether you can use {them} with {name}"


def _last_dose(step: Step, names: Names) -> str:
    match step:
        case LastDoseBefore(day):
            return f"take the last dose before {plain_date(day)}"
        case LastDoseOn(herb, day):
            name = _herb(herb, names)
            return f"because of the {name}, do not use after {plain_date(day)}"
        case NotBefore(herb, day):
            name = _herb(herb, names)
            return f"because of the {name}, do not start before {plain_date(day)}"
        case _:
            return ""


def _length(finding: Finding, names: Names) -> str:
    """That going on is agreed by the last day; the table, labels and calendar may go past it."""
    lasts = [step for step in finding.steps if isinstance(step, LastDoseOn)]
    because = f"because of the {_herb(lasts[0].herb, names)}"
    return (
        f"{because}, we will check with you by {plain_date(lasts[0].day)} whether you go on with "
        "this; if we have not, stop after that day"
    )


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
    medicines = listed(
        list(dict.fromkeys(names.medicine(statement.medicine) for statement in near))
    )
    hours = counted(max(statement.hours for statement in near), "hour")
    moved = sorted({step.to_minute for step in finding.steps if isinstance(step, MoveDose)})
    instead = f", for example at {listed([*map(clock, moved)])}" if moved else ""
    return f"take this at least {hours} before or after your {medicines}{instead}"
