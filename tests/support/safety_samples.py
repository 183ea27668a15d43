"""Small courses for safety: the supplied herbs in remedies of one's choice, and a client."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

from sennight.domain.courses.clients import Client, Fact
from sennight.domain.courses.courses import Course, Revision
from sennight.domain.courses.protocols import Protocol
from sennight.domain.courses.stretches import lay_out
from sennight.domain.herbs.doses import Route
from sennight.domain.herbs.herbs import Herb, MateriaMedica
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Filling, Ingredient, Remedy, TeaMaking
from sennight.domain.safety.check import findings
from sennight.domain.safety.rules import SafetyRules
from sennight.domain.safety.wording import WordedFinding, word_findings
from sennight.domain.safety.wording_statements import Names
from sennight.knowledge.vocabulary import vocabulary
from sennight.practice.materia_medica import supplied_materia_medica
from sennight.practice.safety import safety_rules
from support.samples import line, phase

START = date(2027, 1, 4)
USUAL = {
    Form.TEA: "1 cup tds",
    Form.TINCTURE: "5 mL tds",
    Form.CAPSULE: "1 capsule bd",
    Form.RUB: "1 application bd",
}
MATERIA_MEDICA, RULES = supplied_materia_medica(), safety_rules()


def day(number: int) -> date:
    """The course day of that number, from 1."""
    return START + timedelta(days=number - 1)


def remedy(*herbs: str, form: Form = Form.TEA, name: str = "r1", amount: str = "3") -> Remedy:
    """A remedy of these herbs in equal parts; `amount` is grams a cup, or mg in a capsule."""
    number = Fraction(amount)
    if form is Form.CAPSULE:
        parts = [Ingredient(herb, mg=number, filling=Filling.POWDER) for herb in herbs]
    elif form is Form.TEA:
        parts = [Ingredient(herb, Fraction(1)) for herb in herbs]
    else:
        parts = [Ingredient(herb, Fraction(1), Fraction(5), Fraction(45)) for herb in herbs]
    tea = TeaMaking(number) if form is Form.TEA else None
    return Remedy(name, name, form, tuple(parts), tea)


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
    lines = [line(one.id, take or USUAL[one.form]) for one in remedies]
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
