"""What the client is told: what to do, in plain words, of cautions and accepted findings."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time

import pytest

from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Fact
from sennight.domain.courses.courses import Flare
from sennight.domain.courses.stretches import lay_out
from sennight.domain.herbs.herbs import DurationKind
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.safety.advice import advice_sentences
from sennight.domain.safety.come_back import come_back_sentences
from sennight.domain.safety.for_client import ClientSentence, Place, by_place
from sennight.practice.safety import check, checked_sentence, client_notes, for_client
from support.safety_samples import MATERIA_MEDICA, RULES, course, day, found, remedy, with_facts


def test_hours_apart_say_the_medicine_and_the_time_that_is_far_enough() -> None:
    client = with_facts(Fact("iron", at=(time(8, 0),)))
    finding = found(course(remedy("nettle-leaf"), client=client))["hours.iron.nettle-leaf"]
    assert finding.client_text == (
        "r1: take this at least 2 hours before or after your iron, for example at 10:30."
    )


def test_the_last_dose_before_an_operation() -> None:
    client = with_facts(Fact("planned-surgery", since=day(28)))
    finding = found(course(remedy("chamomile"), client=client))["chamomile.planned-surgery"]
    assert finding.client_text == (
        "r1: take the last dose before 17 January 2027, and tell the surgeon and the "
        "anaesthetist what you took."
    )


def test_at_a_herb_s_last_day_going_on_is_agreed_and_nothing_contradicts_the_table() -> None:
    finding = found(course(remedy("liquorice"), weeks=10))["length.liquorice.max-course"]
    assert finding.client_text == (
        "r1: because of the liquorice, we will check with you by 31 January 2027 whether you go "
        "on with this; if we have not, stop after that day."
    )


def test_an_allergy_that_was_accepted_names_the_herb_and_stands_with_the_remedy() -> None:
    client = with_facts("asteraceae-allergy")
    finding = found(course(remedy("chamomile"), client=client))["chamomile.asteraceae-allergy"]
    sentence = finding.for_client
    assert sentence
    assert sentence.place is Place.USE, "bold under the remedy"
    assert sentence.says.startswith(
        "it contains chamomile, and you told us of your allergy to the daisy family: "
        "the first time take only a very small amount of it and wait a day"
    )


@pytest.mark.parametrize("form", [Form.TEA, Form.TINCTURE])
def test_what_is_said_of_coated_capsules_of_an_oil_is_not_told_of_a_tea(form: Form) -> None:
    taken = replace(remedy("peppermint"), form=form)
    layout = lay_out(course(taken, client=with_facts("antacid-acid-reducer")))
    told = advice_sentences(layout, MATERIA_MEDICA, RULES)
    assert not any("coated" in sentence.text for sentence in told)


@pytest.mark.parametrize(
    ("herb", "tag", "words"),
    [
        ("ginger", "anticoagulant", "bleeding"),
        ("st-johns-wort", "photosensitising-medicine", "sun"),
        ("valerian", "sedative", "drive"),
        ("st-johns-wort", "hormonal-contraceptive", "condoms"),
        ("st-johns-wort", "ssri", "mood"),
        # What the herb does is told, not what else may concern the medicine.
        ("liquorice", "hormonal-contraceptive-combined", "blood pressure measured"),
        ("liquorice", "hrt", "blood pressure measured"),
        ("ashwagandha", "levothyroxine", "your heart races"),
        ("st-johns-wort", "sedative", "may work less well"),
        ("st-johns-wort", "hrt", "hormone treatment may work less well"),
        ("gotu-kola", "alcohol", "urine turns dark"),
        ("willow-bark", "ssri", "bleeding"),
    ],
)
def test_what_to_look_out_for(herb: str, tag: str, words: str) -> None:
    finding = found(course(remedy(herb), client=with_facts(tag)))[f"{herb}.{tag}"]
    assert finding.client_text.startswith("r1: ")
    assert words in finding.client_text


def test_several_times_that_are_far_enough_are_told_in_the_days_order() -> None:
    client = with_facts(Fact("iron", at=(time(8, 0),)))
    made = course(remedy("nettle-leaf"), client=client, take="1 cup at 07:00,09:00")
    told = found(made)["hours.iron.nettle-leaf"].client_text
    assert told.endswith("for example at 10:30 and 12:30.")


def test_every_tag_is_one_of_the_vocabulary() -> None:
    records = RULES.records
    known = {*RULES.tags, *records.conditions, *records.classes, *records.properties}
    assert {tag for theme in RULES.themes for tag in theme.tags} <= known
    tags = [tag for theme in RULES.themes for tag in theme.tags]
    assert len(tags) == len(set(tags)), "each tag has one theme"


def test_the_sheet_tells_of_cautions_and_of_what_was_gone_ahead_with() -> None:
    made = course(
        remedy("willow-bark"),
        remedy("ginger", form=Form.TINCTURE, name="r2"),
        client=with_facts("anticoagulant"),
    )
    told = client_notes(check(lay_out(made)))
    (bruises,) = (one for one in told if "bruises" in one.text and one.remedies == ("r2",))
    assert bruises.text.startswith("r2: tell us or a doctor at once about unexplained bruises")
    assert bruises.text == f"r2: {bruises.says}."
    accept = Accept("willow-bark.anticoagulant", "INR watched weekly")
    accepted = replace(made, accepts=(accept,))
    notes = client_notes(check(lay_out(accepted)))
    assert ("r1",) in [one.remedies for one in notes if "bruises" in one.text]


@pytest.mark.parametrize(
    ("herb", "fact", "place"),
    [
        ("ginger", "anticoagulant", Place.BLEEDING),
        ("st-johns-wort", "photosensitising-medicine", Place.SUN),
        ("valerian", "sedative", Place.DRIVING),
        ("st-johns-wort", "hormonal-contraceptive", Place.CONTRACEPTION),
        ("st-johns-wort", "ssri", Place.MOOD),
        ("chamomile", "planned-surgery", Place.OPERATION),
        ("nettle-leaf", "iron", Place.DAY),
    ],
)
def test_a_sentence_knows_its_place(herb: str, fact: str, place: Place) -> None:
    since = day(28) if fact == "planned-surgery" else None
    at = (time(8, 0),) if fact == "iron" else ()
    findings = found(course(remedy(herb), client=with_facts(Fact(fact, since=since, at=at))))
    told = [one.for_client for one in findings.values() if one.for_client]
    (sentence,) = (one for one in told if one.place is place)
    assert sentence.remedies == ("r1",)
    if place is Place.DAY:
        assert sentence.minutes == (7 * 60 + 30,), "the dose that comes too near to 08:00"
    if place is Place.OPERATION:
        assert sentence.day == date(2027, 1, 17), "14 days before"


def test_sentences_are_told_place_by_place() -> None:
    layout = lay_out(course(remedy("valerian", "ginger"), client=with_facts("sedative")))
    grouped = by_place(for_client(check(layout), layout))
    assert list(grouped) == [place for place in Place if place in grouped]
    assert grouped[Place.DRIVING]
    assert grouped[Place.COME_BACK]
    assert Place.SUN not in grouped


def test_nothing_says_that_anything_was_checked_where_nothing_is_recorded() -> None:
    layout = lay_out(course(remedy("chamomile")))
    assert checked_sentence(layout) == ""
    assert not any("checked" in one.text for one in for_client(check(layout), layout))
    asked = replace(layout.course, client=with_facts("hypertension"))
    assert "We checked" in checked_sentence(lay_out(asked))


# When to come back


def come_back(*remedies: Remedy, aims: tuple[str, ...] = ()) -> list[ClientSentence]:
    layout = lay_out(course(*remedies, aims=aims))
    assert RULES.come_back
    return list(come_back_sentences(layout, MATERIA_MEDICA, RULES.come_back))


def test_what_is_not_taken_is_not_told_of() -> None:
    made = course(remedy("valerian"))
    unused = replace(remedy("willow-bark"), id="unused")
    layout = lay_out(replace(made, remedies=(*made.remedies, unused)))
    assert RULES.come_back
    told = [
        *come_back_sentences(layout, MATERIA_MEDICA, RULES.come_back),
        *advice_sentences(layout, MATERIA_MEDICA, RULES),
    ]
    assert {name for sentence in told for name in sentence.remedies} == {"r1"}


@pytest.mark.parametrize(
    ("herbs", "aims", "says"),
    [
        # The same herb for two purposes; days by the herbs' own records.
        (
            ("ginger",),
            ("antirheumatic", "anti-inflammatory"),
            "your joints or muscles are no better",
        ),
        (("ginger",), ("carminative",), "your digestion is no better"),
        (("willow-bark",), (), "your joints or muscles are no better by 1 February 2027"),
        (
            ("thyme", "elderflower"),
            ("expectorant",),
            "your cough or cold is no better by 11 January 2027",
        ),
        (("valerian",), (), "you sleep or feel no better by"),
        (("agrimony",), ("astringent",), "your bowels are no better by 7 January 2027"),
        (("nobody-knows",), (), "you are no better by 1 February 2027"),
    ],
)
def test_when_to_come_back_goes_by_what_the_remedy_is_for(
    herbs: tuple[str, ...], aims: tuple[str, ...], says: str
) -> None:
    (sentence,) = come_back(remedy(*herbs), aims=aims)
    assert sentence.place is Place.COME_BACK
    assert f"r1: come back to us or see a doctor if {says}" in sentence.text


@pytest.mark.parametrize(
    ("herb", "form", "says"),
    [
        ("sage", Form.GARGLE, "your mouth or throat is no better"),
        ("sage", Form.STEAM, "your cough or cold is no better"),
        ("chamomile", Form.COMPRESS, "your skin is no better"),
        ("chamomile", Form.TEA, "your digestion is no better"),
    ],
)
def test_what_is_not_swallowed_is_not_for_the_stomach(herb: str, form: Form, says: str) -> None:
    (sentence,) = come_back(replace(remedy(herb), form=form))
    assert says in sentence.text


def test_remedies_for_one_purpose_share_a_sentence() -> None:
    (joints,) = come_back(
        remedy("willow-bark"), remedy("devils-claw", name="r2"), aims=("antirheumatic",)
    )
    assert joints.remedies == ("r1", "r2")


@pytest.mark.parametrize(
    ("usual", "in_flare", "days"),
    [
        ("willow-bark", "devils-claw", {("r1", "r2"): day(29)}),
        ("", "willow-bark", {("r2",): None}),
    ],
)
def test_what_is_kept_for_a_flare_up_has_no_day_of_its_own_to_come_back_by(
    usual: str, in_flare: str, days: dict[tuple[str, ...], date | None]
) -> None:
    """It joins what is taken every day."""
    every = (remedy(usual or "thyme"), remedy(in_flare, name="r2"))
    made = course(*every, aims=("antirheumatic", "anti-inflammatory"))
    (base,) = made.protocol.phases
    first = replace(base, lines=base.lines[:1] if usual else ())
    rescue = replace(base, id="rescue", purpose="rescue", length=None, lines=base.lines[1:])
    layout = lay_out(replace(made, protocol=replace(made.protocol, phases=(first, rescue))))
    assert RULES.come_back
    told = list(come_back_sentences(layout, MATERIA_MEDICA, RULES.come_back))
    assert {sentence.remedies: sentence.day for sentence in told} == days
    assert all(" after " in sentence.says for sentence in told if sentence.day is None)


def test_a_flare_up_that_ran_is_no_first_day() -> None:
    every = (remedy("willow-bark"), remedy("willow-bark", name="r2"))
    made = course(*every)
    (base,) = made.protocol.phases
    first = replace(base, lines=base.lines[:1])
    rescue = replace(base, id="rescue", purpose="rescue", lines=base.lines[1:])
    flare = Flare(on=day(2), first=day(2), last=day(5), rescue="rescue")
    protocol = replace(made.protocol, phases=(first, rescue))
    layout = lay_out(replace(made, protocol=protocol, revisions=(flare,)))
    assert RULES.come_back
    (told,) = come_back_sentences(layout, MATERIA_MEDICA, RULES.come_back)
    assert (told.remedies, told.day) == (("r1", "r2"), day(29))


def test_every_remark_of_the_herbs_is_of_a_purpose_or_left_out_knowingly() -> None:
    """What is left out is about another place (mouth, eyes) or says that it is no limit."""
    assert RULES.come_back
    listed = RULES.come_back.for_any.union(*(one.texts for one in RULES.come_back.purposes))
    remarks = {
        duration.text
        for herb in MATERIA_MEDICA.herbs.values()
        for duration in herb.durations
        if duration.kind is DurationKind.SEEK_ADVICE_AFTER and duration.text
    }
    assert remarks - listed == {
        "Ask beyond one month",
        "By mouth",
        "Cassia at 4 to 6 g a day",
        "For the eyes",
        "If no weight is lost",
        "No longer without a doctor's advice",
        "Not for several weeks without advice",
        "Toothache: see a dentist",
    }
    assert listed <= remarks


def test_every_system_of_the_herbs_has_a_purpose() -> None:
    assert RULES.come_back
    systems = {system for herb in MATERIA_MEDICA.herbs.values() for system in herb.systems}
    assert systems <= {purpose.system for purpose in RULES.come_back.purposes}
