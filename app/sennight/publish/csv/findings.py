"""The findings of a course as CSV, the worst first; days both ends included."""

from __future__ import annotations

from collections.abc import Iterable

from sennight.domain.safety.wording import WordedFinding
from sennight.publish.csv.courses import csv_bytes

FINDINGS = (
    "severity",
    "finding",
    "client_fact",
    "herb",
    "remedy",
    "first_day",
    "last_day",
    "text",
    "source",
    "instead",
    "client_text",
)


def findings_csv(found: Iterable[WordedFinding]) -> bytes:
    """One row a finding; several herbs or remedies are joined by a space."""
    return csv_bytes(FINDINGS, (_row(one) for one in found))


def _row(one: WordedFinding) -> tuple[object, ...]:
    return (
        one.severity,
        one.id,
        one.fact,
        " ".join(one.herbs),
        " ".join(one.remedies),
        one.first,
        one.last,
        one.text,
        one.source,
        " ".join(one.instead),
        one.client_text,
    )
