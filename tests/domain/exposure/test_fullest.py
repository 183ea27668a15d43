"""Of some days the fullest of each herb, the gravest first."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest

from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course
from sennight.domain.courses.protocols import Protocol
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.exposure.bands import Band
from sennight.domain.exposure.exposure import Exposure, exposures
from sennight.domain.exposure.fullest import GRAVEST_FIRST, fullest
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy, TeaMaking
from support import samples
from support.herb_samples import herb, materia_medica_of, row
from support.samples import line, phase

MATERIA_MEDICA = materia_medica_of(
    herb("b", row("infusion", "1-20 g")), herb("a", row("infusion", "1-2 g")), herb("c")
)
TEA = Remedy(
    "t",
    "Tea",
    Form.TEA,
    tuple(Ingredient(name, Fraction(1)) for name in ("b", "a", "c")),
    TeaMaking(Fraction(6)),
)


@pytest.fixture
def rows() -> tuple[Exposure, ...]:
    """2 g of each herb in a cup: three cups a day for a week, then one."""
    protocol = Protocol(
        "Test",
        (
            phase("full", "1 w", line("t", "1 cup tds")),
            phase("less", "1 w", line("t", "1 cup od")),
        ),
    )
    course = Course("c", Client("Una"), (TEA,), protocol, samples.START)
    return exposures(lay_out(course), MATERIA_MEDICA)


def days(first: int, last: int) -> Span:
    return Span.of_days(samples.day(first), samples.day(last))


def told(rows: tuple[Exposure, ...]) -> list[tuple[str, Band, object]]:
    return [(row.herb, row.band, row.daily_high) for row in rows]


def test_of_several_rows_the_fullest_is_taken_and_the_gravest_comes_first(
    rows: tuple[Exposure, ...],
) -> None:
    assert told(fullest(rows, [days(1, 14)])) == [
        ("a", Band.OVER, 6),
        ("c", Band.UNKNOWN, 6),
        ("b", Band.LOW, 6),
    ]
    later = fullest(rows, [days(8, 8)])
    assert {row.herb: row.daily_high for row in later} == {"a": 2, "b": 2, "c": 2}


def test_other_days_have_none(rows: tuple[Exposure, ...]) -> None:
    assert fullest(rows, [Span.of_days(date(2020, 1, 1), date(2020, 1, 9))]) == ()
    assert fullest(rows, []) == ()


def test_every_band_has_its_place() -> None:
    assert sorted(GRAVEST_FIRST) == sorted(Band)
