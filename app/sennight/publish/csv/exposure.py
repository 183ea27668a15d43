"""What a course gives of each herb and of ethanol, and which actions it bears, as CSV.

Dates are ISO 8601, days both ends included. Numbers are exact where they have a finite decimal
form, else rounded to 6 places, halves away from zero. A cell is empty where the number is not
known, and `source` then says why. In the rows over all of a herb's forms the numbers are
fractions of the maxima, see `sennight.domain.exposure.exposure`.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from sennight.domain.amounts import is_decimal, plain_number, rounded
from sennight.domain.exposure.coverage import Coverage
from sennight.domain.exposure.ethanol import EthanolRow
from sennight.domain.exposure.exposure import Exposure
from sennight.publish.csv.courses import csv_bytes

EXPOSURE = (
    "first_day",
    "last_day",
    "herb",
    "form",
    "days",
    "daily_low",
    "daily_high",
    "unit",
    "range_low",
    "range_high",
    "fraction_of_max",
    "band",
    "source",
    "if_flare",
)
ETHANOL = (
    "first_day",
    "last_day",
    "remedy",
    "strength_percent",
    "grams_per_dose",
    "grams_per_day_high",
    "if_flare",
)
ACTIONS = ("phase", "action", "wanted", "weight", "remedies")
_PLACES = 6


def exposure_csv(rows: Iterable[Exposure]) -> bytes:
    """Each herb's daily amount against its range."""
    return csv_bytes(EXPOSURE, (_exposure_row(row) for row in rows))


def _exposure_row(row: Exposure) -> tuple[object, ...]:
    remark = "; ".join(part for part in (row.source, row.why) if part)
    return (
        *_dates(row),
        row.herb,
        row.form or "all",
        row.days or "mixed",
        number(row.daily_low),
        number(row.daily_high),
        "g" if row.form else None,
        number(row.low),
        number(row.high),
        number(row.fraction_of_max),
        row.band,
        remark,
        row.if_flare or None,
    )


def _dates(row: Exposure | EthanolRow) -> tuple[object, object]:
    """First and last day; none where a flare-up plan may begin on any day."""
    return (None, None) if row.if_flare else (row.span.first, row.span.last)


def ethanol_csv(rows: Iterable[EthanolRow]) -> bytes:
    """The ethanol of each tincture; contraction on mixing is left out."""
    return csv_bytes(ETHANOL, (_ethanol_row(row) for row in rows))


def _ethanol_row(row: EthanolRow) -> tuple[object, ...]:
    return (
        *_dates(row),
        row.remedy,
        number(row.strength),
        number(row.per_dose),
        number(row.per_day_high),
        row.if_flare or None,
    )


def actions_csv(rows: Iterable[Coverage]) -> bytes:
    """Which actions each phase bears; a wanted one without remedies is a gap."""
    cells = (
        (
            row.phase,
            row.action,
            "yes" if row.wanted else "no",
            number(row.weight),
            " ".join(row.remedies),
        )
        for row in rows
    )
    return csv_bytes(ACTIONS, cells)


def number(value: Fraction | None) -> str | None:
    """An exact number, or rounded to six places; None for none."""
    if value is None:
        return None
    return plain_number(value) if is_decimal(value) else rounded(value, _PLACES)
