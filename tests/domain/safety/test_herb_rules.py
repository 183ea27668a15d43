"""Each of the rules for many herbs, met and not met; the sources are in the rules themselves."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from sennight.domain.courses.clients import Client, Fact
from sennight.domain.courses.courses import Course
from sennight.domain.herbs.doses import Route
from sennight.domain.herbs.herbs import Caution, Constituent, Herb, Level, Presence
from sennight.domain.herbs.sources import Basis
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.safety.findings import GRAVEST, SEVERITY_OF, Severity
from sennight.domain.safety.herb_rules import HerbRule, Mechanism, in_groups
from sennight.domain.safety.wording import WordedFinding
from sennight.knowledge.vocabulary import vocabulary
from support.every import for_every
from support.safety_samples import (
    MATERIA_MEDICA,
    RULES,
    START,
    course,
    day,
    found,
    remedy,
    with_facts,
)

EVERY = RULES.herb_rules.every
PLAIN = replace(
    MATERIA_MEDICA.herbs["rosehip"],
    cautions=(),
    interactions=(),
    constituents=(),
    actions=replace(MATERIA_MEDICA.herbs["rosehip"].actions, tags=()),
    family="Nobody's",
    not_as=(),
)
"""A herb of which nothing is said but pregnancy and nursing."""


def herb_of(rule: HerbRule) -> Herb:
    """A herb that a rule holds, and of which no record says anything."""
    which = rule.herbs
    silent = replace(PLAIN, pregnancy=told("pregnancy"), lactation=told("lactation"))
    silent = replace(
        silent, id=min(which.herbs, default="moonwort"), family=which.family or "None"
    )
    if which.actions:
        silent = replace(silent, actions=replace(silent.actions, tags=(min(which.actions),)))
    if which.constituents:
        tag = min(which.constituents)
        origin = silent.actions.origin
        silent = replace(silent, constituents=(Constituent(tag, which.most, None, "", origin),))
    if which.advice:
        silent = replace(silent, cautions=(told(which.advice),))
    return silent


def told(tag: str) -> Caution:
    return Caution(tag, Level.INFO, "Told", PLAIN.actions.origin)


def client_of(rule: HerbRule, tag: str) -> Client:
    """A client who has the first fact that a rule meets."""
    if tag.startswith("under-"):
        years = int(tag.removeprefix("under-")) - 1
        return Client("Una Example", born=START.replace(year=START.year - years))
    if tag in rule.facts.properties:
        having = (
            medicine.id
            for medicine in RULES.records.medicines.values()
            if tag in (*medicine.effects, *medicine.handling)
            and medicine.id not in rule.facts.not_medicines
            and not set(RULES.records.medicine_meaning(medicine.id).tags) & rule.facts.not_classes
        )
        return with_facts(next(having))
    return with_facts(Fact(tag, since=START if tag in RULES.counts_back else None))


def form_for(rule: HerbRule) -> Form:
    if rule.with_alcohol:
        return Form.TINCTURE
    if rule.forms:
        return Form.CAPSULE
    return Form.RUB if rule.route is Route.TOPICAL else Form.TEA


def course_of(rule: HerbRule, tag: str) -> tuple[Course, Herb]:
    herb = herb_of(rule)
    others = [remedy(other, name="r2") for other in rule.facts.herbs]
    made = course(remedy(herb.id, form=form_for(rule)), *others, client=client_of(rule, tag))
    return made, herb


def told_of(rule: HerbRule, herb: Herb, ids: dict[str, WordedFinding]) -> WordedFinding | None:
    """The finding that has a rule's text."""
    texts = (
        finding for finding in ids.values() if rule.text.casefold() in finding.text.casefold()
    )
    return next(
        (finding for finding in texts if not finding.herbs or herb.id in finding.herbs), None
    )


