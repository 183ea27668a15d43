"""What needs attention, in words."""

from __future__ import annotations

from datetime import date, timedelta
from typing import assert_never

from sennight.desktop.kit.translating import translate
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.dates import ONE_DAY
from sennight.domain.directions.plain_words import MONTH_NAMES, WEEKDAY_NAMES, plain_date
from sennight.practice.bench import Item, Matter

SOON = timedelta(days=180)
"""A date nearer than this is told without its year."""


def what_words(item: Item) -> str:  # noqa: C901, PLR0912 - one case a matter
    """What it is: `Next phase: keeping, to 24 October 2027`."""
    match item.matter:
        case Matter.RED_FLAG:
            several = translate("Bench", "{count} red flags were found and are not cleared")
            one = translate("Bench", "A red flag was found and is not cleared")
            return one if item.what == "1" else several.format(count=item.what)
        case Matter.FINDING:
            return translate("Bench", "New since it was given: {what}").format(what=item.what)
        case Matter.FLARE:
            return _until(translate("Bench", "Flare-up plan"), item)
        case Matter.APPOINTMENT:
            at = translate("Bench", "Appointment at {time}").format(time=item.what)
            return at if item.what else translate("Bench", "Appointment")
        case Matter.ORDER:
            return _order_words(item)
        case Matter.REVIEW:
            return translate("Bench", "Review: {phase}").format(phase=phase_title(item.what))
        case Matter.DIARY:
            since = (item.until or item.day) + ONE_DAY
            return translate("Bench", "Diary not entered since {day}").format(
                day=_near(since, item.due)
            )
        case Matter.BEGIN:
            return _until(
                translate("Bench", "Course begins: {phase}").format(phase=phase_title(item.what)),
                item,
            )
        case Matter.PHASE:
            return _until(
                translate("Bench", "Next phase: {phase}").format(phase=phase_title(item.what)),
                item,
            )
        case Matter.PAUSE:
            return _until(translate("Bench", "Break begins"), item)
        case Matter.RESUME:
            return translate("Bench", "Break is over")
        case Matter.FLARE_END:
            return translate("Bench", "Flare-up plan is over; back to the usual plan")
        case Matter.OFF:
            off = translate("Bench", "Days off begin: {remedy}")
            return _until(off.format(remedy=item.what), item)
        case Matter.BACK:
            return translate("Bench", "Days off are over: {remedy}").format(remedy=item.what)
        case Matter.END:
            return translate("Bench", "Last day of the course")
        case _:
            assert_never(item.matter)


def act_words(matter: Matter) -> str:
    """What opening it does, as a verb."""
    match matter:
        case Matter.RED_FLAG:
            return translate("Bench", "Ask again")
        case Matter.DIARY:
            return translate("Bench", "Enter diary")
        case Matter.ORDER:
            return translate("Bench", "See stock")
        case Matter.REVIEW:
            return translate("Bench", "Review")
        case Matter.APPOINTMENT:
            return translate("Bench", "Open folder")
        case Matter.FINDING:
            return translate("Bench", "See finding")
        case (
            Matter.FLARE
            | Matter.BEGIN
            | Matter.PHASE
            | Matter.PAUSE
            | Matter.RESUME
            | Matter.FLARE_END
            | Matter.OFF
            | Matter.BACK
            | Matter.END
        ):
            return translate("Bench", "Open course")
        case _:
            assert_never(matter)


def _until(text: str, item: Item) -> str:
    if item.until is None:
        return text
    return translate("Bench", "{what}, to {day}").format(
        what=text, day=_near(item.until, item.due)
    )


def _order_words(item: Item) -> str:
    if item.until is None:
        none_left = translate("Bench", "Hand over more {remedy}: what was given is not enough")
        return none_left.format(remedy=item.what)
    if item.until <= item.due:  # a flare-up has used it, or it is ordered on its last day
        used_up = translate("Bench", "Used up on {day}: order {remedy}")
        return used_up.format(remedy=item.what, day=_near_in_short(item.until, item.due))
    return translate("Bench", "Lasts until {day}: order {remedy}").format(
        remedy=item.what, day=_near_in_short(item.until, item.due)
    )


def when_words(item: Item, today: date) -> str:
    """Its day where it is overdue, or since when it stands; nothing where that is plain."""
    if item.day == item.due:
        return day_and_month(item.due) if item.due < today else ""
    if item.put_to is not None:
        return translate("Bench", "from {day}").format(day=day_and_month(item.day))
    return translate("Bench", "since {day}").format(day=day_and_month(item.day))


def day_and_month(day: date) -> str:
    """A date without its year, the month in three letters: `16 Nov`."""
    return f"{day.day} {MONTH_NAMES[day.month - 1][:3]}"


def _near(day: date, due: date) -> str:
    """A date, with its year where that is not plain."""
    near = f"{day.day} {MONTH_NAMES[day.month - 1]}"
    return near if abs(day - due) < SOON else plain_date(day)


def _near_in_short(day: date, due: date) -> str:
    """The same, the month in three letters where its year is plain."""
    return day_and_month(day) if abs(day - due) < SOON else plain_date(day)


def group_words(due: date, today: date) -> str:
    """What stands over the items of a day: `Tomorrow, Sunday 29 November`."""
    if due < today:
        return translate("Bench", "Overdue")
    day = f"{WEEKDAY_NAMES[due.weekday()]} {_near(due, today)}"
    if due == today:
        return translate("Bench", "Today, {day}").format(day=day)
    if due == today + timedelta(days=1):
        return translate("Bench", "Tomorrow, {day}").format(day=day)
    return day


def spoken(item: Item, today: date) -> str:
    """The whole of it as a sentence, for a screen reader."""
    parts = (group_words(item.due, today), item.client, what_words(item), item.course)
    return ". ".join(part for part in (*parts, when_words(item, today)) if part)
