"""Results kept by the values that they were worked out from."""

from __future__ import annotations

from sennight.domain.kept import kept


class Counted:
    """Doubles lists, and counts how often it was asked to."""

    def __init__(self, most: int) -> None:
        self.times = 0
        self.double = kept(most)(self._double)

    def _double(self, values: list[int], also: str) -> tuple[list[int], str]:
        self.times += 1
        return values * 2, also


def test_the_very_same_values_are_worked_out_once() -> None:
    counted, values = Counted(4), [1, 2]
    first = counted.double(values, "a")
    assert first == ([1, 2, 1, 2], "a")
    assert counted.double(values, "a") is first
    assert counted.times == 1


def test_equal_values_that_are_others_are_worked_out_by_themselves() -> None:
    counted = Counted(4)
    assert counted.double([1], "a") == counted.double([1], "a")
    assert counted.times == 2


def test_a_value_that_took_the_place_of_another_is_not_taken_for_it() -> None:
    # Freed memory is used again at once, so an identity alone would meet another list's result.
    counted = Counted(2)
    for n in range(50):
        assert counted.double([n], "a") == ([n, n], "a")
    assert counted.times == 50


def test_the_oldest_go_first() -> None:
    counted, lists = Counted(2), [[1], [2], [3]]
    for values in lists:
        counted.double(values, "a")
    counted.double(lists[2], "a")
    assert counted.times == 3
    counted.double(lists[0], "a")
    assert counted.times == 4
