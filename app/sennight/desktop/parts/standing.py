"""Where a client and a course stand today, in words."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from sennight.desktop.kit.reading import times_text
from sennight.desktop.kit.translating import translate
from sennight.domain.courses.clients import Fact, Reaction
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import course_week, whole_months, whole_years
from sennight.domain.directions.plain_words import listed, plain_date, plain_day
from sennight.knowledge.vocabulary import vocabulary


def age_words(born: date | None, today: date) -> str:
    """A client's age: `56 years`, `7 months`; empty where the day of birth is not known."""
    if born is None:
        return ""
    years = whole_years(born, today)
    if years >= 2:
        return translate("Clients", "{years} years").format(years=years)
    months = whole_months(born, today)
    if months == 1:
        return translate("Clients", "1 month")
    return translate("Clients", "{months} months").format(months=months)


def standing(layout: Layout, today: date) -> str:
    """Where a course stands: `Week 3, Loading`, `starts on …`, `ended on …`."""
    days = layout.days
    if today < days.first:
        return translate("Clients", "starts on {day}").format(day=plain_date(days.first))
    if today >= days.end:
        return translate("Clients", "ended on {day}").format(day=plain_date(days.last))
    week = course_week(days.first, today)
    return translate("Clients", "Week {week}, {state}").format(
        week=week, state=_state(layout, today)
    )


def _state(layout: Layout, today: date) -> str:
    flare = next((run for run in layout.flares if today in run.span), None)
    if flare is not None:
        return translate("Clients", "flare-up")
    if any(today in span for span in layout.pauses):
        return translate("Clients", "paused")
    run = layout.phase_on(today)
    return phase_title(run.phase.id) if run else translate("Clients", "between phases")


def course_sentence(name: str, layout: Layout) -> str:
    """`“Winter joints” starts on Monday 4 January 2027 and runs to Sunday 2 January 2028.`"""
    return translate("Clients", "“{name}” starts on {first} and runs to {last}.").format(
        name=name, first=plain_day(layout.days.first), last=plain_day(layout.days.last)
    )


# Facts


def reaction_words(reaction: Reaction, names: Mapping[str, str]) -> str:
    """A reaction in a few words: `willow bark, 3 March 2027`; one struck out says so."""
    herbs = listed([names.get(herb, herb) for herb in reaction.herbs])
    text = f"{herbs}, {plain_date(reaction.day)}"
    if reaction.is_void:
        return translate("Clients", "{reaction} (struck out: {why})").format(
            reaction=text, why=reaction.void
        )
    return text


def fact_words(fact: Fact) -> str:
    """A fact with the times and the days on which it holds, where these are known."""
    name = fact.label(vocabulary().words)
    if not fact.is_known:
        name = translate("Clients", "{name} (not checked)").format(name=name)
    if fact.at:
        name = translate("Clients", "{name} at {times}").format(
            name=name, times=times_text(fact.at)
        )
    if fact.since and fact.until:
        text = translate("Clients", "{name} (from {first} to {last})")
        return text.format(name=name, first=plain_date(fact.since), last=plain_date(fact.until))
    if fact.since:
        return translate("Clients", "{name} (from {first})").format(
            name=name, first=plain_date(fact.since)
        )
    if fact.until:
        return translate("Clients", "{name} (to {last})").format(
            name=name, last=plain_date(fact.until)
        )
    return name


def facts_words(facts: tuple[Fact, ...], *, asked: bool = False) -> str:
    """Facts as a list; where there are none, whether anybody asked."""
    if not facts:
        return none_words(asked=asked)
    listed = ", ".join(fact_words(fact) for fact in facts)
    return listed[0].upper() + listed[1:]


def none_words(*, asked: bool) -> str:
    """That nothing is recorded: asked for, or not, which proves nothing."""
    return translate("Clients", "asked: none") if asked else translate("Clients", "not asked")
