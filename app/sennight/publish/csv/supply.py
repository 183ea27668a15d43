"""What a course needs of each remedy, phase by phase, as CSV.

Amounts are the timed doses and the share of the most that as-needed lines allow, half unless the
practice says otherwise, and what is spilt, if that is set. `containers` are
those to add for the phase, what is left of earlier ones used first; `lasts_until` and `order_by`
are empty where nothing runs out, and with `containers` where only applications are counted. What
is kept at home for a flare-up plan has no dates, but for the day to order it again where a flare
has used it.
"""

from __future__ import annotations

from collections.abc import Iterable

from sennight.domain.supply.containers import PhaseSupply
from sennight.publish.csv.courses import csv_bytes
from sennight.publish.csv.exposure import number

SUPPLY = (
    "remedy",
    "phase",
    "amount",
    "unit",
    "containers",
    "first_needed",
    "lasts_until",
    "order_by",
)


def supply_csv(rows: Iterable[PhaseSupply]) -> bytes:
    """One row for each remedy in each phase; a changed formula has a row of its own."""
    return csv_bytes(SUPPLY, (_row(row) for row in rows))


def _row(row: PhaseSupply) -> tuple[object, ...]:
    return (
        row.bottle.remedy,
        row.phase,
        number(row.amount),
        row.bottle.unit,
        row.containers,
        row.first_needed,
        row.lasts_until,
        row.order_by,
    )