@for_every(EVERY, lambda rule: rule.id, counted=EVERY[::8])
def test_a_rule_is_met_and_is_not(rule: HerbRule) -> None:
    tag = next(iter((*rule.facts.tags, *rule.facts.properties, *rule.facts.herbs)))
    made, herb = course_of(rule, tag)
    ids = found(made, MATERIA_MEDICA.with_herbs([herb]))
    finding = told_of(rule, herb, ids)
    if finding is None:  # a graver rule speaks of the same fact
        graver = ids[f"{herb.id}.{tag}"]
        assert GRAVEST.index(graver.severity) < GRAVEST.index(SEVERITY_OF[rule.level])
        return
    assert GRAVEST.index(finding.severity) <= GRAVEST.index(SEVERITY_OF[rule.level])
    assert all(str(origin) in finding.source for origin in rule.origins)
    assert finding.remedies == ("r1",)
    nobody = replace(made, client=Client("Una Example"), remedies=made.remedies[:1])
    one_line = replace(nobody.protocol.phases[0], lines=nobody.protocol.phases[0].lines[:1])
    nobody = replace(nobody, protocol=replace(nobody.protocol, phases=(one_line,)))
    assert told_of(rule, herb, found(nobody, MATERIA_MEDICA.with_herbs([herb]))) is None
    other = course(remedy("moonwort", form=form_for(rule)), client=made.client)
    plain = replace(herb_of(replace(rule, herbs=type(rule.herbs)())), id="moonwort")
    if not rule.herbs.every and not rule.with_alcohol:
        assert told_of(rule, plain, found(other, MATERIA_MEDICA.with_herbs([plain]))) is None


def test_every_rule_speaks_in_the_vocabulary() -> None:
    words, records = vocabulary(), RULES.records
    known = {*records.conditions, *records.classes, *records.medicines, *words.conditions}
    for rule in EVERY:
        assert set(rule.facts.tags) <= known, rule.id
        assert set(rule.facts.properties) <= set(records.properties), rule.id
        assert rule.facts.not_classes <= set(records.classes), rule.id
        assert rule.facts.not_medicines <= set(records.medicines), rule.id
        assert rule.herbs.constituents <= set(words.constituents), rule.id
        assert rule.herbs.actions <= set(words.actions), rule.id
        assert rule.text == rule.text.strip().removesuffix("."), rule.id


def test_every_rule_is_told_by_a_theme_that_was_chosen_for_it() -> None:
    """No rule falls silently to the theme of the client's fact, which may be another effect.

    The reader refuses a rule without a theme; where “by the fact” was chosen, each has one.
    """
    known = {theme.id for theme in RULES.themes}
    for rule in EVERY:
        tags = (*rule.facts.tags, *rule.facts.properties, *rule.facts.herbs)
        by_fact = (RULES.theme_of(tag) for tag in tags)
        assert rule.theme in known if rule.theme else all(by_fact), rule.id


def test_every_record_is_told_by_a_theme_that_was_chosen_for_it() -> None:
    """What a record says of a medicine has its row; a new one is looked at before it is told."""
    said = {
        (herb.id, caution.tag)
        for herb in MATERIA_MEDICA.herbs.values()
        for caution in herb.all_cautions
        if caution.level in SEVERITY_OF.keys() - {Level.SEPARATE}
        and RULES.records.is_medicine(caution.tag)
    }
    assert said <= set(RULES.record_themes)
    known = {theme.id for theme in RULES.themes}
    for (herb, tag), theme in RULES.record_themes.items():
        assert herb in MATERIA_MEDICA.herbs
        assert tag in RULES.every_tag
        assert theme in known if theme else RULES.theme_of(tag), (herb, tag)


def test_hours_are_given_only_where_the_mechanism_is_absorption() -> None:
    assert all(rule.mechanism is Mechanism.ABSORPTION for rule in EVERY if rule.hours is not None)


