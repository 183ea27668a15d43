"""Finds the parts of a formula that fit all bounds with the least change: a linear program.

HiGHS solves it in floating point; the corner that it finds is then solved again in fractions, so
that the answer fits every bound exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from sennight.domain.formulas.balance import Balance, Bound, exact_shares
from sennight.domain.formulas.calculations import CalculationError

CLOSE = Fraction(1, 1_000_000)
"""How near to an end the solver's answer counts as lying on it, as a part of its factors."""


@dataclass(frozen=True, slots=True)
class Balanced:
    """New shares, which sum to 1, and the sum of their absolute changes."""

    shares: tuple[Fraction, ...]
    change: Fraction


@dataclass(frozen=True, slots=True)
class Conflict:
    """Bounds that cannot hold together; without any one of them the others could."""

    bounds: tuple[Bound, ...]


def balanced(balance: Balance) -> Balanced | Conflict:
    """The parts nearest to the practitioner's own that fit, or the bounds that conflict.

    Raises CalculationError where bounds lie so close together that floats cannot part them.
    """
    if all(bound.holds(balance.own) for bound in balance.bounds):
        return Balanced(balance.own, Fraction(0))
    solution = _solved(balance.own, balance.bounds)
    if solution is None:
        return Conflict(_least_conflict(balance))
    new = exact_shares(balance, [Fraction(value) for value in solution], CLOSE)
    if new is None:
        raise CalculationError(
            "no parts could be worked out exactly; expected limits that are further apart"
        )
    changes = (abs(share - own) for share, own in zip(new, balance.own, strict=True))
    return Balanced(new, sum(changes, Fraction(0)))


def _least_conflict(balance: Balance) -> tuple[Bound, ...]:
    """Leave out each bound in turn that the conflict does not need."""
    kept = list(balance.bounds)
    for bound in balance.bounds:
        others = [other for other in kept if other is not bound]
        if _solved(balance.own, others) is None:
            kept = others
    return tuple(kept)


def _solved(own: Sequence[Fraction], bounds: Sequence[Bound]) -> list[float] | None:
    """The least-change shares as floats, or None where nothing fits."""
    from highspy import HighsModelStatus

    program = _silent_program()
    shares = [program.addVariable(lb=0, ub=1) for _ in own]
    changes = [program.addVariable(lb=0, obj=1) for _ in own]
    program.addConstr(program.qsum(shares) == 1)
    for share, change, before in zip(shares, changes, own, strict=True):
        program.addConstr(change - share >= -float(before))
        program.addConstr(change + share >= float(before))
    for bound in bounds:
        _add(program, shares, bound)
    program.minimize()
    if program.getModelStatus() != HighsModelStatus.kOptimal:
        return None
    return [float(value) for value in program.variableValues(shares)]


def _silent_program() -> Any:  # noqa: ANN401 - untyped library
    """A program that prints nothing, not even its version when it is made."""
    import highspy

    class Silent(highspy.Highs):
        """Calls itself silent before the first thing that it does, which prints the version."""

        def enableCallbacks(self) -> None:  # noqa: N802 - highspy's
            self.silent()
            super().enableCallbacks()  # type: ignore[no-untyped-call]

    return Silent()  # type: ignore[no-untyped-call]


def _add(program: Any, shares: list[Any], bound: Bound) -> None:  # noqa: ANN401 - untyped library
    """One bound, scaled by its largest factor so that the solver's tolerance fits all alike."""
    scale = max([abs(factor) for factor in bound.factors] or [Fraction(0)]) or Fraction(1)
    pairs = zip(bound.factors, shares, strict=True)
    total = program.qsum(float(factor / scale) * share for factor, share in pairs)
    if bound.low is not None:
        program.addConstr(total >= float(bound.low / scale))
    if bound.high is not None:
        program.addConstr(total <= float(bound.high / scale))
