"""A course looked back on, in words: how it goes, and what was taken by what.

It tells what got worse first, and neither cheers nor proposes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import assert_never

from sennight.domain.amounts import plain_number
from sennight.domain.charts.review import Review
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.directions.plain_words import (
    WEEKDAY_NAMES,
    counted,
    listed,
    plain_date,
    plain_moment,
)
from sennight.domain.follow_up.adherence import Adherence, AdherenceReport, Share, by_weekday
from sennight.domain.follow_up.fullness import MomentShare
from sennight.domain.follow_up.measures import Verdict
from sennight.domain.follow_up.progress import Progress


class Cut(StrEnum):
    """By what the diary is counted."""

    ALL = "all"
    REMEDY = "remedy"
    PHASE = "phase"
    MOMENT = "moment"
    WEEKDAY = "weekday"


@dataclass(frozen=True, slots=True)
class ShareRow:
    """What was taken of what was due, in one cut: its name, the doses, the percentage, remarks.

    `percent` is empty where none is told.
    """

    cut: Cut
    name: str
    doses: str
    percent: str = ""
    remark: str = ""


def share_rows(review: Review) -> tuple[ShareRow, ...]:
    """Over all, then by remedy, phase, moment and weekday; nothing without a diary."""
    report = review.report
    if report is None:
        return ()
    names = {remedy.id: remedy.name for remedy in review.layout.course.remedies}
    return (
        _row(Cut.ALL, "All remedies", report.overall),
        *(_row(Cut.REMEDY, names[name], a) for name, a in report.remedies if _is_told(a)),
        *(_row(Cut.PHASE, phase_title(name), a) for name, a in report.phases if _is_told(a)),
        *(_moment_row(share) for share in review.moments),
        *_weekday_rows(report),
    )


def _is_told(adherence: Adherence) -> bool:
    return bool(adherence.all_due or adherence.as_needed or adherence.extra)


def _row(cut: Cut, name: str, adherence: Adherence) -> ShareRow:
    doses = f"{adherence.taken} of {adherence.due}" if adherence.due else "nothing due"
    return ShareRow(cut, name, doses, _percent(adherence.proportion), _remark(adherence))


def _percent(share: Fraction | None) -> str:
    return "" if share is None else f"{round(share * 100)} %"


def _remark(adherence: Adherence) -> str:
    """What stands beside the proportion: days without an entry, as needed, above the due."""
    told = []
    missing = adherence.days_due - adherence.days_recorded
    if missing:
        told.append(f"{counted(missing, 'day')} without an entry")
    if adherence.as_needed:
        told.append(f"{adherence.as_needed} as needed")
    if adherence.extra:
        told.append(f"{adherence.extra} above what was due")
    return ", ".join(told)


def _moment_row(share: MomentShare) -> ShareRow:
    name = _capital(plain_moment(share.moment)) if share.moment else "At set times"
    if share.least == share.most:
        percent = _percent(Fraction(share.most, share.due))
        return ShareRow(Cut.MOMENT, name, f"{share.most} of {share.due}", percent)
    doses = f"{share.least} to {share.most} of {share.due}"
    return ShareRow(Cut.MOMENT, name, doses, remark="which were missed is not recorded")


def _weekday_rows(report: AdherenceReport) -> Iterator[ShareRow]:
    for name, share in zip(WEEKDAY_NAMES, by_weekday(report.days), strict=True):
        if share.due:
            yield _share_row(name, share)


def _share_row(name: str, share: Share) -> ShareRow:
    return ShareRow(Cut.WEEKDAY, name, f"{share.taken} of {share.due}", _percent(share.proportion))


def _capital(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def how_it_goes(review: Review) -> str:
    """`Worse: pain (5 to 8). Better: sleep (4 to 6).` The worse comes first, and nothing is added.

    Empty where no measure has two ratings.
    """
    groups: dict[str, list[str]] = {"Worse": [], "The same": [], "Changed": [], "Better": []}
    for each in review.progress:
        if len(each.ratings) > 1:
            groups[_group(each)].append(_change(each))
    return " ".join(f"{head}: {listed(told)}." for head, told in groups.items() if told)


def _group(each: Progress) -> str:
    match each.verdict:
        case Verdict.WORSE | Verdict.SLIGHTLY_WORSE:
            return "Worse"
        case Verdict.SAME:
            return "The same"
        case Verdict.BETTER | Verdict.AT_THE_EDGE | Verdict.SLIGHTLY_BETTER:
            return "Better"
        case None:
            return "Changed"
        case _:
            assert_never(each.verdict)


def _change(each: Progress) -> str:
    name = f"{each.name[:1].lower()}{each.name[1:]}"
    return f"{name} ({plain_number(each.first)} to {plain_number(each.last)})"


def taken_sentence(review: Review) -> str:
    """What was taken over all, in a sentence; that there is no diary where there is none."""
    if review.report is None:
        return "No diary was entered."
    overall = review.report.overall
    if not overall.due:
        return "None of the doses due has an entry."
    until = plain_date(review.report.days[-1].day)
    doses = counted(overall.due, "dose")
    told = f"Up to {until}, {overall.taken} of {doses} with an entry were taken"
    if overall.proportion is not None:
        told += f" ({_percent(overall.proportion)})"
    missing = overall.all_due - overall.due
    if missing:
        told += f"; {missing} more that were due have no entry"
    if overall.proportion is None:
        told += ", too many for a percentage to mean anything"
    return f"{told}."