def test_what_was_not_read_says_so() -> None:
    """What rests on memory is marked, and no rule is without a source."""
    assert all(rule.origins for rule in EVERY)
    remembered = [
        rule for rule in EVERY if all(origin.basis is Basis.MEMORY for origin in rule.origins)
    ]
    assert 300 < len(remembered) < len(EVERY)
    assert all("(not yet checked)" in str(remembered[0].origins[0]) for _ in remembered[:1])


# Exemptions


@pytest.mark.parametrize(
    ("herb", "medicine", "never", "stands"),
    [
        # sjw-contraceptive exempts both by name; the herb's record says avoid for all.
        (
            "st-johns-wort",
            "levonorgestrel-intrauterine-system",
            "st-johns-wort.hormonal-contraceptive",
            "st-johns-wort.levonorgestrel-intrauterine-system",
        ),
        ("st-johns-wort", "adalimumab", "st-johns-wort.immunosuppressant", ""),
        # immune-immunosuppressant exempts corticosteroids, which have a rule of their own.
        ("echinacea", "prednisolone", "echinacea.immunosuppressant", "echinacea.corticosteroid"),
    ],
)
def test_what_a_rule_exempts_by_name_the_record_does_not_catch(
    herb: str, medicine: str, never: str, stands: str
) -> None:
    ids = found(course(remedy(herb), client=with_facts(medicine)))
    assert never not in ids
    assert Severity.AVOID not in {
        finding.severity for key, finding in ids.items() if key.startswith(f"{herb}.")
    }
    assert not stands or stands in ids


def test_an_exempt_medicine_takes_no_other_out() -> None:
    both = with_facts("levonorgestrel-intrauterine-system", "hormonal-contraceptive-combined")
    ids = found(course(remedy("st-johns-wort"), client=both))
    finding = ids["st-johns-wort.hormonal-contraceptive"]
    assert finding.severity is Severity.AVOID
    assert "intrauterine" not in finding.text.split("Because of")[1]


@pytest.mark.parametrize(
    ("facts", "there"),
    [(("antibacterial",), True), (("amoxicillin",), False), (("metronidazole",), False)],
)
def test_a_class_without_a_name_is_asked_about(facts: tuple[str, ...], *, there: bool) -> None:
    text = "which antibiotic? Metronidazole and tinidazole"
    ids = found(course(remedy("rosehip"), client=with_facts(*facts)))
    assert any(text in finding.text for finding in ids.values()) == there


def test_heparin_is_no_anticoagulant_by_mouth() -> None:
    ids = found(course(remedy("st-johns-wort"), client=with_facts("heparin")))
    assert not any("levels of DOACs fall" in finding.text for finding in ids.values())


# Days


def test_an_operation_reaches_as_far_as_the_rule_says() -> None:
    """14 days before (ASA as quoted, read), and after (common practice), where it bleeds more."""
    client = with_facts(Fact("planned-surgery", since=day(20)))
    bleeding = found(course(remedy("garlic"), client=client, weeks=8))["garlic.planned-surgery"]
    assert (bleeding.first, bleeding.last) == (day(6), day(34))
    assert bleeding.severity is Severity.AVOID


def test_a_herb_is_not_taken_with_another_that_loses_potassium() -> None:
    made = course(remedy("senna"), remedy("liquorice", name="r2"))
    finding = found(made)["senna.liquorice"]
    assert finding.severity is Severity.AVOID
    assert finding.remedies == ("r1",)
    assert "senna.liquorice" not in found(course(remedy("senna")))


def test_a_powder_is_not_for_weak_immunity() -> None:
    client = with_facts("immunosuppression")
    powder = remedy("ginger", form=Form.CAPSULE, amount="400")
    assert "ginger.immunosuppression" in found(course(powder, client=client))
    assert "ginger.immunosuppression" not in found(course(remedy("ginger"), client=client))


