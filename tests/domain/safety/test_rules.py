"""Every rule of resources/safety, met and not met; figures from the sources that each names."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time, timedelta
from fractions import Fraction

import pytest

from sennight.domain.courses.clients import Client, Fact, Reaction
from sennight.domain.courses.courses import Course
from sennight.domain.courses.protocols import Protocol
from sennight.domain.dates import Span
from sennight.domain.day import Moment
from sennight.domain.herbs.herbs import Level, Presence
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.domain.safety.findings import SEVERITY_OF, Severity
from sennight.domain.safety.rules import CountRule, Group, RedFlag
from sennight.knowledge.vocabulary import vocabulary
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
from support.samples import line, phase

HERBS = sorted(MATERIA_MEDICA.herbs.values(), key=lambda herb: herb.id)
WHOLE = (Span.of_days(START, day(28)),)


def group_id(group: Group) -> str:
    return group.constituent or group.action


# Facts that meet groups


def test_a_record_of_its_own_goes_before_the_group() -> None:
    """Willow bark's own record says avoid; the group's rule for salicylates is not added."""
    finding = found(course(remedy("willow-bark"), client=with_facts("anticoagulant")))[
        "willow-bark.anticoagulant"
    ]
    assert finding.severity is Severity.AVOID
    assert "add up with medicines against clotting" not in finding.text


def test_a_graver_rule_of_the_group_stands_beside_the_record() -> None:
    """Of what a record and a rule say of one fact the gravest holds, told in one finding."""
    herb = MATERIA_MEDICA.herbs["liquorice"]
    mild = tuple(
        replace(one, level=Level.CAUTION) if one.tag == "digoxin" else one
        for one in herb.interactions
    )
    held = MATERIA_MEDICA.with_herbs([replace(herb, interactions=mild)])
    finding = found(course(remedy("liquorice"), client=with_facts("digoxin")), held)[
        "liquorice.digoxin"
    ]
    assert finding.severity is Severity.AVOID
    assert "low potassium makes digoxin toxic" in finding.text.casefold()


@pytest.mark.parametrize(
    ("herb", "tag", "severity"),
    [
        ("nettle-leaf", "lithium", Severity.AVOID),
        ("birch-leaf", "lithium", Severity.AVOID),
        ("agrimony", "lithium", Severity.CAUTION),
        ("echinacea", "methotrexate", Severity.AVOID),
        ("echinacea", "chemotherapy", Severity.AVOID),
        ("liquorice", "ace-inhibitor", Severity.AVOID),
        ("liquorice", "potassium-sparing-diuretic", Severity.AVOID),
        ("willow-bark", "nsaid", Severity.AVOID),
        ("meadowsweet", "gastritis", Severity.AVOID),
    ],
)
def test_pairs_that_a_colleague_would_tell(herb: str, tag: str, severity: Severity) -> None:
    """Pairs that were not told once; sources with the rules of resources/safety."""
    ids = found(course(remedy(herb), client=with_facts(tag)))
    of_herb = [one.severity for key, one in ids.items() if key.startswith(f"{herb}.")]
    assert of_herb
    assert min(of_herb, key=list(Severity).index) is severity


def test_an_allergy_to_a_constituent_meets_what_holds_it() -> None:
    client = Client("Una Example", allergies=(Fact("salicylates"),))
    ids = found(course(remedy("meadowsweet"), remedy("birch-leaf", name="r2"), client=client))
    assert ids["meadowsweet.salicylates"].severity is Severity.AVOID
    assert ids["meadowsweet.salicylate-allergy"].severity is Severity.AVOID
    assert ids["birch-leaf.salicylates"].severity is Severity.CAUTION, "traces"
    assert "ginger.salicylates" not in found(course(remedy("ginger"), client=client))


def test_every_tag_of_the_rules_is_a_tag_of_the_vocabulary() -> None:
    words = vocabulary()
    known = {*words.conditions, *words.medicines, *words.constituents}
    used = RULES.advice_tags | RULES.rub_tags
    used |= set(RULES.counts_back) | set(RULES.not_oral) | set(RULES.lasts)
    used |= set(RULES.implies) | {tag for tags in RULES.implies.values() for tag in tags}
    used |= {flag.tag for flag in RULES.flags if flag.tag}
    assert used <= known
    groups = [one.group for one in RULES.counts]
    assert {group.constituent for group in groups} - {""} <= set(words.constituents)
    assert {group.action for group in groups} - {""} <= set(words.actions)


def test_every_fact_that_the_herbs_speak_of_is_in_the_vocabulary() -> None:
    words = vocabulary()
    tags = {one.tag for herb in HERBS for one in herb.all_cautions}
    assert tags <= {*words.conditions, *words.medicines}


# Burdens


@pytest.mark.parametrize("rule", RULES.counts, ids=lambda rule: f"{rule.id}-{rule.count}")
def test_herbs_of_a_group_add_up_in_number(rule: CountRule) -> None:
    group = [herb.id for herb in HERBS if rule.group.holds(herb)][: rule.count]
    finding = found(course(remedy(*group)))[f"burden.{rule.id}.{rule.count}"]
    assert finding.severity is SEVERITY_OF[rule.level]
    assert set(finding.herbs) == set(group)
    assert (finding.days, finding.source) == (WHOLE, str(rule.origin))
    fewer = course(*([remedy(*group[1:])] if group[1:] else [remedy("rosehip")]))
    assert f"burden.{rule.id}.{rule.count}" not in found(fewer)


def test_herbs_on_different_days_do_not_add_up() -> None:
    one, two = remedy("willow-bark"), remedy("meadowsweet", name="r2")
    phases = (phase("a", "2 w", line("r1", "1 cup od")), phase("b", "2 w", line("r2", "1 cup od")))
    apart = replace(course(one, two), protocol=Protocol("Test", phases))
    assert "burden.salicylates.2" not in found(apart)
    assert found(course(one, two))["burden.salicylates.2"].remedies == ("r1", "r2")


@pytest.mark.parametrize("form", [Form.RUB, Form.GARGLE], ids=str)
def test_what_is_not_swallowed_is_not_counted_as_taken(form: Form) -> None:
    """As the course file's page says, in number and in amount."""
    not_swallowed = remedy("willow-bark", form=form, name="r2")
    ids = found(course(remedy("meadowsweet"), not_swallowed))
    assert not [name for name in ids if name.startswith("burden.salicylates")]
    tannins = remedy("oak-bark", "witch-hazel", "tormentil", form=form, name="r2")
    ids = found(course(remedy("meadowsweet", "raspberry-leaf"), tannins))
    assert not [name for name in ids if name.startswith("burden.tannins")]


