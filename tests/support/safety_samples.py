"""Small courses for safety: the supplied herbs in remedies of one's choice, and a client."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Client, Fact
from sennight.domain.courses.courses import Course, Revision
from sennight.domain.courses.protocols import Protocol
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.herbs.doses import Route
from sennight.domain.herbs.herbs import Herb, MateriaMedica
from sennight.domain.remedies.form_facts import Composition, Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy, TeaMaking
from sennight.domain.safety.check import findings
from sennight.domain.safety.decisions import decisions, stopping
from sennight.domain.safety.findings import Finding
from sennight.domain.safety.names import (
    Names,
)
from sennight.domain.safety.rules import SafetyRules
from sennight.domain.safety.wording import WordedFinding
from sennight.domain.safety.wording_findings import word_findings
from sennight.knowledge.vocabulary import vocabulary
from sennight.practice.materia_medica import supplied_materia_medica
from sennight.practice.safety import safety_rules
from support.samples import line, phase

START = date(2027, 1, 4)
MATERIA_MEDICA, RULES = supplied_materia_medica(), safety_rules()


def day(number: int) -> date:
    """The course day of that number, from 1."""
    return START + timedelta(days=number - 1)


def remedy(*herbs: str, form: Form = Form.TEA, name: str = "r1", amount: str = "3") -> Remedy:
    """A remedy of these herbs in equal parts; `amount` is grams a cup, or mg in a piece."""
    number, composition = Fraction(amount), form.facts.composition
    usual = {
        Composition.BY_PIECE: Ingredient("", mg=number, filling=Filling.POWDER),
        Composition.BY_WEIGHT: Ingredient("", Fraction(1)),
        Composition.BY_VOLUME: Ingredient("", Fraction(1), Fraction(5), Fraction(45)),
        Composition.IN_BASE: Ingredient("", percent=Fraction(5), filling=Filling.POWDER),
    }[composition]
    tea = TeaMaking(number) if form.facts.making else None
    return Remedy(name, name, form, tuple(replace(usual, herb=herb) for herb in herbs), tea)


def unaccepted(layout: Layout, accepts: Sequence[Accept], today: date = START) -> list[Finding]:
    """The findings to avoid that stop a course from being given, whatever it accepts itself."""
    every = findings(layout, MATERIA_MEDICA, RULES)
    return list(stopping(every, decisions(every, accepts, layout, today), today))


def form_of(herb: Herb) -> Form:
    """A form that a herb's record is about."""
    return Form.TEA if Route.ORAL in herb.routes else Form.RUB


def course(
    *remedies: Remedy,
    client: Client | None = None,
    weeks: int = 4,
    take: str | None = None,
    aims: tuple[str, ...] = (),
    revisions: tuple[Revision, ...] = (),
) -> Course:
    """A course of one phase in which every remedy is taken, all in the same way or as usual."""
    lines = [line(one.id, take or one.form.facts.usual_dose) for one in remedies]
    return Course(
        "5afe",
        client or Client("Una Example"),
        remedies,
        Protocol("Test", (phase("only", f"{weeks} w", *lines),), aims),
        START,
        revisions=revisions,
    )


def found(
    course: Course, materia_medica: MateriaMedica = MATERIA_MEDICA, rules: SafetyRules = RULES
) -> dict[str, WordedFinding]:
    """The findings of a course in words, by their ids."""
    every = findings(lay_out(course), materia_medica, rules)
    return {one.id: one for one in word_findings(every, Names(course, materia_medica, rules))}


def with_facts(*tags: str | Fact) -> Client:
    """A client to whom these tags apply, each recorded as what it is."""
    facts = [tag if isinstance(tag, Fact) else Fact(tag) for tag in tags]
    medicines = [
        fact
        for fact in facts
        if fact.tag in vocabulary().medicines or RULES.records.is_medicine(fact.tag)
    ]
    return Client(
        "Una Example",
        conditions=tuple(fact for fact in facts if fact not in medicines),
        medicines=tuple(medicines),
    )