@pytest.mark.parametrize(("born", "there"), [(date(2025, 6, 1), True), (date(1980, 1, 1), False)])
def test_an_age_meets_a_rule_until_the_birthday(born: date, *, there: bool) -> None:
    client = Client("Una Example", born=born)
    ids = found(course(remedy("peppermint", form=Form.RUB), client=client))
    assert ("peppermint.under-4" in ids or "peppermint.under-2" in ids) == there


# Hours


def test_the_longest_hours_to_a_medicine_are_told_once() -> None:
    """Levothyroxine and fibre: 4 hours (Wiesner 2021, read), not the 1 hour of any medicine."""
    ids = found(course(remedy("marshmallow-root"), client=with_facts("levothyroxine")))
    (hours,) = (finding for key, finding in ids.items() if key.startswith("hours."))
    assert hours.id == "hours.levothyroxine.marshmallow-root"
    assert "4 hours from levothyroxine" in hours.text


def test_a_medicines_own_hours_are_kept() -> None:
    """Dolutegravir and minerals: 6 hours, as its record has them (from memory)."""
    ids = found(course(remedy("nettle-leaf"), client=with_facts("dolutegravir")))
    hours = [finding.text for key, finding in ids.items() if key.startswith("hours.")]
    assert hours
    assert "6 hours from dolutegravir" in hours[0]


def test_hours_are_no_help_beside_what_two_do_in_the_body() -> None:
    """Senna and digoxin: to be avoided, whatever its tannins; ispaghula and iron: hours."""
    senna = found(course(remedy("senna"), client=with_facts("digoxin")))
    assert not any(key.startswith("hours.") for key in senna)
    fibre = found(course(remedy("ispaghula"), client=with_facts("ferrous-sulfate")))
    assert any(key.startswith("hours.") for key in fibre)


# Which herbs


def presence(herb: Herb, tag: str, held: Presence) -> Herb:
    return replace(herb, constituents=(Constituent(tag, held, None, "", herb.actions.origin),))


@pytest.mark.parametrize(
    ("held", "rules"),
    [
        (Presence.TRACE, {"salicylate-trace"}),
        (Presence.LOW, {"salicylate-trace", "salicylates-salicylate-allergy"}),
        (Presence.MODERATE, {"salicylate-asthma-allergy", "salicylates-salicylate-allergy"}),
    ],
)
def test_constituents_count_from_least_to_most(held: Presence, rules: set[str]) -> None:
    herb = presence(replace(PLAIN, id="moonwort"), "salicylates", held)
    names = {rule.id for rule in RULES.herb_rules.of(herb)}
    assert rules <= names
    both = {"salicylate-trace", "salicylate-asthma-allergy"}
    assert not (names & both) - rules


def test_a_group_is_without_its_exceptions() -> None:
    ids = {rule.id for rule in RULES.herb_rules.of(MATERIA_MEDICA.herbs["garlic"])}
    assert "immune-immunosuppressant" not in ids
    assert "bleeding-anticoagulant" in ids


def test_groups_join_and_an_unknown_one_is_refused() -> None:
    groups = {"first": frozenset({"garlic"}), "second": frozenset({"ginger"})}
    assert in_groups(("first", "second"), groups, ("yarrow",)) == {"garlic", "ginger", "yarrow"}
    with pytest.raises(KeyError):
        in_groups(("third",), groups)


def test_remedies_are_of_the_form_that_a_rule_names() -> None:
    tea = Remedy("r1", "r1", Form.TEA, remedy("ginger").ingredients, remedy("ginger").tea)
    assert "burden.ethanol.pregnancy" not in found(course(tea, client=with_facts("pregnancy")))
    drops = remedy("ginger", form=Form.TINCTURE)
    finding = found(course(drops, client=with_facts("pregnancy")))["burden.ethanol.pregnancy"]
    assert finding.severity is Severity.AVOID
    assert finding.herbs == ()
    assert finding.instead == ("Give a tea, a capsule or a liquid without alcohol.",)
    assert Fraction(45) == drops.ingredients[0].ethanol