@pytest.mark.parametrize(
    ("grams", "least", "most"), [("2.7", None, "caution"), ("2/3", None, None)]
)
def test_salicin_against_120_and_240_mg(grams: str, least: str | None, most: str | None) -> None:
    """Bark of 1.5 to 11 % salicin (read): 8 g hold 120 mg at least, 16 g hold 240 mg.

    Three cups of 2.7 g are 8.1 g, 121.5 to 891 mg; of 2/3 g are 2 g, 30 to 220 mg. The graver
    of the two is told.
    """
    ids = found(course(remedy("willow-bark", amount=grams)))
    told = [ids.get(f"burden.salicylates.{mg}") for mg in (120, 240)]
    assert [one and str(one.severity) for one in told] == [least, most]
    for one in told:
        assert one is None or "Commission E" in one.source or "USP Safety Review" in one.source


def test_glycyrrhizin_at_the_top_of_commission_e() -> None:
    """5 to 15 g of root stand for 200 to 600 mg of glycyrrhizin (Commission E, read)."""
    top = found(course(remedy("liquorice", amount="5"), weeks=1))
    assert "burden.glycyrrhizin.600" not in top
    over = found(course(remedy("liquorice", amount="5.01"), weeks=1))
    assert over["burden.glycyrrhizin.600"].severity is Severity.AVOID
    assert "601 mg" in over["burden.glycyrrhizin.600"].text
    flavour = found(course(remedy("liquorice", amount="1"), weeks=1, take="1 cup bd"))
    assert "burden.glycyrrhizin.100" not in flavour
    assert flavour.keys().isdisjoint({"burden.glycyrrhizin.600"})
    daily = found(course(remedy("liquorice", amount="1")))["burden.glycyrrhizin.100"]
    assert daily.severity is Severity.CAUTION, "100 mg raised the pressure in a trial"


