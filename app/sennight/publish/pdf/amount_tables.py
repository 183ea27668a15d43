"""Amounts of herbs against their published ranges, and ethanol, as tables for practitioners."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from reportlab.platypus import Flowable

from sennight.domain.amounts import rounded
from sennight.domain.courses.courses import Course
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import plain_dates
from sennight.domain.exposure.ethanol import CONTRACTION, EthanolRow
from sennight.domain.exposure.exposure import Exposure
from sennight.domain.tag_words import upper_first
from sennight.domain.take_home.names import plan_name
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.style import Page
from sennight.publish.pdf.tables import columns, section

_PLACES = 2
RUNS_TOLD = 3
"""How many runs of days are told one by one."""


def amount_table(
    page: Page, exposures: Sequence[Exposure], herbs: Mapping[str, str]
) -> list[Flowable]:
    """A row for each amount of a herb in a form, with all the days of it."""
    if not exposures:
        return []
    sources = sorted({row.source.rstrip(".") for row in exposures if row.source})
    days: dict[tuple[str, str, str], list[Exposure]] = {}
    for row in exposures:
        herb = f"{herbs.get(row.herb, row.herb)}, {row.form or 'all forms'}"
        key = f" [{sources.index(row.source.rstrip('.')) + 1}]" if row.source else ""
        days.setdefault((herb, _daily(row), f"{_range(row)}{key}"), []).append(row)
    content = [(herb, _all_days(told), a_day, at) for (herb, a_day, at), told in days.items()]
    content.sort(key=lambda row: row[0].casefold())
    heads = ("Herb", "Days", "A day", "Range, and place in it")
    table = columns(page, heads, content, (25, 40, 11, 24))
    told_from = "; ".join(f"[{n}] {source}" for n, source in enumerate(sources, start=1))
    legend = [text(f"Ranges from: {told_from}.", "quiet")] if sources else []
    return [*section(page, "Amounts", table), table, *legend]


def _all_days(told: Sequence[Exposure | EthanolRow]) -> str:
    """The runs of days of an amount; of many the first and last day, and how many there are."""
    spans = [row.span for row in told if not row.if_flare]
    plans = dict.fromkeys(plan_name(row.if_flare) for row in told if row.if_flare)
    days = [plain_dates(span) for span in spans]
    if len(spans) > RUNS_TOLD:
        whole = Span(min(span.first for span in spans), max(span.end for span in spans))
        days = [f"{plain_dates(whole)}, {len(spans)} separate periods"]
    return "; ".join([*days, *plans])


def _span_words(low: Fraction | None, high: Fraction | None, unit: str) -> str:
    if low is None and high is None:
        return "not known"
    words = [rounded(value, _PLACES) for value in (low, high) if value is not None]
    return f"{' to '.join(dict.fromkeys(words))}{unit}"


def _daily(row: Exposure) -> str:
    if row.form is None:
        return "" if row.fraction_of_max is None else _percent(row.fraction_of_max)
    return _span_words(row.daily_low, row.daily_high, " g")


def _percent(fraction: Fraction) -> str:
    return f"{rounded(fraction * 100, 0)} % of the maximum"


def _range(row: Exposure) -> str:
    if row.form is None:
        return upper_first(row.band)
    if row.low is None and row.high is None:
        return upper_first(row.why or row.band)
    memory = ", not yet checked" if row.from_memory else ""
    return f"{_span_words(row.low, row.high, ' g')}: {row.band}{memory}"


def ethanol_table(page: Page, ethanol: Sequence[EthanolRow], course: Course) -> list[Flowable]:
    """The alcohol of each remedy that has some: a row for each amount, with all its days."""
    days: dict[tuple[str, str, str, str], list[EthanolRow]] = {}
    for row in ethanol:
        if row.strength == 0:
            continue
        amounts = (
            course.remedy(row.remedy).name,
            "not known" if row.strength is None else f"{rounded(row.strength, 0)} %",
            _span_words(row.per_dose, None, " g"),
            _span_words(row.per_day_high, None, " g"),
        )
        days.setdefault(amounts, []).append(row)
    content = [(name, _all_days(told), *amounts) for (name, *amounts), told in days.items()]
    if not content:
        return []
    heads = ("Remedy", "Days", "Strength", "A dose", "Most in a day")
    table = columns(page, heads, content, (25, 37, 11, 12, 15))
    return [
        *section(page, "Alcohol", table),
        table,
        text(f"{upper_first(CONTRACTION)}.", "quiet"),
    ]
