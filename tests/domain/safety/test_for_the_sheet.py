"""What a practitioner and a client's household would trip over on the sheet, one case each.

Each was met on the papers of an invented client. What a finding comes to is common practice unless
a source is named.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import time

import pytest

from sennight.domain.courses.clients import Client, Fact
from sennight.domain.courses.stretches import lay_out
from sennight.domain.day import ClientDay, Moment
from sennight.domain.remedies.forms import Form
from sennight.domain.safety.acting import MoveHour, acts
from sennight.domain.safety.advice import advice_sentences, inr_sentences
from sennight.domain.safety.check import findings
from sennight.domain.safety.come_back import come_back_sentences
from sennight.domain.safety.findings import Severity
from sennight.domain.safety.for_client import ClientSentence, Place
from sennight.domain.safety.steps import MoveDose
from support.safety_samples import MATERIA_MEDICA, RULES, course, found, remedy, with_facts


def advised(herb: str, *facts: str, form: Form = Form.TEA) -> str:
    layout = lay_out(course(remedy(herb, form=form), client=with_facts(*facts)))
    return " ".join(told.text for told in advice_sentences(layout, MATERIA_MEDICA, RULES))


@pytest.mark.parametrize("herb", ["lemon-balm", "lavender"])
def test_mild_herbs_make_nobody_drowsy_unless_a_sedative_medicine_does(herb: str) -> None:
    """European texts warn of driving for both (from memory), which a cup of tea rarely earns."""
    assert "drowsy" not in advised(herb)
    assert "drowsy" in advised(herb, "sedative")
    assert "drowsy" in advised("valerian")


def test_three_mild_herbs_do_not_add_up_to_a_sedative() -> None:
    assert "burden.sedatives.3" not in found(course(remedy("chamomile", "lemon-balm", "vervain")))
    assert "burden.sedatives.3" in found(course(remedy("valerian", "passionflower", "hops")))


def test_whoever_takes_a_diuretic_is_not_told_to_drink_plenty() -> None:
    """They are told to drink what was agreed and no more, of the same remedy."""
    assert "Drink plenty" not in advised("nettle-leaf", "diuretic")
    assert "drink plenty" in advised("nettle-leaf")


def test_who_drives_for_work_is_a_client_with_findings() -> None:
    every = found(course(remedy("valerian"), client=with_facts("drives-for-work")))
    assert every["valerian.drives-for-work"].severity is Severity.CAUTION


# Allergies


def test_a_herb_of_the_family_of_an_allergen_is_a_caution() -> None:
    """Celery and fennel, of one family that people react to as a whole."""
    client = Client("Una Example", allergies=(Fact("fennel"),))
    celery = found(course(remedy("celery-seed"), client=client))["celery-seed.apiaceae-allergy"]
    assert celery.severity is Severity.CAUTION
    assert "of the same family as fennel" in celery.text
    assert "you told us of your allergy to fennel" in celery.client_text


@pytest.mark.parametrize("allergy", ["valerian", "st-johns-wort", "asteraceae-allergy"])
def test_only_families_that_people_react_to_as_a_whole_are_told(allergy: str) -> None:
    client = Client("Una Example", allergies=(Fact(allergy),))
    every = found(course(remedy("celery-seed"), client=client))
    assert "celery-seed.apiaceae-allergy" not in every


@pytest.mark.parametrize(
    ("herb", "allergy", "says"),
    [
        ("fennel", "fennel", "it contains fennel, and you told us of your allergy to"),
        ("chamomile", "asteraceae-allergy", "your allergy to the daisy family"),
        ("willow-bark", "salicylates", "you told us of your allergy to salicylates"),
    ],
)
def test_an_allergy_is_told_by_its_name(herb: str, allergy: str, says: str) -> None:
    client = Client("Una Example", allergies=(Fact(allergy),))
    every = found(course(remedy(herb), client=client))
    assert any(says in finding.client_text for finding in every.values())


# Medicines


def test_the_inr_is_measured_with_warfarin_and_not_with_the_newer_anticoagulants() -> None:
    def told(medicine: str) -> str:
        made = course(remedy("boswellia"), client=with_facts(medicine))
        return found(made)["boswellia.anticoagulant"].client_text

    assert "INR" in told("warfarin")
    assert "INR" not in told("apixaban")
    assert told("apixaban")


def test_any_herb_with_warfarin_asks_for_the_inr_once() -> None:
    """BNF, from memory."""
    both = (remedy("ginger"), remedy("boswellia", name="r2"), remedy("comfrey", form=Form.RUB))
    made = course(*both[:2], replace(both[2], id="r3"), client=with_facts("warfarin"))
    theme = RULES.theme("clotting")
    assert theme
    note = ClientSentence(Place.TESTS, theme.client, "", ("r2",))
    (inr,) = inr_sentences(lay_out(made), RULES, (note,))
    assert inr.remedies == ("r1",), "of what is swallowed, where no note says so already"
    assert not list(inr_sentences(lay_out(course(remedy("ginger"))), RULES, ()))
    alone = replace(made, remedies=made.remedies[1:2])
    layout = lay_out(course(*alone.remedies, client=made.client))
    assert not list(inr_sentences(layout, RULES, (note,)))


def test_nobody_waits_with_a_migraine_tablet_because_of_magnesium() -> None:
    client = Client("Una Example", medicines=(Fact("sumatriptan"), Fact("bisoprolol")))
    made = course(remedy("oak-bark"), client=client)
    kept = [name for name in found(made) if name.startswith("hours.")]
    assert kept
    hours = found(made)[kept[0]]
    assert "bisoprolol" in hours.text
    assert "sumatriptan" not in hours.text


def test_a_medicine_keeps_the_hyphens_of_its_name() -> None:
    pill = Fact("hormonal-contraceptive", name="progestogen-only pill")
    made = course(remedy("oak-bark"), client=Client("Una Example", medicines=(pill,)))
    texts = [one.client_text for name, one in found(made).items() if name.startswith("hours.")]
    assert any("your progestogen-only pill" in text for text in texts)


def test_two_doses_of_a_remedy_are_not_sent_to_one_time() -> None:
    """Each dose is too near another medicine, and both would best be at lunch."""
    every = (Fact("iron", at=(time(8, 30),)), Fact("levothyroxine", at=(time(16, 30),)))
    day_of_client = ClientDay.at({Moment.MID_MORNING: time(10)})
    client = Client("Una Example", medicines=every, day=day_of_client)
    made = course(remedy("nettle-leaf"), client=client, take="1 cup at 07:00,17:00")
    told = findings(lay_out(made), MATERIA_MEDICA, RULES)
    moves = {step for one in told for step in one.steps if isinstance(step, MoveDose)}
    assert moves
    assert len({move.to_minute for move in moves}) == len(moves)
    assert len({move.minute for move in moves}) == len(moves)
    offers = [act for act in acts(told, made) if isinstance(act, MoveHour)]
    assert offers
    nearest = {offer.minute: offer.to_minute for offer in reversed(offers)}
    assert len(set(nearest.values())) == len(nearest)


def test_what_is_said_of_a_herb_by_mouth_is_no_illness_of_the_client() -> None:
    text = found(course(remedy("jamaica-dogwood")))["jamaica-dogwood.internal-use"].client_text
    assert text == "r1: use no more than this sheet says."


@pytest.mark.parametrize(
    ("herbs", "says"), [(("valerian",), "this remedy"), (("valerian", "thyme"), "these remedies")]
)
def test_what_is_not_in_the_records_is_asked_about_in_good_english(
    herbs: tuple[str, ...], says: str
) -> None:
    client = Client("Una Example", conditions=(Fact("", name="a rare illness"),))
    each = [remedy(herb, name=f"r{n}") for n, herb in enumerate(herbs)]
    finding = found(course(*each, client=client))["unchecked.a-rare-illness"]
    assert f"whether you can use {says} with a rare illness" in finding.client_text


# What it is for


@pytest.mark.parametrize(
    ("facts", "says"),
    [
        (("migraine",), "your headaches are no better"),
        ((), "your joints or muscles are no better"),
    ],
)
def test_feverfew_for_migraine_is_not_for_the_joints(facts: tuple[str, ...], says: str) -> None:
    every = (remedy("feverfew"), remedy("comfrey", form=Form.RUB, name="r2"))
    layout = lay_out(course(*every, aims=("anti-inflammatory",)))
    assert RULES.come_back
    told = list(come_back_sentences(layout, MATERIA_MEDICA, RULES.come_back, facts))
    assert any(says in one.text and "r1" in one.remedies for one in told)
    assert any("joints or muscles" in one.text and "r2" in one.remedies for one in told)


@pytest.mark.parametrize(
    ("form", "severity"), [(Form.TEA, Severity.AVOID), (Form.OINTMENT, Severity.CAUTION)]
)
def test_an_ointment_is_not_a_tea_to_a_woman_who_feeds(form: Form, severity: Severity) -> None:
    """Health Canada and others speak of use by mouth; on the skin it is kept off the breast."""
    made = course(remedy("chickweed", form=form), client=with_facts("lactation"))
    finding = found(made)["chickweed.lactation"]
    assert finding.severity is severity
    is_on_skin = severity is Severity.CAUTION
    assert ("keep it off your breasts" in finding.client_text) is is_on_skin
    assert ("keep it off the breast" in finding.text) is is_on_skin
    assert ("Leave it out" in finding.text) is not is_on_skin


def test_what_the_record_says_of_the_skin_alone_stays_as_grave() -> None:
    made = course(remedy("comfrey", form=Form.OINTMENT), client=with_facts("lactation"))
    assert found(made)["comfrey.lactation"].severity is Severity.AVOID
