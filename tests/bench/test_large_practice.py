"""What the window asks of a practice: a small one in every check, a large one every night.

`python -m bench.large_practice FILE` makes the large one by hand and prints the figures.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from bench.large_practice import LARGE, SMALL, make, measure
from support.draws import DRAWS, draws

pytestmark = pytest.mark.no_cover  # counting lines takes time of its own

LIST, FIND, READ_ANEW, OPEN, SAVE = 100, 50, 100, 100, 50
"""Milliseconds of the processor that half of the runs may take, in the large practice too.

All that can be found is read anew after a client's record was saved; measured there: 27, 17, 64, 3
and 5. An unclean close or a week without a backup adds a check of
all pages, in the background.
"""


def test_lists_and_find_open_and_save_do_not_wait(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    size = LARGE if DRAWS == "long" else SMALL
    path = tmp_path / "practice.sennight"
    make(path, size)
    took = measure(path, runs=draws(12, long=30))
    with capsys.disabled():
        print(f"\n{size}: {path.stat().st_size / 1e6:.1f} MB")
        for name, spent in took.items():
            print(f"{name:24}{spent}")
    assert took["clients list"].part(50) < LIST
    assert took["Bench"].part(50) < LIST
    assert took["find: a letter"].part(50) < 4 * FIND
    assert took["find: after a save"].part(50) < FIND
    assert took["find: read anew"].part(50) < READ_ANEW
    assert took["open and close"].part(50) < OPEN
    assert took["save an edit"].part(50) < SAVE
    assert path.stat().st_size < 50 * size.marks + 8_000 * size.courses + 1_000_000
