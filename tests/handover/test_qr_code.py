"""QR codes against the published structure of the symbol (ISO/IEC 18004, from memory)."""

from __future__ import annotations

import pytest

from sennight.handover.qr_code import QUIET_ZONE, qr_squares

FINDER = (
    "#######",
    "#.....#",
    "#.###.#",
    "#.###.#",
    "#.###.#",
    "#.....#",
    "#######",
)


@pytest.mark.parametrize("text", ["http://192.168.1.20:40123/AAAAAAAAAAAAAAAAAAAAAA", "x"])
def test_a_code_has_its_quiet_zone_and_three_finders(text: str) -> None:
    squares = qr_squares(text)
    size = len(squares) - 2 * QUIET_ZONE
    assert size % 4 == 1
    assert {len(row) for row in squares} == {len(squares)}
    for top, left in ((0, 0), (0, size - 7), (size - 7, 0)):
        rows = squares[top + QUIET_ZONE : top + QUIET_ZONE + 7]
        for row, expected in zip(rows, FINDER, strict=True):
            start = left + QUIET_ZONE
            assert row[start : start + 7] == tuple(square == "#" for square in expected)
    assert not any(squares[0])
    assert not any(row[-1] for row in squares)


def test_another_link_gives_another_code() -> None:
    assert qr_squares("http://192.168.1.20:1/a") != qr_squares("http://192.168.1.20:1/b")
