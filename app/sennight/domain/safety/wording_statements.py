"""Single statements and steps of findings, in words."""

from __future__ import annotations

from typing import assert_never

from sennight.domain.day import clock
from sennight.domain.directions.plain_words import counted, listed, plain_date
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import Duration, DurationUnit, Level
from sennight.domain.remedies.sites import LITTLE_GETS_THROUGH
from sennight.domain.safety.names import Names, Sentence
from sennight.domain.safety.rules import SafetyRules
from sennight.domain.safety.statements import (
    AddsUp,
    AllergicToIt,
    AllergyToWhich,
    AmountOver,
    AppliedTooOften,
    CeilingPassed,
    ChildAmount,
    DosesOverCeiling,
    DoseTimes,
    EssentialOils,
    EthanolDose,
    EthanolSpokenAgainst,
    FormSpokenAgainst,
    HoldsAllergen,
    LeastAge,
    LeftOutBefore,
    LengthsPassed,
    MayBeEither,
    NoChildDose,
    NoFormRecord,
    NothingRecorded,
    NotInRecords,
    OfOneFamily,
    OnSkinWhileFeeding,
    Quote,
    SignOfDanger,
    SiteLiesDeep,
    Statement,
    SteamScalds,
    SugarTaken,
    SuspectedReaction,
    TooNear,
    WashOut,
)
from sennight.domain.safety.wording_amounts import FORM_WORDS, amount_words
from sennight.domain.tag_words import lower_first, upper_first

STEAM_SCALDS = "a bowl of hot water tips over and scalds children: no steam inhalation under 12."
UNEXPLAINED = {
    Level.CONTRAINDICATED: "Recorded as contraindicated",
    Level.AVOID: "Recorded as to be avoided",
    Level.REFER: "Recorded as needing a doctor’s advice",
    Level.CAUTION: "Recorded as needing caution",
    Level.MONITOR: "Recorded as needing monitoring",
    Level.SEPARATE: "Recorded as to be taken hours apart",
    Level.INFO: "Ask us about it",
}
"""For a caution of an own herb that was entered without words."""

ClientStatement = (
    Quote
    | LeftOutBefore
    | WashOut
    | HoldsAllergen
    | AllergicToIt
    | OfOneFamily
    | OnSkinWhileFeeding
    | LeastAge
    | SuspectedReaction
)


def words_of(text: str, level: Level) -> str:
    """What a record says, or in its place how strongly, where it was entered without words."""
    return text or UNEXPLAINED[level]


def statement_words(statement: Statement, names: Names, remedies: tuple[str, ...]) -> Sentence:
    """A statement in words; `remedies` are those of its finding."""
    match statement:
        case (
            Quote()
            | LeftOutBefore()
            | WashOut()
            | HoldsAllergen()
            | AllergicToIt()
            | OfOneFamily()
            | OnSkinWhileFeeding()
            | LeastAge()
            | SuspectedReaction()
        ):
            return _client_words(statement, names)
        case AllergyToWhich() | NotInRecords() | MayBeEither():
            return Sentence("", _unchecked(statement))
        case SiteLiesDeep(sites):
            return Sentence(listed(sites), f"{lower_first(LITTLE_GETS_THROUGH)}.")
        case SteamScalds():
            return Sentence("", STEAM_SCALDS)
        case NothingRecorded():
            return _not_on_record(statement, names)
        case LengthsPassed():
            return _lengths(statement, names)
        case AddsUp(herbs, text):
            return Sentence("", f"{_together(herbs, names)}: {text}.")
        case TooNear():
            return _too_near(statement, names)
        case FormSpokenAgainst(herb, form, text):
            return Sentence(f"{names.herb(herb)} as {FORM_WORDS[form]}", f"{lower_first(text)}.")
        case NoFormRecord(herbs):
            return Sentence("", _no_form(herbs, names))
        case SignOfDanger(sign, action):
            return Sentence("", f"{sign}: {action}.")
        case (
            DosesOverCeiling()
            | SugarTaken()
            | EssentialOils()
            | CeilingPassed()
            | EthanolSpokenAgainst()
            | EthanolDose()
            | AmountOver()
            | ChildAmount()
            | NoChildDose()
            | AppliedTooOften()
        ):
            return amount_words(statement, names, remedies)
        case _:
            assert_never(statement)


def _client_words(statement: ClientStatement, names: Names) -> Sentence:
    """What the client's record has against a herb."""
    match statement:
        case Quote():
            return _quote(statement, names)
        case LeftOutBefore():
            return _left_out(statement, names)
        case WashOut():
            return _wash_out(statement, names)
        case HoldsAllergen():
            return _holds_allergen(statement, names)
        case AllergicToIt(herb):
            return Sentence(names.herb(herb), "the client is allergic to it.")
        case OnSkinWhileFeeding():
            return Sentence("", OFF_THE_BREAST)
        case OfOneFamily():
            return _of_one_family(statement, names)
        case LeastAge():
            return _least_age(statement, names)
        case SuspectedReaction():
            return _suspected(statement, names)
        case _:
            assert_never(statement)


def _suspected(statement: SuspectedReaction, names: Names) -> Sentence:
    about = f"{names.herb(statement.herb)} is suspected of a reaction that this client had"
    return Sentence("", f"{about}: {statement.what.rstrip('.')}.")


