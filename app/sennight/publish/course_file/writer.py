"""Writes a course as a course file, laid out for people; reading it gives the same values."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sennight.domain.courses.courses import (
    Course,
)
from sennight.domain.courses.protocols import (
    AdviceLine,
    CountFrom,
    Gate,
    Line,
    Phase,
    Protocol,
    Step,
)
from sennight.domain.dates import CalendarUnit
from sennight.domain.directions.directions import Unit
from sennight.domain.follow_up.diaries import NOTHING_REPORTED, Reported
from sennight.domain.follow_up.measures import NO_OWN, Measures
from sennight.domain.herbs.own_herbs import CarriedHerb
from sennight.domain.remedies.contents import has_sugar_in_nothing
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import (
    DROPS_PER_ML,
    Base,
    Ingredient,
    Method,
    Portion,
    Remedy,
)
from sennight.publish.course_file.client_writer import client_tables
from sennight.publish.course_file.decisions_writer import decision_tables
from sennight.publish.course_file.measures import measure_table
from sennight.publish.course_file.own_herbs import own_herb_tables
from sennight.publish.course_file.protocol import LENGTHS
from sennight.publish.course_file.remedies import (
    DEFAULT_MINUTES,
    grams_key,
    usual_sugar,
)
from sennight.publish.course_file.toml_values import (
    inline,
    quoted,
    ratio_value,
    table,
    unless,
    value_list,
)

_KEYS: dict[CalendarUnit, str] = {unit: key for key, unit in LENGTHS.items()}


def course_toml(
    course: Course,
    reported: Reported = NOTHING_REPORTED,
    herbs: Sequence[CarriedHerb] = (),
    measures: Measures = NO_OWN,
) -> str:
    """The text of a course file, with the own `herbs` that it brings along.

    The course's id is not in it; reading makes one anew.
    """
    blocks = [
        "version = 1\n",
        *client_tables(course.client),
        *own_herb_tables(herbs),
        *(_remedy(remedy) for remedy in course.remedies),
        *_protocol(course.protocol),
        *_course(course),
        *(measure_table(measure) for measure in measures.own),
        diary_toml(reported),
    ]
    return "\n".join(block for block in blocks if block)


def protocol_toml(
    protocol: Protocol, remedies: Sequence[Remedy], herbs: Sequence[CarriedHerb] = ()
) -> str:
    """The text of a protocol file: the protocol, its remedies and the own herbs in them."""
    blocks = [
        "version = 1\n",
        *own_herb_tables(herbs),
        *(_remedy(remedy) for remedy in remedies),
        *_protocol(protocol),
    ]
    return "\n".join(block for block in blocks if block)


def diary_toml(reported: Reported) -> str:
    """What a client reported, as the entries of a course file; empty where it is nothing."""
    blocks = [
        *(table("[[diary]]", date=e.day, remedy=e.remedy, taken=e.doses) for e in reported.taken),
        *(
            table("[[diary]]", date=e.day, advice=e.advice, done=e.times)
            for e in reported.followed
        ),
        *(table("[[diary]]", date=e.day, note=e.words) for e in reported.notes),
        *(
            table("[[score]]", date=s.day, measure=s.measure, value=s.value)
            for s in reported.scores
        ),
    ]
    return "\n".join(blocks)


# Tables


def _remedy(remedy: Remedy) -> str:
    tea, base = remedy.tea, remedy.base or Base(sugar=usual_sugar(remedy.form))
    making = {}
    if tea:
        making = {
            grams_key(remedy.form): tea.grams_per_cup,
            "water_ml": unless(tea.water_ml, remedy.form.facts.water_ml),
            "method": unless(tea.method, Method.INFUSION),
            "minutes": unless(tea.minutes, DEFAULT_MINUTES[tea.method]),
        }
    return table(
        "[[remedy]]",
        id=remedy.id,
        name=unless(remedy.name, remedy.id),
        form=remedy.form,
        **making,
        drops_per_ml=unless(remedy.drops_per_ml, DROPS_PER_ML),
        base=base.name or None,
        base_parts=base.parts if base.parts or has_sugar_in_nothing(remedy) else None,
        sugar=unless(base.sugar, usual_sugar(remedy.form)),
        batch_g=remedy.batch_g,
        grams_per_tsp=remedy.spoon_g,
        stir_into=remedy.stirred_into or None,
        **_dropperful(remedy.dropperful),
        mg_in=remedy.mg_in,
        container=remedy.container,
        parts=value_list(
            _ingredient(ingredient, remedy.form) for ingredient in remedy.ingredients
        ),
    )


def _dropperful(holds: Portion | None) -> dict[str, object]:
    if holds is None:
        return {}
    return {f"{'ml' if holds.unit is Unit.ML else 'drops'}_per_dropperful": holds.amount}


def _ingredient(ingredient: Ingredient, form: Form) -> str:
    usual = form.facts.fillings[0] if form.facts.fillings else None
    return inline(
        herb=ingredient.herb,
        parts=ingredient.parts,
        mg=ingredient.mg,
        percent=ingredient.percent,
        drops=ingredient.drops,
        as_=unless(ingredient.filling, usual),
        ratio=ratio_value(ingredient.ratio),
        ethanol=ingredient.ethanol,
    )


def _protocol(protocol: Protocol) -> Iterator[str]:
    aims = value_list(quoted(aim) for aim in protocol.aims)
    yield table("[protocol]", name=protocol.name or None, aims=aims)
    for ceiling in protocol.ceilings:
        remedies = value_list(quoted(remedy) for remedy in ceiling.remedies)
        yield table("[[protocol.ceiling]]", remedies=remedies, most_per_day=ceiling.most)
    for phase in protocol.phases:
        yield _phase(phase)
        for line in phase.lines:
            yield _line(line)
        for advice in phase.advice:
            yield _advice(advice)
        if phase.gate:
            yield _gate(phase.gate)


def _gate(gate: Gate) -> str:
    amount = {str(gate.wants): gate.amount}
    return table("[protocol.phase.gate]", measure=gate.measure, **amount, by_weeks=gate.by_weeks)


def _phase(phase: Phase) -> str:
    length: dict[str, object] = {"open": True}
    if phase.length:
        length = {_KEYS[phase.length.unit]: phase.length.count}
    return table(
        "[[protocol.phase]]",
        id=phase.id,
        purpose=phase.purpose,
        **length,
        at_least_weeks=phase.at_least_weeks,
        stand_in=phase.stand_in or None,
        trigger=phase.trigger or None,
    )


def _line(line: Line) -> str:
    return table(
        "[[protocol.phase.line]]",
        remedy=line.remedy,
        take=line.directions,
        steps=value_list(_step(step) for step in line.steps),
        count_from=line.count_from if line.count_from is CountFrom.COURSE else None,
        site=line.site or None,
        note=line.note or None,
    )


def _step(step: Step) -> str:
    key = "after_weeks" if step.after.unit is CalendarUnit.WEEKS else "after_days"
    return inline(**{key: step.after.count, "take": step.directions})


def _advice(advice: AdviceLine) -> str:
    return table(
        "[[protocol.phase.advice]]",
        text=advice.text,
        take=advice.timing,
        remind=advice.remind or None,
        diary=advice.diary or None,
    )


def _course(course: Course) -> Iterator[str]:
    yield table(
        "[course]",
        start=course.start,
        until=course.until,
        void=course.void or None,
        void_on=course.void_on,
    )
    yield from decision_tables(course)
