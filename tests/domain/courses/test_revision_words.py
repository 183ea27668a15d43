"""Each kind of revision, said in a sentence."""

from __future__ import annotations

from datetime import date

import pytest

from sennight.domain.courses.courses import (
    Advance,
    End,
    Extend,
    Flare,
    Pause,
    PauseMode,
    Redirect,
    Revision,
    Stay,
    Stop,
)
from sennight.domain.courses.revision_words import revision_sentence
from support import samples

ON = date(2027, 2, 1)
FIRST, LAST = date(2027, 2, 3), date(2027, 2, 9)
TAKE = samples.take("1 cup od")


@pytest.mark.parametrize(
    ("revision", "said"),
    [
        (Extend(on=ON, phase="loading", by=-10), "Loading is 10 days shorter"),
        (
            Extend(on=ON, phase="loading", by=1, in_weeks=True, reason="slow"),
            "Loading is 1 week longer (slow)",
        ),
        (Advance(on=ON, to="keeping", first=FIRST), "Keeping begins on 3 February 2027"),
        (
            Pause(on=ON, first=FIRST, last=LAST, mode=PauseMode.SKIP),
            "no doses from 3 to 9 February 2027; no dates move",
        ),
        (
            Pause(on=ON, first=FIRST, last=FIRST, mode=PauseMode.FREEZE),
            "no doses on 3 February 2027; everything after it moves later",
        ),
        (
            Flare(on=ON, first=FIRST, rescue="rescue"),
            "the flare-up plan starts on 3 February 2027",
        ),
        (
            Flare(on=ON, first=FIRST, last=LAST, rescue="rescue"),
            "the flare-up plan runs from 3 to 9 February 2027",
        ),
        (
            Redirect(on=ON, remedy="t1", first=FIRST, directions=TAKE),
            "Remedy t1 1 cup od from 3 February 2027",
        ),
        (
            Redirect(on=ON, remedy="t1", first=FIRST, last=LAST, directions=TAKE),
            "Remedy t1 1 cup od from 3 to 9 February 2027",
        ),
        (Stop(on=ON, remedy="t1", first=FIRST), "Remedy t1 stops on 3 February 2027"),
        (End(on=ON, first=FIRST), "the course ends; nothing is taken from 3 February 2027"),
        (Stay(on=ON), "the course stays as it is"),
    ],
)
def test_a_revision_is_said(revision: Revision, said: str) -> None:
    course = samples.course(samples.phase("loading", "6 w", samples.line("t1", "1 cup tds")))
    assert revision_sentence(revision, course) == f"1 February 2027: {said}."