def test_a_sum_over_remedies_and_as_needed_doses() -> None:
    tea, capsule = (
        remedy("liquorice", amount="3"),
        remedy("liquorice", form=Form.CAPSULE, name="r2"),
    )
    lines = line("r1", "1 cup tds"), line("r2", "3 g prn max 3/day")
    made = replace(course(tea, capsule), protocol=Protocol("T", (phase("a", "2 w", *lines),)))
    finding = found(made)["burden.glycyrrhizin.600"]
    assert finding.remedies == ("r1", "r2")
    assert "contain at least 720 mg of glycyrrhizin; the limit is 600 mg" in finding.text, (
        "9 g and 9 g"
    )


def test_a_content_that_is_not_known_is_no_finding() -> None:
    """Nothing is known of this client or of an amount; the herb's page tells of the content."""
    assert "burden.thujone.6" not in found(course(remedy("yarrow")))


def test_of_several_thresholds_the_gravest_is_told() -> None:
    three = found(course(remedy("valerian", "hops", "passionflower")))
    assert "burden.sedatives.3" in three
    assert "burden.sedatives.2" not in three
    client = replace(with_facts("pregnancy"), weight_kg=Fraction(60))
    made = course(remedy("ginger", form=Form.TINCTURE), client=client, take="15 mL od")
    numbers = [key for key in found(made) if key in ("burden.ethanol.15", "burden.ethanol.75")]
    assert numbers == ["burden.ethanol.75"]


def test_every_ceiling_and_content_is_of_the_records() -> None:
    for rule in RULES.limits:
        burden = MATERIA_MEDICA.burdens[rule.constituent]
        assert any(one.value == rule.value and one.unit.startswith("mg") for one in burden.limits)
    for one in RULES.contents:
        assert Group(constituent=one.constituent).holds(MATERIA_MEDICA.herbs[one.herb])


# Ethanol


@pytest.mark.parametrize(
    ("ml", "kg", "tag", "ids"),
    [
        ("2.5 mL od", 60, "pregnancy", set()),
        ("5 mL od", 60, "", set()),
        ("5 mL od", 60, "pregnancy", {"burden.ethanol.15"}),
        ("5 mL od", 60, "epilepsy", {"burden.ethanol.15"}),
        ("5 mL od", 20, "", {"burden.ethanol.75"}),
        ("15 mL od", 70, "sedative", {"burden.ethanol.75"}),
    ],
)
def test_ethanol_at_once(ml: str, kg: int, tag: str, ids: set[str]) -> None:
    """5 mL of 45 % v/v hold 1775.8 mg: 25.4 mg a kg at 70 kg, 88.8 at 20 kg.

    15 and 75 mg/kg a dose: annex to the EC guideline on excipients, EMA/CHMP/302620/2017
    (from memory). Only 75 is told to everybody.
    """
    client = replace(with_facts(*([tag] if tag else [])), weight_kg=Fraction(kg))
    made = found(course(remedy("ginger", form=Form.TINCTURE), client=client, take=ml))
    numbers = {f"burden.ethanol.{limit.mg_per_kg}" for limit in RULES.dose_limits}
    assert {one for one in made if one in numbers} == ids


def two_tinctures(first: str, second: str) -> Course:
    """Two tinctures of 60 % for a client of 70 kg: 10 mL of one are 4735 mg, 67.6 a kg."""
    parts = (Ingredient("ginger", Fraction(1), Fraction(5), Fraction(60)),)
    one, two = (Remedy(name, name, Form.TINCTURE, parts) for name in ("T1", "T2"))
    made = course(one, two, client=Client("Una Example", weight_kg=Fraction(70)))
    phases = (phase("a", "2 w", line("T1", first), line("T2", second)),)
    return replace(made, protocol=Protocol("T", phases))


@pytest.mark.parametrize(
    ("first", "second", "together"),
    [
        ("10 mL nocte", "10 mL nocte", True),
        ("10 mL at 22:15", "10 mL at 22:30", True),
        ("10 mL at 22:14", "10 mL at 22:30", False),
        ("10 mL at 08:00", "10 mL prn max 1/day", True),
        ("10 mL prn max 1/day", "10 mL prn max 1/day", True),
        ("10 mL at 08:00", "10 mL at 20:00", False),
    ],
)
def test_what_is_taken_at_once_counts_together(first: str, second: str, *, together: bool) -> None:
    ids = found(two_tinctures(first, second))
    assert ("burden.ethanol.75" in ids) == together
    if together:
        said = "T1 and T2 taken within a quarter of an hour give up to 135 mg of alcohol per kg"
        assert ids["burden.ethanol.75"].text.startswith(said)
        assert ids["burden.ethanol.75"].remedies == ("T1", "T2")


