"""The printed sheets as they were last looked at and found good: text and place, not bytes.

After a change that was meant, look at every page, then renew what is kept:
`RENEW_GOLDEN=1 pytest tests/publish/handout/test_golden.py`.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable

import pytest

from sennight.domain.courses.courses import Course
from sennight.domain.take_home.choices import Print
from support.files import GOLDEN
from support.handout_samples import many_remedies, sheet_pdf, three_months
from support.pdf_pages import Run, runs

FOLDER = GOLDEN / "handout"
NEAR = 3.0
"""Points by which text may have moved."""
CASES: dict[str, tuple[Callable[[], Course], str, Print]] = {
    "three-months-a4": (three_months, "A4", Print.STANDARD),
    "three-months-letter": (three_months, "Letter", Print.STANDARD),
    "three-months-a5": (three_months, "A5", Print.STANDARD),
    "three-months-large": (three_months, "A4", Print.LARGE),
    "twelve-remedies-a4": (lambda: many_remedies(12), "A4", Print.STANDARD),
}


def printed(case: str) -> list[Run]:
    make, paper, letters = CASES[case]
    return runs(sheet_pdf(make(), paper, letters))


def lines(found: list[Run]) -> list[str]:
    """One piece of text a line: page, place, size and the words."""
    return [
        json.dumps(
            [r.page, round(r.x, 1), round(r.y, 1), round(r.size, 1), r.text], ensure_ascii=False
        )
        for r in found
    ]


@pytest.mark.parametrize("case", CASES)
def test_text_stands_where_it_stood(case: str) -> None:
    file, now = FOLDER / f"{case}.jsonl", printed(case)
    if os.environ.get("RENEW_GOLDEN"):
        file.write_text("".join(f"{line}\n" for line in lines(now)), "utf-8")
        pytest.skip("the file was written anew")
    kept = [json.loads(line) for line in file.read_text("utf-8").splitlines()]
    assert [(r.page, r.text) for r in now] == [(page, words) for page, _, _, _, words in kept]
    for run, (_, x, y, size, words) in zip(now, kept, strict=True):
        assert (run.x, run.y) == pytest.approx((x, y), abs=NEAR), words
        assert run.size == pytest.approx(size, abs=0.1), words
