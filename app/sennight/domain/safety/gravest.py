"""Of several statements of one thing the gravest."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from sennight.domain.safety.statements import (
    AddsUp,
    AmountOver,
    AppliedTooOften,
    CeilingPassed,
    ChildAmount,
    EthanolDose,
    NoChildDose,
    NoFormRecord,
    Statement,
    TooNear,
)


def gravest(statements: tuple[Statement, ...]) -> tuple[Statement, ...]:
    """Each statement once; of several amounts for one limit the gravest, all herbs of a number."""
    kept: dict[object, Statement] = {}
    for statement in statements:
        key = _subject(statement)
        kept[key] = _graver(kept[key], statement) if key in kept else statement
    return tuple(kept.values())


def _subject(statement: Statement) -> object:
    """What statements have in common of which the gravest says all; else the whole."""
    match statement:
        case CeilingPassed(ceiling):
            return ceiling
        case EthanolDose(_, _, _, text):
            return text
        case AddsUp(_, text):
            return text
        case AmountOver(herb):
            return AmountOver, herb
        case ChildAmount(herb):
            return ChildAmount, herb
        case NoChildDose(herb):
            return NoChildDose, herb
        case AppliedTooOften(herb):
            return AppliedTooOften, herb
        case NoFormRecord():
            return NoFormRecord
        case TooNear():
            return (
                TooNear,
                statement.herbs,
                statement.medicine,
                statement.quote,
            )
        case _:
            return statement


def _graver(one: Statement, two: Statement) -> Statement:
    match one, two:
        case CeilingPassed(), CeilingPassed():
            return max(one, two, key=lambda passed: (passed.surely, passed.mg))
        case EthanolDose(), EthanolDose():
            return max(one, two, key=lambda dose: dose.mg_per_kg)
        case AddsUp(), AddsUp():
            return replace(one, herbs=tuple(dict.fromkeys(one.herbs + two.herbs)))
        case AmountOver(), AmountOver():
            return max(one, two, key=lambda over: over.times or Fraction(0))
        case ChildAmount(), ChildAmount():
            return max(one, two, key=lambda amount: amount.grams / amount.most)
        case AppliedTooOften(), AppliedTooOften():
            return max(one, two, key=lambda applied: applied.times)
        case NoFormRecord(), NoFormRecord():
            return replace(one, herbs=tuple(dict.fromkeys(one.herbs + two.herbs)))
        case TooNear(), TooNear():
            return replace(one, doses=tuple(dict.fromkeys(one.doses + two.doses)))
        case _:
            return one