def test_a_weight_that_is_not_known_is_said() -> None:
    made = course(remedy("ginger", form=Form.TINCTURE), take="15 mL od")
    finding = found(made)["burden.ethanol.75"]
    assert "no weight is recorded: 60 kg assumed" in finding.text
    child = replace(made, client=Client("Una Example", date(2019, 1, 1)))
    assert "no weight is recorded: 24 kg assumed" in found(child)["burden.ethanol.75"].text, (
        "8 years: (8 + 4) × 2"
    )


# Hours


def test_the_nearest_moments_that_are_far_enough() -> None:
    """Breakfast at 07:30 and iron at 08:00: 07:00, 07:30 are too near, 10:30 is 2½ hours off."""
    client = with_facts(Fact("iron", at=(time(8, 0), Moment.BEDTIME)))
    made = course(remedy("nettle-leaf"), client=client, take="1 cup bd")
    finding = found(made)["hours.iron.nettle-leaf"]
    assert finding.instead == ("Take r1 at 10:30 (mid-morning) instead of 07:30.",)
    assert "r1 is taken at 07:30 and 18:30, the iron at 08:00 and 22:30" in finding.text
    late = course(remedy("nettle-leaf"), client=client, take="1 cup at mid-morning,18:30")
    assert "hours.iron.nettle-leaf" not in found(late)
    just = course(remedy("nettle-leaf"), client=client, take="1 cup at 10:00")
    assert "hours.iron.nettle-leaf" not in found(just), "two hours to the minute are enough"
    near = course(remedy("nettle-leaf"), client=client, take="1 cup at 09:59")
    assert "hours.iron.nettle-leaf" in found(near)


def test_hours_are_no_help_where_more_is_said_of_the_pair() -> None:
    """Willow bark and an anticoagulant: to be avoided, not to be taken two hours apart."""
    client = with_facts("anticoagulant", "statin")
    ids = found(course(remedy("willow-bark"), client=client))
    assert "willow-bark.anticoagulant" in ids
    assert "anticoagulant" not in ids["hours.oral-medicine-any.willow-bark"].text
    assert "statins" in ids["hours.oral-medicine-any.willow-bark"].text
    alone = found(course(remedy("willow-bark"), client=with_facts("anticoagulant")))
    assert "hours.oral-medicine-any.willow-bark" not in alone
    iron = found(course(remedy("sage"), client=with_facts("iron")))
    assert [key for key in iron if key.startswith("hours.")] == ["hours.iron.sage"]


def test_hours_go_round_the_clock() -> None:
    client = with_facts(Fact("iron", at=(time(0, 15),)))
    made = course(remedy("nettle-leaf"), client=client, take="1 cup nocte")
    assert "hours.iron.nettle-leaf" in found(made), "22:30 and 00:15 are 105 minutes apart"


def test_times_that_are_not_known_are_asked_to_be_kept_apart() -> None:
    finding = found(course(remedy("nettle-leaf"), client=with_facts("iron")))[
        "hours.iron.nettle-leaf"
    ]
    assert (
        "r1 is taken at 07:30, 12:30 and 18:30, and the times of the iron are not recorded"
        in finding.text
    )
    assert finding.instead == ("Keep 2 hours between them.",)


def test_as_needed_doses_may_come_too_near() -> None:
    client = with_facts(Fact("iron", at=(time(3, 0),)))
    made = course(remedy("nettle-leaf"), client=client, take="1 cup prn max 2/day")
    finding = found(made)["hours.iron.nettle-leaf"]
    assert finding.instead == ("When r1 is taken as needed, keep it 2 hours from the medicine.",)


def test_where_no_moment_is_far_enough_it_is_said() -> None:
    hours = tuple(time(hour) for hour in (7, 9, 11, 13, 15, 17, 19, 21, 23))
    made = course(
        remedy("nettle-leaf"), client=with_facts(Fact("iron", at=hours)), take="1 cup od"
    )
    (said,) = found(made)["hours.iron.nettle-leaf"].instead
    assert said == f"{NONE_FIT} for r1."


