"""Results kept by the very values that they were worked out from.

After an edit most of a course is the same: the same formulas, directions and facts, not only equal
ones. Values here never change, so what was worked out from them holds as long as they are there.
To know them again by identity costs next to nothing; to compare a formula with another would cost
as much as much of the work.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar, TypeVarTuple

Values = TypeVarTuple("Values")
Result = TypeVar("Result")


def kept(most: int) -> Callable[[Callable[[*Values], Result]], Callable[[*Values], Result]]:
    """Keep what a function made of the last so many arguments, the oldest going first.

    Arguments are known again by identity. They and the result must never change. Equal arguments
    that are not the same ones cost a second working out, and nothing else.
    """

    def keeping(work: Callable[[*Values], Result]) -> Callable[[*Values], Result]:
        # The arguments lie beside the result, so that no other value can get their identity.
        results: dict[tuple[int, ...], tuple[tuple[object, ...], Result]] = {}

        @wraps(work)
        def known(*values: *Values) -> Result:
            key = tuple(map(id, values))
            found = results.get(key)
            if found is None:
                found = values, work(*values)
                if len(results) >= most:
                    results.pop(next(iter(results)), None)
                results[key] = found
            return found[1]

        return known

    return keeping
