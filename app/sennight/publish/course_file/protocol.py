"""The protocol of a course file: phases with their lines."""

from __future__ import annotations

from fractions import Fraction

from sennight.domain.courses.problems import nearest
from sennight.domain.courses.protocols import (
    MOST_PERCENT,
    AdviceLine,
    Ceiling,
    CountFrom,
    Gate,
    Line,
    Phase,
    Protocol,
    Step,
    Threshold,
)
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.follow_up.measures import NO_OWN
from sennight.knowledge.vocabulary import Vocabulary
from sennight.publish.course_file.measures import MOST as MOST_RATING
from sennight.toml_tables import (
    LINE,
    NAME,
    Table,
    either,
    flag,
    number,
    one_of,
    read_value,
    whole,
)

LENGTHS = {"days": CalendarUnit.DAYS, "weeks": CalendarUnit.WEEKS, "months": CalendarUnit.MONTHS}
"""The keys that give a length."""

_MOST = {"days": 36500, "weeks": 5200, "months": 1200}
"""A hundred years: anything longer is a slip of the keyboard."""

_PHASE_KEYS = (
    *("id", "purpose", *LENGTHS, "open", "at_least_weeks", "stand_in", "trigger"),
    *("line", "advice", "gate"),
)
MOST_DOSES = 99
"""No ceiling of a day is higher, like that of a line."""


def read_protocol(table: Table, words: Vocabulary) -> Protocol:
    """The protocol with its phases in the file's order."""
    table.only("name", "aims", "phase", "ceiling")
    return Protocol(
        name=table.may("name", NAME, ""),
        phases=tuple(_phase(phase) for phase in table.tables("phase", needed=True)),
        aims=_aims(table, words),
        ceilings=tuple(_ceiling(ceiling) for ceiling in table.tables("ceiling")),
    )


def _ceiling(table: Table) -> Ceiling:
    table.only("remedies", "most_per_day")
    if "remedies" not in table.data:
        table.report.add((*table.place, "remedies"), "missing; expected a list of remedies' ids")
    named = (
        read_value(entry, NAME, place, table.report) or ""
        for place, entry in table.entries("remedies")
    )
    return Ceiling(tuple(named), table.need("most_per_day", whole(1, MOST_DOSES)))


def _aims(table: Table, words: Vocabulary) -> tuple[str, ...]:
    aims = []
    for place, aim in table.entries("aims"):
        if not isinstance(aim, str) or aim not in words.actions:
            near = nearest(aim, words.actions) if isinstance(aim, str) else ""
            expected = "expected an action of the vocabulary"
            table.report.add(place, f"unknown action “{aim}”; {expected}{near}")
        aims.append(str(aim))
    return tuple(aims)


def _phase(table: Table) -> Phase:
    table.only(*_PHASE_KEYS)
    phase_id = table.need("id", NAME)
    return Phase(
        id=phase_id,
        purpose=table.may("purpose", NAME, phase_id),
        length=_length(table),
        lines=tuple(_line(line) for line in table.tables("line")),
        gate=_gate(table.table("gate")) if "gate" in table.data else None,
        stand_in=table.may("stand_in", either(), default=False),
        advice=tuple(_advice(advice) for advice in table.tables("advice")),
        at_least_weeks=table.perhaps("at_least_weeks", whole(1, _MOST["weeks"])),
        trigger=table.may("trigger", LINE, ""),
    )


def _length(table: Table) -> Length | None:
    """The phase's length; None where it is open."""
    given = [key for key in (*LENGTHS, "open") if key in table.data]
    if len(given) != 1:
        given_keys = f"found {' and '.join(given)}" if given else "found none"
        message = f"expected exactly one of days, weeks, months, open = true; {given_keys}"
        table.report.add((*table.place, given[1]) if given else table.place, message)
        return Length(1, CalendarUnit.WEEKS)
    if given == ["open"]:
        table.need("open", flag())
        return None
    key = given[0]
    return Length(table.need(key, whole(1, _MOST[key])), LENGTHS[key])


def _line(table: Table) -> Line:
    table.only("remedy", "take", "steps", "count_from", "site", "note")
    remedy = table.need("remedy", NAME)
    directions, following = table.take()
    steps = tuple(_step(step) for step in table.tables("steps"))
    if steps and following:
        message = "what follows is said in take already; expected either “then” there, or steps"
        table.report.add((*table.place, "steps"), message)
    return Line(
        remedy=remedy,
        directions=directions,
        steps=steps or following,
        count_from=table.may(
            "count_from", one_of(CountFrom, CountFrom.ANCHOR), default=CountFrom.ANCHOR
        ),
        site=table.may("site", NAME, ""),
        note=table.may("note", NAME, ""),
    )


def _step(table: Table) -> Step:
    table.only("after_weeks", "after_days", "take")
    return Step(_days_in(table), table.directions())


def _days_in(table: Table) -> int:
    """How many days into the phase a step comes, given in weeks or in days."""
    if "after_days" not in table.data:
        return 7 * table.need("after_weeks", whole(1, _MOST["weeks"]))
    if "after_weeks" in table.data:
        message = "expected exactly one of after_weeks, after_days; found both"
        table.report.add((*table.place, "after_days"), message)
    return table.need("after_days", whole(1, _MOST["days"]))


def _advice(table: Table) -> AdviceLine:
    table.only("text", "take", "remind", "diary")
    return AdviceLine(
        text=table.need("text", LINE),
        timing=table.timing() if "take" in table.data else None,
        remind=table.may("remind", either(), default=False),
        diary=table.may("diary", either(), default=False),
    )


def _gate(table: Table) -> Gate:
    """What is waited for is said by exactly one of the thresholds' keys."""
    table.only("measure", *Threshold, "by_weeks")
    measure = table.need("measure", NAME)
    low, high = NO_OWN.scale(measure) if NO_OWN.of(measure) else (0, MOST_RATING)
    given = [wants for wants in Threshold if wants in table.data]
    for wants in given[1:]:
        message = f"expected exactly one of {', '.join(Threshold)}; found {given[0]} too"
        table.report.add((*table.place, wants), message)
    wants = given[0] if given else Threshold.FALL_PERCENT
    amount: Fraction | int
    if wants.is_percent:
        amount = table.need(wants, whole(1, MOST_PERCENT[wants]))
    elif wants.is_level:
        amount = table.need(wants, number(low, high, from_there=True))
    else:
        amount = table.need(wants, number(0, high))
    by_weeks = table.perhaps("by_weeks", whole(1, _MOST["weeks"]))
    return Gate(measure, amount, wants, by_weeks)