NONE_FIT = "No times of the client's day are far enough from the medicines and other doses"


def test_times_given_are_far_from_other_medicines_and_from_the_other_doses() -> None:
    """Iron at 08:00: 10:30 would do for it alone, but is taken by another medicine."""
    iron = Fact("iron", at=(time(8, 0),))
    alone = found(course(remedy("nettle-leaf"), client=with_facts(iron), take="1 cup mane"))
    assert alone["hours.iron.nettle-leaf"].instead == (
        "Take r1 at 10:30 (mid-morning) instead of 07:00.",
    )
    both = with_facts(iron, Fact("warfarin", at=(time(10, 30),)))
    told = found(course(remedy("nettle-leaf"), client=both, take="1 cup mane"))
    assert told["hours.iron.nettle-leaf"].instead == (
        "Take r1 at 12:30 (lunch) instead of 07:00.",
    )
    twice = course(remedy("nettle-leaf"), client=with_facts(iron), take="1 cup at 07:30,11:00")
    assert found(twice)["hours.iron.nettle-leaf"].instead == (
        "Take r1 at 15:30 (mid-afternoon) instead of 07:30.",
    )
    full = course(
        remedy("nettle-leaf"),
        client=with_facts(iron),
        take="1 cup at 07:30,11:00,13:30,16:00,18:30,21:00,23:30",
    )
    assert found(full)["hours.iron.nettle-leaf"].instead == (f"{NONE_FIT} for r1.",)


def test_two_doses_are_not_moved_to_the_same_time() -> None:
    client = with_facts(Fact("iron", at=(time(8, 0),)))
    made = course(remedy("nettle-leaf"), client=client, take="1 cup at 07:00,09:00")
    told = found(made)["hours.iron.nettle-leaf"].instead
    assert told == (
        "Take r1 at 10:30 (mid-morning) instead of 07:00.",
        "Take r1 at 12:30 (lunch) instead of 09:00.",
    )


def test_hours_are_those_of_the_herbs_own_group_and_of_that_medicine() -> None:
    """Mucilage is kept apart for one hour, tannins for two: neither takes the other's hours."""
    client = with_facts(Fact("statin", at=(time(8, 0),)))
    for herb, hours in (("marshmallow-root", "1 hour"), ("agrimony", "2 hours")):
        key = f"hours.oral-medicine-any.{herb}"
        finding = found(course(remedy(herb), client=client, take="1 cup at 08:59"))[key]
        assert f" {hours} from statins (" in finding.text
        late = found(course(remedy(herb), client=client, take="1 cup at 09:00"))
        assert (key in late) == (hours == "2 hours")


def test_hours_of_a_record_go_before_those_of_the_group() -> None:
    """The record of sage speaks of iron itself: what the rule says of tannins is not added."""
    finding = found(course(remedy("sage"), client=with_facts("iron")))["hours.iron.sage"]
    assert "the tannins bind it" in finding.text
    assert "iron-rich meals" not in finding.text


def test_a_remark_in_a_record_does_not_stand_in_for_the_groups_hours() -> None:
    """A record that only informs of iron is no reason to leave the rule for tannins out."""
    sage = MATERIA_MEDICA.herbs["sage"]
    told = tuple(
        replace(one, level=Level.INFO) if one.tag == "iron" else one for one in sage.interactions
    )
    assert told != sage.interactions
    held = MATERIA_MEDICA.with_herbs([replace(sage, interactions=told)])
    made = course(remedy("sage"), client=with_facts("iron"))
    finding = found(made, held)["hours.iron.sage"]
    assert "its tannins bind iron" in finding.text


def test_only_on_the_days_of_the_medicine() -> None:
    client = with_facts(Fact("iron", since=day(8), until=day(14)))
    finding = found(course(remedy("nettle-leaf"), client=client))["hours.iron.nettle-leaf"]
    assert finding.days == (Span.of_days(day(8), day(14)),)


# Operations, reactions, red flags, what a fact brings with it