OFF_THE_BREAST = (
    "Here it is not swallowed: keep it off the breast, and off skin that the baby touches."
)


def _of_one_family(statement: OfOneFamily, names: Names) -> Sentence:
    other = lower_first(names.herb(statement.other))
    about = f"it is of the same family as {other}, to which the client is allergic"
    return Sentence(names.herb(statement.herb), f"{about}: people may react to both.")


def _not_on_record(statement: NothingRecorded, names: Names) -> Sentence:
    about = f"There is no record of {names.herb(statement.herb)}"
    return Sentence("", f"{about}, so its cautions could not be checked.")


def _left_out(statement: LeftOutBefore, names: Names) -> Sentence:
    lead = f"{names.herb(statement.herb)} {names.phrase('planned-surgery')}"
    after = f" and {counted(statement.after, 'day')} after" if statement.after else ""
    before = f"leave it out for the {counted(statement.days, 'day')} before{after}"
    return Sentence(lead, f"{before}. {statement.text}.")


def _wash_out(statement: WashOut, names: Names) -> Sentence:
    """How many days lie between a herb and a medicine that ended or is to begin."""
    herb, days = lower_first(names.herb(statement.herb)), counted(statement.days, "day")
    when = plain_date(statement.day)
    if statement.ended:
        wait = f"{statement.medicine} ended on {when}; leave {days} before starting {herb}"
    else:
        wait = f"{statement.medicine} begins on {when}; leave {days} after the last dose of {herb}"
    return Sentence(names.herb(statement.herb), f"{wait}. {statement.text}.")


def _holds_allergen(statement: HoldsAllergen, names: Names) -> Sentence:
    allergen = names.label(statement.constituent)
    body = f"{names.herb(statement.herb)} contains {allergen}, to which the client is allergic."
    return Sentence("", body)


def _least_age(statement: LeastAge, names: Names) -> Sentence:
    years = statement.years
    age = str(int(years)) if years >= 1 else counted(int(years * 12), "month")
    remark = f" ({lower_first(statement.text)})" if statement.text else ""
    return Sentence(names.herb(statement.herb), f"for people aged {age} and over{remark}.")


def _quote(quote: Quote, names: Names) -> Sentence:
    """What is said of a herb with a fact; the fact is named once."""
    text = words_of(quote.text, quote.level)
    name = names.herb(quote.herb)
    lead = name if text in names.rules.names_fact else f"{name} {names.phrase(quote.tag)}"
    return Sentence(lead, f"{lower_first(text)}.")


def _unchecked(statement: AllergyToWhich | NotInRecords | MayBeEither) -> str:
    """What could not be checked of the client's facts, and what to do about it."""
    match statement:
        case AllergyToWhich():
            return "An allergy to a herb is recorded, but not which herb: ask, and record it."
        case NotInRecords(name):
            return f"“{name}” is not in the records, so it was not checked: look it up."
        case MayBeEither(name, either):
            care = "Until then it is treated as the one that needs more care."
            return f"“{name}” may be {' or '.join(either)}: ask which. {care}"
        case _:
            assert_never(statement)


def _lengths(statement: LengthsPassed, names: Names) -> Sentence:
    herb = names.herb(statement.herb)
    lengths = listed([_length_words(length, names.rules) for length in statement.lengths])
    return Sentence("", f"{herb} is used for longer than {lengths}.")


def _length_words(length: Duration, rules: SafetyRules) -> str:
    """A length, with what its text adds: `5 days (for motion sickness)`."""
    adds = length.text and length.text not in rules.tells_length
    return f"{_length(length)} ({lower_first(length.text)})" if adds else _length(length)


def _length(length: Duration) -> str:
    if length.unit is DurationUnit.WEEKS_PER_YEAR:
        return f"{counted(length.count, 'week')} in a year"
    return counted(length.count, length.unit.removesuffix("s"))


def _together(herbs: tuple[str, ...], names: Names) -> str:
    first, *rest = (names.herb(herb) for herb in herbs)
    together = " together" if rest else ""
    return f"{upper_first(listed([first, *map(lower_first, rest)]))}{together}"


def _no_form(herbs: tuple[tuple[str, TakenAs], ...], names: Names) -> str:
    texts = [f"{lower_first(names.herb(herb))} as {FORM_WORDS[form]}" for herb, form in herbs]
    return f"No dose is recorded for {listed(texts)}, so the amount was not checked."


def _too_near(near: TooNear, names: Names) -> Sentence:
    medicine = names.medicine(near.medicine)
    why = words_of(near.quote.text, near.quote.level)
    herbs = listed([lower_first(names.herb(herb)) for herb in near.herbs])
    when = "; ".join(_dose_times(dose, names) for dose in near.doses)
    taken = (
        f"the {medicine} at {listed([clock(minute) for minute in near.medicine_times])}"
        if near.medicine_times
        else f"and the times of the {medicine} are not recorded"
    )
    apart = f"{counted(near.hours, 'hour')} from {medicine}"
    return Sentence("", f"Keep {herbs} {apart} ({lower_first(why)}). {when}, {taken}.")


def _dose_times(dose: DoseTimes, names: Names) -> str:
    when = [f"at {listed([clock(minute) for minute in dose.times])}"] if dose.times else []
    when += ["as needed"] if dose.as_needed else []
    return f"{names.remedy(dose.remedy)} is taken {' and '.join(when)}"
