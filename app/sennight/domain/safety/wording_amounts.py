"""Statements about how much is taken, in words."""

from __future__ import annotations

from fractions import Fraction
from typing import assert_never

from sennight.domain.amounts import rounded
from sennight.domain.directions.plain_words import counted, times_over
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.safety.names import Names, Sentence
from sennight.domain.safety.statements import (
    AmountOver,
    AppliedTooOften,
    Ceiling,
    CeilingPassed,
    ChildAmount,
    DosesOverCeiling,
    EssentialOils,
    EthanolDose,
    EthanolSpokenAgainst,
    NoChildDose,
    SugarTaken,
)
from sennight.domain.tag_words import lower_first

AmountStatement = (
    DosesOverCeiling
    | SugarTaken
    | EssentialOils
    | CeilingPassed
    | EthanolSpokenAgainst
    | EthanolDose
    | AmountOver
    | ChildAmount
    | NoChildDose
    | AppliedTooOften
)

_IN_MG_BELOW = Fraction(1, 10)
FORM_WORDS = {
    TakenAs.TEA: "a tea",
    TakenAs.LIQUID: "a liquid",
    TakenAs.JUICE: "a juice",
    TakenAs.POWDER: "a powder",
    TakenAs.EXTRACT: "an extract",
    TakenAs.SUBSTANCE: "a substance by itself",
}


def amount_words(statement: AmountStatement, names: Names, remedies: tuple[str, ...]) -> Sentence:
    """A statement about an amount in words; `remedies` are those of its finding."""
    match statement:
        case DosesOverCeiling(doses, most):
            together = "together " if len(remedies) > 1 else ""
            text = f"timed {together}{times_over(doses)} a day; the limit set is {most}."
            return Sentence(names.remedies(remedies), text)
        case SugarTaken():
            return Sentence(names.remedies(remedies), _sugar(statement))
        case EssentialOils():
            return Sentence(names.remedies(remedies), _essential_oils(statement))
        case CeilingPassed():
            return _ceiling(statement, names)
        case EthanolSpokenAgainst(tag, text):
            about = f"Alcohol in {names.remedies(remedies)}"
            return Sentence("", f"{about}: {names.phrase(tag)}, {lower_first(text)}.")
        case EthanolDose():
            return _ethanol(statement, names)
        case AmountOver():
            return _amount_over(statement, names)
        case ChildAmount():
            return _child_amount(statement, names)
        case NoChildDose(herb, years):
            child = f"a child of {age_words(years)}"
            none = f"no dose is published for {child}, and no rule is used for it"
            return Sentence(names.herb(herb), f"{none}: ask a practitioner who treats children.")
        case AppliedTooOften(herb, times, most):
            limit = f"the published maximum is {times_over(most)}"
            often = f"up to {counted(times, 'application')} a day; {limit}."
            return Sentence(f"{names.herb(herb)} on the skin", often)
        case _:
            assert_never(statement)


def _sugar(sugar: SugarTaken) -> str:
    if sugar.grams is None or sugar.a_day is None:
        return "it contains sugar, but how much is not recorded."
    dose, day = rounded(sugar.grams, 1), rounded(sugar.a_day, 1)
    return f"up to {dose} g of sugar in one dose and {day} g a day: count it in."


def _essential_oils(oils: EssentialOils) -> str:
    whose = "for the face and for children" if oils.is_delicate else "for adults"
    most = f"the usual maximum {whose} is {rounded(oils.most, 1)} %"
    return f"{rounded(oils.percent, 2)} % by weight is essential oil; {most}."


def _amount_over(over: AmountOver, names: Names) -> Sentence:
    """How much it is, beside the most that is published."""
    most = "dose" if over.is_single_figure else "maximum"
    how_much = f"{rounded(over.times, 1)} times" if over.times else "more than"
    times = f"{how_much} the published {most}"
    narrow = " With this herb even a little over the dose can do harm." if over.narrow else ""
    if over.form is None or over.grams is None or over.most is None:
        return Sentence(names.herb(over.herb), f"all its forms together come to {times}.{narrow}")
    grams, limit = _weights(over.grams, over.most)
    amount = f"up to {grams} a day as {FORM_WORDS[over.form]}, {times} ({limit})"
    return Sentence(names.herb(over.herb), f"{amount}.{narrow}")


def _child_amount(amount: ChildAmount, names: Names) -> Sentence:
    """How much it is, beside the least that the rules for children make of an adult's dose."""
    grams, most = _weights(amount.grams, amount.most)
    rules = "age and weight" if amount.by_weight else "age"
    weigh = "" if amount.by_weight else " Weigh the child, so that weight can be used too."
    said = (
        f"up to {grams} a day as {FORM_WORDS[amount.form]}; no dose is published for a child of "
        f"{age_words(amount.years)}, and the lowest by the rules of {rules} is {most}.{weigh}"
    )
    return Sentence(names.herb(amount.herb), said)


def _weights(amount: Fraction, limit: Fraction) -> tuple[str, str]:
    """Two amounts beside each other, both in mg where a hundredth of a gram would hide them."""
    if min(amount, limit) < _IN_MG_BELOW:
        return f"{rounded(amount * 1000, 1)} mg", f"{rounded(limit * 1000, 1)} mg"
    return f"{rounded(amount, 2)} g", f"{rounded(limit, 2)} g"


def age_words(years: int) -> str:
    """An age in years; under a year for 0."""
    return counted(years, "year") if years else "under a year"


def _ceiling(statement: CeilingPassed, names: Names) -> Sentence:
    ceiling = statement.ceiling
    of, most = names.label(ceiling.constituent), rounded(statement.mg, 0)
    about = f"The day's herbs contain at least {most} mg of {of}"
    if not statement.surely:
        about = f"Content varies: the day's herbs may contain up to {most} mg of {of}"
    limit = f"{_limit_words(ceiling)} ({lower_first(ceiling.text)})"
    return Sentence("", f"{about}; the limit is {limit}.")


def _limit_words(ceiling: Ceiling) -> str:
    return f"{rounded(ceiling.value, 0)} {ceiling.unit.replace('/day', ' a day')}"


def _ethanol(dose: EthanolDose, names: Names) -> Sentence:
    assumed = (
        f" (no weight is recorded: {rounded(dose.assumed_kg, 0)} kg assumed)"
        if dose.assumed_kg
        else ""
    )
    together = len(dose.remedies) > 1
    at_once = "taken within a quarter of an hour give" if together else "gives"
    what = (
        names.remedies(dose.remedies)
        if together
        else f"One dose of {names.remedies(dose.remedies)}"
    )
    about = f"{what} {at_once} up to {rounded(dose.mg_per_kg, 0)} mg"
    return Sentence("", f"{about} of alcohol per kg of body weight{assumed}. {dose.text}.")
