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


def findings_csv(worded: Iterable[WordedFinding]) -> bytes:
    """One row a line; its findings, facts, herbs and remedies have `; ` between them."""
    return csv_bytes(FINDINGS, (_row(finding) for finding in worded))


def _row(finding: WordedFinding) -> tuple[object, ...]:
    return (
        finding.severity,
        finding.id,
        finding.fact,
        "; ".join(finding.herbs),
        "; ".join(finding.remedies),
        finding.first,
        finding.last,
        finding.text,
        finding.source,
        " ".join(finding.instead),
        finding.client_text,
    )
