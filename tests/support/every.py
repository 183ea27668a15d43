"""One test for many cases of which each takes next to no time.

To begin and report a test takes a millisecond or two, which for thousands of them is longer than
what they do.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

import pytest

from support.counted import UNCOUNTED

Case = TypeVar("Case")
Check = Callable[[Case], None]
SHOWN, NAMED = 5, 50
"""So many failures are shown whole, and so many cases named."""


def for_every(
    cases: Sequence[Case], named: Callable[[Case], str], *, counted: Sequence[Case] | None = None
) -> Callable[[Check[Case]], Callable[[Sequence[Case]], None]]:
    """Make a check of one case a test of all: each is tried, and those that fail are named.

    Of cases that go the same ways some are enough: where `counted` says which, the others are a
    second test, whose lines are not counted (support/counted.py).
    """
    parts = [pytest.param(cases, id="all")]
    if counted is not None:
        known = {id(case) for case in counted}
        others = [case for case in cases if id(case) not in known]
        assert len(others) + len(counted) == len(cases)
        parts = [
            pytest.param(counted, id="counted"),
            pytest.param(others, id="others", marks=UNCOUNTED),
        ]

    def as_one(check: Check[Case]) -> Callable[[Sequence[Case]], None]:
        def tried(cases: Sequence[Case]) -> None:
            try_every(check, cases, named)

        tried.__name__, tried.__doc__, tried.__module__ = (
            check.__name__,
            check.__doc__,
            check.__module__,
        )
        made: Callable[[Sequence[Case]], None] = pytest.mark.parametrize("cases", parts)(tried)
        return made

    return as_one


def try_every(check: Check[Case], cases: Sequence[Case], named: Callable[[Case], str]) -> None:
    """Call a check with each case; raises what failed, all of it together, with its case."""
    assert cases, "without a case nothing is checked"
    failed: list[Exception] = []
    names: list[str] = []
    for case in cases:
        try:
            check(case)
        except (Exception, pytest.fail.Exception) as error:  # noqa: BLE001 - raised below
            held = error if isinstance(error, Exception) else AssertionError(str(error))
            held.add_note(f"Case: {named(case)}")
            failed.append(held)
            names.append(named(case))
    if failed:
        more = ["…"] if len(names) > NAMED else []
        message = f"{len(failed)} of {len(cases)} cases: {', '.join(names[:NAMED] + more)}"
        raise ExceptionGroup(message, failed[:SHOWN])