def test_every_herb_stops_before_an_operation_and_begins_a_week_after() -> None:
    """ASA (read): all herbs at least 2 weeks; St John's wort's own 10 days are not enough.

    A week after it: common practice.
    """
    client = with_facts(Fact("planned-surgery", since=day(28)))
    ids = found(
        course(remedy("chamomile"), remedy("st-johns-wort", name="r2"), client=client, weeks=8)
    )
    plain, wort = ids["chamomile.planned-surgery"], ids["st-johns-wort.planned-surgery"]
    assert plain.days == (Span.of_days(day(14), day(35)),)
    assert wort.days == (Span.of_days(day(14), day(42)),), "two weeks after: common practice"
    assert plain.severity is Severity.CAUTION
    assert wort.severity is Severity.AVOID
    assert "American Society of Anesthesiologists" in plain.source
    assert "leave it out for the 14 days before and 7 days after" in plain.text
    assert plain.instead == ("Take the last dose before 17 January 2027.",)


def test_an_operation_without_a_date_is_near() -> None:
    made = course(remedy("willow-bark"), client=with_facts("planned-surgery"))
    assert found(made)["willow-bark.planned-surgery"].days == WHOLE


def test_a_reaction_is_never_forgotten() -> None:
    reaction = Reaction(date(2026, 3, 1), "Old tea", ("yarrow",), "A rash.")
    client = Client("Una Example", reactions=(reaction,))
    finding = found(course(remedy("yarrow", "ginger"), client=client))["yarrow.reaction"]
    assert (finding.severity, finding.days) == (Severity.AVOID, WHOLE)
    assert "A rash" in finding.text
    assert "ginger.reaction" not in found(course(remedy("yarrow", "ginger"), client=client))
    unrecorded = replace(client, reactions=(replace(reaction, herbs=("moonwort",)),))
    assert "moonwort.reaction" in found(course(remedy("moonwort"), client=unrecorded))
    skin = found(course(remedy("yarrow", form=Form.RUB), client=client))
    assert "yarrow.reaction" in skin


@pytest.mark.parametrize("flag", [one for one in RULES.flags if one.tag], ids=lambda one: one.id)
def test_a_red_flag_stops_whatever_is_taken(flag: RedFlag) -> None:
    tag = flag.tag
    finding = found(course(remedy("rosehip"), client=with_facts(Fact(tag, since=day(3)))))[
        f"flag.{tag}"
    ]
    assert (finding.severity, finding.first) == (Severity.AVOID, day(3))
    assert "Refer the client to a doctor" in finding.text
    assert f"flag.{tag}" not in found(course(remedy("rosehip")))


def test_a_vaccine_holds_for_six_weeks() -> None:
    """Six weeks (secondary text, read)."""
    client = with_facts(Fact("live-varicella-vaccine", since=START - timedelta(30)))
    finding = found(course(remedy("willow-bark"), client=client))[
        "willow-bark.live-varicella-vaccine"
    ]
    assert finding.days == (Span.of_days(START, day(12)),)


def test_the_last_third_of_a_pregnancy_is_a_pregnancy() -> None:
    ids = found(course(remedy("ginger"), client=with_facts("pregnancy-third-trimester")))
    assert "ginger.pregnancy" in ids


def test_a_medicine_by_mouth_is_any_medicine_by_mouth() -> None:
    ids = found(course(remedy("marshmallow-root"), client=with_facts("statin")))
    assert "hours.oral-medicine-any.marshmallow-root" in ids
    skin = found(course(remedy("marshmallow-root"), client=with_facts("topical-other")))
    assert "hours.oral-medicine-any.marshmallow-root" not in skin


def test_traces_are_the_least_presence_and_info_is_no_finding() -> None:
    assert next(iter(Presence)) is Presence.TRACE
    assert Level.INFO not in SEVERITY_OF


# What one could do instead


def test_no_other_herb_is_proposed_for_want_of_data() -> None:
    """A herb of which nothing is recorded for a fact is not one that may be taken."""
    for tags in (("anticoagulant",), ("lithium",), ("renal-impairment",), ("ssri", "pregnancy")):
        made = course(
            remedy("willow-bark", "horsetail", "st-johns-wort"),
            client=with_facts(*tags),
            aims=("anti-inflammatory", "diuretic", "nervine"),
        )
        names = {
            herb.name
            for herb in HERBS
            if herb.id not in [one.herb for one in made.remedies[0].ingredients]
        }
        said = " ".join(step for one in found(made).values() for step in one.instead)
        assert not [name for name in names if name in said]
