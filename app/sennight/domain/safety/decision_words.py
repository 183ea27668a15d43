"""What was decided about a finding, and why a decision lapsed, in words."""

from __future__ import annotations

from typing import assert_never

from sennight.domain.courses.phase_names import phase_title
from sennight.domain.directions.plain_words import plain_amount, plain_date
from sennight.domain.safety.decisions import (
    HOLDS_FOR,
    AmountRose,
    Decision,
    FactAdded,
    Lapse,
    NewFormula,
    NewPhase,
    NewRemedy,
    TimePassed,
)
from sennight.domain.safety.names import (
    Names,
)


def lapse_text(decision: Decision, names: Names) -> str:
    """Why a decision does not hold any more: `Decided on 4 January 2027; since then …`.

    Empty where it holds.
    """
    if decision.holds:
        return ""
    reasons = "; ".join(_words(lapse, names) for lapse in decision.lapses)
    on = decision.accept.on
    when = f"Decided on {plain_date(on)}" if on else "Decided earlier"
    return f"{when}, but to be decided again: {reasons}."


def _words(lapse: Lapse, names: Names) -> str:
    match lapse:
        case AmountRose(remedy, before, now, unit):
            then = f", was {plain_amount(before, unit)}" if before is not None else ""
            return f"{names.remedy(remedy)} is now up to {plain_amount(now, unit)} a day{then}"
        case NewFormula(remedy):
            return f"{names.remedy(remedy)} has a different formula"
        case NewRemedy(remedy):
            return f"{names.remedy(remedy)} is new"
        case NewPhase(remedy, phase):
            return f"{names.remedy(remedy)} is now taken in {phase_title(phase)} too"
        case FactAdded(fact):
            return f"{_fact(fact, names)} was added to the client’s record"
        case TimePassed():
            return f"that was {HOLDS_FOR.days // 7} weeks ago or longer"
        case _:
            assert_never(lapse)


def _fact(fact: str, names: Names) -> str:
    """A fact as it is kept with a decision, in words; a reaction by its herb."""
    kind, _, herb = fact.partition(" ")
    if kind == "reaction" and names.materia_medica.herb(herb):
        return f"a reaction to {names.herb(herb)}"
    return f"“{names.label(fact)}”"
