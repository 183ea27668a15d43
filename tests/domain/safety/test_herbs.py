"""Every caution, interaction and age of every supplied herb, met and not met.

What is expected comes from the records in resources/materia_medica, each with its own source.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from sennight.domain.courses.clients import Client, Fact, Reaction
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span, add_months
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import Caution, Herb, Level
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.safety.advice import advice_sentences
from sennight.domain.safety.findings import SEVERITY_OF, Severity
from sennight.domain.safety.names import Names
from sennight.domain.safety.statements import LeastAge
from sennight.domain.safety.wording_statements import statement_words
from support.every import for_every
from support.safety_samples import (
    MATERIA_MEDICA,
    RULES,
    START,
    course,
    day,
    form_of,
    found,
    remedy,
    with_facts,
)

HERBS = sorted(MATERIA_MEDICA.herbs.values(), key=lambda herb: herb.id)
ALIKE = {(one.tag, one.level): herb.id for herb in reversed(HERBS) for one in herb.all_cautions}
"""The first herb of each tag and level: what is said of others goes the same ways."""
CASES = [(herb, one) for herb in HERBS for one in herb.all_cautions]
FIRST = [case for case in CASES if ALIKE[case[1].tag, case[1].level] == case[0].id]
INTERNAL = "internal-use"
GRAVEST = list(Severity)
TOLD = RULES.advice_tags


def finding_id(herb: Herb, one: Caution) -> str:
    if one.tag.startswith("under-"):
        return f"{herb.id}.age"
    if one.level is Level.SEPARATE:
        return f"hours.{one.tag}.{herb.id}"
    return f"{herb.id}.{one.tag}"


def client_with(herb: Herb, one: Caution, until: date | None = None) -> Client:
    """A client to whom a caution of a herb applies; an allergy to a herb is one to this herb."""
    if one.tag == "hypersensitivity":
        return Client("Una Example", allergies=(Fact(herb.id, until=until),))
    is_mild = any(herb.id in told.mild for told in RULES.advice if told.tag == one.tag)
    return with_facts(Fact(one.tag, until=until), *(("sedative",) if is_mild else ()))


def test_an_allergy_to_one_herb_says_nothing_against_others() -> None:
    client = Client("Una Example", allergies=(Fact("fennel"),))
    both = course(remedy("fennel"), remedy("valerian", name="r2"), client=client)
    ids = found(both)
    assert ids["fennel.hypersensitivity"].severity is Severity.AVOID
    assert "valerian.hypersensitivity" not in ids


def test_an_allergy_that_names_no_herb_is_not_checked() -> None:
    """As practice files of an earlier time have it: no false finding, and no silence."""
    client = Client("Una Example", allergies=(Fact("hypersensitivity"),))
    ids = found(course(remedy("fennel"), client=client))
    assert "fennel.hypersensitivity" not in ids
    assert ids["unchecked.hypersensitivity"].severity is Severity.CAUTION


def test_every_herb_is_loaded_with_its_statements() -> None:
    assert len(HERBS) == 156 + 8, "herbs, and substances"
    assert len(CASES) == sum(1 for herb in HERBS for _ in herb.all_cautions) > 2200


@for_every(CASES, lambda case: f"{case[0].id}-{case[1].tag}", counted=FIRST)
def test_what_a_record_says_is_found_where_the_fact_is_there(case: tuple[Herb, Caution]) -> None:
    herb, one = case
    form = Form.TEA if one.tag == INTERNAL else form_of(herb)
    if one.tag in TOLD:
        form = next(
            (Form.RUB for told in RULES.advice if (told.tag, told.form) == (one.tag, "rub")), form
        )
    if one.forms:
        form = Form.TINCTURE
    taken = remedy(herb.id, form=form)
    if one.forms == (TakenAs.EXTRACT,):
        (held,) = taken.ingredients
        capsule = replace(held, parts=None, mg=Fraction(200), filling=Filling.ESSENTIAL_OIL)
        taken = replace(taken, form=Form.CAPSULE, ingredients=(capsule,))
    made = course(taken, client=client_with(herb, one))
    if one.tag in TOLD or one.level is Level.INFO:
        lines = advice_sentences(lay_out(made), MATERIA_MEDICA, RULES)
        says = [told.says for told in RULES.advice if told.tag == one.tag] or [one.text]
        assert any(says[0][1:] in line.text for line in lines), lines
        of_rules = found(made).get(f"{herb.id}.{one.tag}")
        assert of_rules is None or one.text not in of_rules.text
        return
    finding = found(made)[finding_id(herb, one)]
    assert GRAVEST.index(finding.severity) <= GRAVEST.index(SEVERITY_OF[one.level])
    assert finding.herbs == (herb.id,)
    assert finding.remedies == ("r1",)
    assert finding.days == (Span.of_days(START, day(28)),)
    assert str(one.origin) in finding.source
    assert one.text.casefold() in finding.text.casefold()
    if one.level is Level.REFER:
        assert "Refer the client to a doctor" in finding.text


@for_every(HERBS, lambda herb: herb.id, counted=HERBS[::8])
def test_what_a_record_says_is_not_found_where_the_fact_is_not(herb: Herb) -> None:
    """Neither without a fact, nor with all of them over long before the course begins."""
    made = course(remedy(herb.id, form=form_of(herb)))
    facts = [Fact(one.tag, until=START - timedelta(50)) for one in herb.all_cautions]
    over = replace(made, client=with_facts(*facts))
    ids = {finding_id(herb, one) for one in herb.all_cautions if one.tag != INTERNAL}
    assert ids.isdisjoint(found(made))
    assert ids.isdisjoint(found(over))


@pytest.mark.parametrize(
    "herb",
    [one for one in HERBS if any(said.tag == INTERNAL for said in one.cautions)],
    ids=lambda herb: herb.id,
)
def test_what_is_said_of_taking_a_herb_is_not_found_on_the_skin(herb: Herb) -> None:
    made = course(remedy(herb.id, form=Form.RUB))
    assert f"{herb.id}.{INTERNAL}" not in found(made)


@for_every(HERBS, lambda herb: herb.id, counted=HERBS[::8])
def test_an_age_is_found_until_the_birthday(herb: Herb) -> None:
    months = int(herb.min_age.value * 12)
    named = {
        int(one.tag.removeprefix("under-")) * 12
        for one in herb.all_cautions
        if "under-" in one.tag
    }
    last = max(months, *named) if named else months
    born = add_months(day(15), -last)
    made = course(remedy(herb.id, form=form_of(herb)), client=Client("Una Example", born))
    finding = found(made)[f"{herb.id}.age"]
    assert finding.severity is Severity.AVOID
    assert finding.days == (Span.of_days(START, day(14)),)
    assert str(herb.min_age.origin) in finding.source or months < last
    grown = replace(made, client=Client("Una Example", add_months(START, -last)))
    assert f"{herb.id}.age" not in found(grown)


def test_half_a_year_is_an_age() -> None:
    born = add_months(day(15), -6)
    finding = found(course(remedy("chamomile"), client=Client("Una Example", born)))[
        "chamomile.age"
    ]
    assert "aged 6 months and over" in finding.text
    assert finding.last == day(14)
    assert MATERIA_MEDICA.herbs["chamomile"].min_age.value == Fraction(1, 2)


def test_an_age_under_a_year_is_said_in_its_own_months() -> None:
    names = Names(course(remedy("chamomile")), MATERIA_MEDICA, RULES)
    origin = MATERIA_MEDICA.herbs["chamomile"].min_age.origin
    age = LeastAge("chamomile", Fraction(1, 4), "", origin)
    assert statement_words(age, names, ()).body == "for people aged 3 months and over."


def test_a_rub_counts_for_the_skin_alone() -> None:
    """An ulcer says nothing against a rub of cayenne; broken skin and pregnancy do."""
    client = with_facts("peptic-ulcer", "broken-skin", "pregnancy", "anticoagulant")
    ids = set(found(course(remedy("cayenne", form=Form.RUB), client=client)))
    assert {"cayenne.broken-skin", "cayenne.pregnancy"} <= ids
    assert ids.isdisjoint({"cayenne.peptic-ulcer", "cayenne.anticoagulant"})
    taken = set(found(course(remedy("cayenne"), client=client)))
    assert {"cayenne.peptic-ulcer", "cayenne.anticoagulant"} <= taken


def test_a_herb_for_the_skin_is_not_swallowed() -> None:
    assert "comfrey.internal-use" not in found(course(remedy("comfrey", form=Form.RUB)))
    for form in (Form.TEA, Form.TINCTURE, Form.CAPSULE):
        finding = found(course(remedy("comfrey", form=form)))["comfrey.internal-use"]
        assert finding.severity is Severity.AVOID
        assert (finding.fact, finding.remedies) == ("", ("r1",))


def test_a_herb_without_a_record_is_said_not_to_be_checked() -> None:
    finding = found(course(remedy("moonwort")))["unchecked.moonwort"]
    assert finding.severity is Severity.NOTE
    assert "There is no record of moonwort" in finding.text


def test_a_reaction_to_a_herb_without_a_record_is_found_and_to_no_other() -> None:
    to_both = (Reaction(START, "Tea", (herb,), "A rash.") for herb in ("moonwort", "ginger"))
    client = Client("Una Example", reactions=tuple(to_both))
    ids = set(found(course(remedy("moonwort"), client=client)))
    assert {one for one in ids if one.endswith(".reaction")} == {"moonwort.reaction"}


def test_what_is_said_of_a_form_is_found_in_that_form_alone() -> None:
    """Alcohol is in a tincture of horsetail and of myrrh, not in a tea or powder of it."""
    client = with_facts("alcohol-disulfiram")
    for herb in ("horsetail", "myrrh"):
        name = f"{herb}.alcohol-disulfiram"
        assert name in found(course(remedy(herb, form=Form.TINCTURE), client=client))
        assert name not in found(course(remedy(herb, form=Form.TEA), client=client))
        assert name not in found(course(remedy(herb, form=Form.CAPSULE), client=client))


def test_the_ages_of_mouth_and_skin_are_apart() -> None:
    """Calendula: by mouth from 12 (EMA), on the skin from 2 (Health Canada)."""
    child = Client("Una Example", add_months(START, -12 * 5))
    assert "calendula.age" in found(course(remedy("calendula"), client=child))
    assert "calendula.age" not in found(course(remedy("calendula", form=Form.RUB), client=child))
    infant = Client("Una Example", add_months(START, -12))
    assert "calendula.age" in found(course(remedy("calendula", form=Form.RUB), client=infant))
