"""Writes a course as a course file, laid out for people; reading it gives the same values."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import time
from typing import assert_never

from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Client, Fact, Topic
from sennight.domain.courses.courses import (
    Advance,
    Course,
    End,
    Extend,
    Flare,
    Join,
    Pause,
    Redirect,
    Reformulate,
    Revision,
    Stay,
    Stop,
    kind_of,
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
from sennight.domain.day import DEFAULT_TIMES, Moment
from sennight.domain.directions.directions import Unit
from sennight.domain.follow_up.diaries import NOTHING_REPORTED, Reported
from sennight.domain.follow_up.measures import NO_OWN, Measures
from sennight.domain.herbs.own_herbs import CarriedHerb
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import (
    DROPS_PER_ML,
    Base,
    Ingredient,
    Method,
    Portion,
    Remedy,
)
from sennight.knowledge.fact_names import fact_written, names_of
from sennight.publish.course_file.measures import measure_table
from sennight.publish.course_file.own_herbs import own_herb_tables
from sennight.publish.course_file.protocol import LENGTHS
from sennight.publish.course_file.remedies import (
    DEFAULT_MINUTES,
    DEFAULT_WATER_ML,
    grams_key,
    usual_sugar,
)
from sennight.publish.course_file.toml_values import (
    Raw,
    inline,
    quoted,
    ratio_value,
    raw_list,
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
        *_client(course.client),
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


def _client(client: Client) -> Iterator[str]:
    yield table(
        "[client]",
        name=client.name,
        born=client.born,
        zone=client.zone,
        weight_kg=client.weight_kg,
        sex=client.sex,
        conditions=_facts(Topic.CONDITIONS, client),
        medicines=_facts(Topic.MEDICINES, client),
        allergies=_facts(Topic.ALLERGIES, client),
        asked=value_list(map(quoted, client.asked)),
    )
    moved = {
        str(moment): when.strftime("%H:%M")
        for moment, when in client.day.times.items()
        if when != DEFAULT_TIMES[moment]
    }
    if moved:
        yield table("[client.day]", **moved)
    for reaction in client.reactions:
        herbs = value_list(quoted(herb) for herb in reaction.herbs)
        header = "[[client.reaction]]"
        yield table(
            header,
            date=reaction.day,
            remedy=reaction.remedy,
            herbs=herbs,
            what=reaction.what,
            severity=reaction.harm,
            outcome=reaction.outcome,
            void=reaction.void or None,
            void_on=reaction.void_on,
        )


def _facts(topic: Topic, client: Client) -> Raw | None:
    return value_list(_fact(topic, fact) for fact in client.facts(topic))


def _fact(topic: Topic, fact: Fact) -> str:
    """A fact as the one name by which reading finds it again, else as a table."""
    text = fact.name or fact.tag
    if fact == (_allergy(fact) if topic is Topic.ALLERGIES else fact_written(topic, text)):
        return quoted(text)
    return inline(
        name=fact.name or None,
        tag=unless(fact.tag, _found_by(topic, fact.name)),
        dose=fact.dose or None,
        at=_times(fact.at),
        from_=fact.since,
        to=fact.until,
        classes=None if fact.classes is None else raw_list(map(quoted, fact.classes)),
        not_for=value_list(map(quoted, fact.not_for)),
    )


def _allergy(fact: Fact) -> Fact:
    """An allergy as its one word would be read: a tag or herb, or words that mean neither."""
    return Fact(fact.tag) if fact.tag else fact_written(Topic.ALLERGIES, fact.name)


def _found_by(topic: Topic, name: str) -> str:
    """The tag that a reader finds by a name; of allergies none, for want of the herbs' names."""
    if not name or topic is Topic.ALLERGIES:
        return ""
    return names_of(topic).exact(name) or ""


def _times(at: tuple[Moment | time, ...]) -> Raw | None:
    return value_list(quoted(str(t) if isinstance(t, Moment) else t.strftime("%H:%M")) for t in at)


def _remedy(remedy: Remedy) -> str:
    tea, base = remedy.tea, remedy.base or Base(sugar=usual_sugar(remedy.form))
    making = {}
    if tea:
        making = {
            grams_key(remedy.form): tea.grams_per_cup,
            "water_ml": unless(tea.water_ml, DEFAULT_WATER_ML),
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
        base_parts=base.parts or None,
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
    for revision in course.revisions:
        yield table(
            "[[course.revision]]",
            on=revision.on,
            change=kind_of(revision),
            **_revision_fields(revision),
            reason=revision.reason or None,
            void=revision.void or None,
            void_on=revision.void_on,
        )
    yield from (accept_toml(accept, "accept") for accept in course.accepts)
    yield from (accept_toml(accept, "discussed") for accept in course.discussed)


def accept_toml(accept: Accept, key: str = "accept") -> str:
    """A decision about a finding as a table of a course file, with all that it was made for."""
    taken = (
        inline(
            remedy=then.remedy, phase=then.phase, most=then.most, unit=then.unit, mark=then.formula
        )
        for then in accept.taken or ()
    )
    return table(
        f"[[course.{key}]]",
        finding=accept.finding,
        reason=accept.reason,
        on=accept.on,
        taken=None if accept.taken is None else value_list(taken) or raw_list(()),
        facts=None if accept.facts is None else raw_list(map(quoted, accept.facts)),
        void=accept.void or None,
        void_on=accept.void_on,
    )


def _revision_fields(revision: Revision) -> dict[str, object]:
    match revision:
        case Extend():
            return {"phase": revision.phase, "weeks" if revision.in_weeks else "days": revision.by}
        case Advance():
            return {"to": revision.to, "from": revision.first}
        case Pause():
            return {"from": revision.first, "to": revision.last, "mode": revision.mode}
        case Flare():
            return {"from": revision.first, "to": revision.last, "rescue": revision.rescue}
        case Redirect():
            return {
                "remedy": revision.remedy,
                "from": revision.first,
                "to": revision.last,
                "take": revision.directions,
            }
        case Stop():
            return {"remedy": revision.remedy, "from": revision.first}
        case End():
            return {"from": revision.first}
        case Join():
            return {
                "remedy": revision.remedy,
                "from": revision.first,
                "to": revision.last,
                "take": revision.directions,
            }
        case Reformulate():
            return {
                "remedy": revision.remedy,
                "from": revision.first,
                "with": revision.formula,
            }
        case Stay():
            return {}
        case _:
            assert_never(revision)
