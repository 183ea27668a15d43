"""Reactions, red flags, the printed sheets, and what stops a course from being given."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Client, Reaction, Topic
from sennight.domain.courses.courses import Stop
from sennight.domain.courses.stretches import lay_out
from sennight.domain.herbs.general_rules import Urgency
from sennight.domain.herbs.herbs import Level
from sennight.domain.herbs.own_herbs import OwnCaution, with_own
from sennight.domain.practices import PracticeCard
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.safety.findings import Severity
from sennight.knowledge.safety_rules import SafetyRulesError, read_safety_rules
from sennight.practice.clients import add_client, client_entry
from sennight.practice.course_reading import read_course
from sennight.practice.courses import add_course, course_entry, course_history, save_course
from sennight.practice.given_papers import GiveChoices, handout_text
from sennight.practice.giving import give
from sennight.practice.letters import practitioner_copy
from sennight.practice.materia_medica import supplied_materia_medica
from sennight.practice.opening import MissingRecordError, OpenPractice
from sennight.practice.own_herbs import new_own_herb, save_own_herb
from sennight.practice.publications import list_publications
from sennight.practice.reactions import reaction_report, record_reaction
from sennight.practice.red_flags import (
    RedFlagCheck,
    Referral,
    list_checks,
    record_check,
    red_flags,
    referral_letter,
)
from sennight.practice.safety import SafetyReport, UnacceptedError, check, for_client
from support.pdf_pages import page_texts
from support.safety_samples import START, course, day, remedy, with_facts

NOW = datetime(2027, 1, 20, 9, 30, tzinfo=UTC)
CARD = PracticeCard("The Weld Rooms", "Oriel Tansy", ("2 Madder Row",), "01632 960000")
RASH = Reaction(day(10), "", ("yarrow",), "Itching and a rash on both arms")
CHOICES = GiveChoices(ReminderChoices(zone="Europe/London"))


@pytest.fixture
def client_id(practice: OpenPractice) -> str:
    return add_client(practice, Client("Una Example-Sample", date(1970, 5, 1)))


@pytest.fixture
def course_id(practice: OpenPractice, client_id: str) -> str:
    made = course(remedy("yarrow", "ginger", name="Old tea"), remedy("rosehip", name="Hips"))
    return add_course(practice, client_id, made, now=NOW)


def ids(practice: OpenPractice, course_id: str) -> dict[str, Severity]:
    checked = check(lay_out(course_entry(practice, course_id).course))
    return {one.id: one.severity for one in checked.findings}


def test_a_reaction_stops_the_remedy_and_stays_for_good(
    practice: OpenPractice, client_id: str, course_id: str
) -> None:
    assert "yarrow.reaction" not in ids(practice, course_id)
    entry = record_reaction(practice, course_id, "Old tea", RASH, on=day(12), now=NOW)
    (stop,) = entry.course.revisions
    assert isinstance(stop, Stop)
    assert (stop.on, stop.first, stop.remedy) == (day(12), day(10), "Old tea")
    assert stop.reason == "reaction: Itching and a rash on both arms"
    assert len(course_history(practice, course_id)) == 2
    known = client_entry(practice, client_id).client.reactions
    assert known == (replace(RASH, remedy="Old tea"),)
    other = replace(course(remedy("yarrow", name="New tea")), id="0ther", start=day(20))
    other_id = add_course(practice, client_id, other, now=NOW)
    assert ids(practice, other_id)["yarrow.reaction"] is Severity.AVOID


def test_a_reaction_after_the_course_is_remembered_all_the_same(
    practice: OpenPractice, client_id: str, course_id: str
) -> None:
    late = replace(RASH, day=day(60))
    entry = record_reaction(practice, course_id, "Old tea", late, on=day(61), now=NOW)
    assert entry.course.revisions == ()
    assert client_entry(practice, client_id).client.reactions == (replace(late, remedy="Old tea"),)


@pytest.mark.parametrize("wrong", [replace(RASH, herbs=()), replace(RASH, what=" ")])
def test_a_reaction_needs_its_herbs_and_words(
    practice: OpenPractice, client_id: str, course_id: str, wrong: Reaction
) -> None:
    with pytest.raises(ValueError, match="needs the herbs"):
        record_reaction(practice, course_id, "Old tea", wrong, on=day(12), now=NOW)
    with pytest.raises(KeyError):
        record_reaction(practice, course_id, "No tea", RASH, on=day(12), now=NOW)
    assert client_entry(practice, client_id).client.reactions == ()
    assert course_entry(practice, course_id).course.revisions == ()


def test_the_report_of_a_reaction(practice: OpenPractice, course_id: str) -> None:
    one = course_entry(practice, course_id).course
    one = replace(one, client=replace(with_facts("statin", "gout"), name=one.client.name))
    reaction = replace(RASH, remedy="Old tea")
    reading = read_course(one, today=day(12))
    data = reaction_report(reading, "Old tea", reaction, CARD)
    said = " ".join(" ".join(page_texts(data)).split())
    for words in ("U. E. S.", "13 January 2027", "Itching and a rash", "Yarrow", "Achillea"):
        assert words in said
    for words in (
        "1 cup three times a day, at breakfast, lunch and the evening meal: 4 to 13 January 2027",
        "Statins",
        "Gout",
        "The Weld Rooms",
        "Signature",
    ):
        assert words in said
    assert "Example" not in said
    assert data == reaction_report(reading, "Old tea", reaction, CARD)


def test_red_flags_are_listed_with_what_to_do_and_their_source() -> None:
    flags = {flag.id: flag for flag in red_flags()}
    assert "Same-day assessment in hospital" in flags["hot-joint"].action
    assert "Rheumatology 2006" in str(flags["hot-joint"].origin)
    assert len(flags) == len(red_flags()) == 20
    assert all(str(flag.origin) for flag in flags.values())


def test_a_check_for_red_flags_stays(practice: OpenPractice, client_id: str) -> None:
    none, some = RedFlagCheck(day(1)), RedFlagCheck(day(2), ("hot-joint", "clot"))
    for one in (none, some):
        record_check(practice, client_id, one, now=NOW)
    assert list_checks(practice, client_id) == (none, some)
    with pytest.raises(ValueError, match="no red flag “nose”"):
        record_check(practice, client_id, RedFlagCheck(day(3), ("nose",)), now=NOW)
    with pytest.raises(MissingRecordError):
        record_check(practice, "nobody", none, now=NOW)


@pytest.mark.parametrize("flag", [flag.id for flag in red_flags()])
def test_a_red_flag_that_stands_stops_giving(
    practice: OpenPractice, client_id: str, course_id: str, tmp_path: Path, flag: str
) -> None:
    """With a reason it is given all the same, but not where a doctor is needed at once."""
    record_check(practice, client_id, RedFlagCheck(day(1), (flag,)), now=NOW)
    out = tmp_path / "out"
    with pytest.raises(UnacceptedError, match=r"  flag\.") as stopped:
        give(practice, course_id, out, now=NOW, today=START, choices=CHOICES)
    (one,) = stopped.value.findings
    sign = next(found for found in red_flags() if found.id == flag)
    assert sign.sign in one.text
    assert "Refer the client to a doctor" in one.text
    entry = course_entry(practice, course_id)
    accept = Accept(one.id, "The doctor saw her this morning")
    save_course(practice, entry, replace(entry.course, accepts=(accept,)), now=NOW)
    if sign.urgency is Urgency.EMERGENCY:
        assert "until a later check no longer finds it" in one.text
        with pytest.raises(UnacceptedError):
            give(practice, course_id, out, now=NOW, today=START, choices=CHOICES)
        assert not out.exists()
        record_check(practice, client_id, RedFlagCheck(day(2), cleared="seen, all clear"), now=NOW)
    assert give(practice, course_id, out, now=NOW, today=START, choices=CHOICES)


def test_a_red_flag_that_is_gone_stops_nothing(
    practice: OpenPractice, client_id: str, course_id: str, tmp_path: Path
) -> None:
    record_check(practice, client_id, RedFlagCheck(day(1), ("cauda-equina",)), now=NOW)
    with pytest.raises(ValueError, match=r"no reason why .* has gone"):
        record_check(practice, client_id, RedFlagCheck(day(2)), now=NOW)
    record_check(practice, client_id, RedFlagCheck(day(2), (), "scan and doctor: no"), now=NOW)
    assert list_checks(practice, client_id)[-1].cleared == "scan and doctor: no"
    assert give(practice, course_id, tmp_path, now=NOW, today=START, choices=CHOICES)


def test_the_referral_names_the_most_urgent_first() -> None:
    client = Client("Una Example", date(1970, 5, 1))
    check_ = RedFlagCheck(day(2), ("liver", "clot"))
    taken = [("A Night tea", ("1 cup at bedtime: 4 to 10 January 2027.",))]
    referral = Referral(client, check_, taken, "Seen twice.")
    data = referral_letter(referral, CARD, today=day(3), paper="Letter")
    said = " ".join(" ".join(page_texts(data)).split())
    assert said.index("Emergency") < said.index("Same day")
    assert "Emergency referral" in said
    born = "Una Example (born 1 May 1970, 56 years old)"
    for words in (born, "Seen twice.", "Night tea", "Oriel Tansy", "Yellow skin"):
        assert words in said


def test_nothing_is_given_while_a_finding_to_avoid_stands(
    practice: OpenPractice, tmp_path: Path
) -> None:
    client_id = add_client(practice, with_facts("anticoagulant"))
    course_id = add_course(practice, client_id, course(remedy("willow-bark")), now=NOW)
    with pytest.raises(UnacceptedError, match=r"willow-bark\.anticoagulant") as stopped:
        give(practice, course_id, tmp_path / "out", now=NOW, today=START, choices=CHOICES)
    assert [one.id for one in stopped.value.findings] == ["willow-bark.anticoagulant"]
    assert not (tmp_path / "out").exists()
    assert list_publications(practice, course_id) == ()
    entry = course_entry(practice, course_id)
    accept = Accept("willow-bark.anticoagulant", "The doctor knows")
    save_course(practice, entry, replace(entry.course, accepts=(accept,)), now=NOW)
    written = give(practice, course_id, tmp_path / "out", now=NOW, today=START, choices=CHOICES)
    assert len(written) == 2
    kept = [version.course.accepts for version in course_history(practice, course_id)]
    assert kept == [(), (accept,)]
    assert course_history(practice, course_id)[-1].when == NOW


def test_the_practices_own_herbs_are_checked_too(practice: OpenPractice, tmp_path: Path) -> None:
    own = replace(
        new_own_herb("Moonwort"),
        cautions=(OwnCaution("anticoagulant", Level.AVOID),),
        constituents=("salicylates",),
    )
    save_own_herb(practice, own)
    client_id = add_client(practice, with_facts("anticoagulant", "peptic-ulcer"))
    course_id = add_course(practice, client_id, course(remedy(own.id)), now=NOW)
    with pytest.raises(UnacceptedError, match="Moonwort with anticoagulants: ") as stopped:
        give(practice, course_id, tmp_path / "out", now=NOW, today=START, choices=CHOICES)
    assert [finding.id.split(".")[1] for finding in stopped.value.findings] == [
        "anticoagulant",
        "peptic-ulcer",
    ]
    assert not [finding for finding in stopped.value.findings if ": ." in finding.text]


def test_the_report_names_the_practices_own_herbs() -> None:
    own = new_own_herb("Moonwort")
    materia_medica = with_own(supplied_materia_medica(), (own,), ())
    made = course(remedy(own.id))
    reading = read_course(made, today=day(12), materia_medica=materia_medica)
    reaction = Reaction(day(10), "", (own.id,), "A rash")
    data = reaction_report(reading, made.remedies[0].id, reaction, CARD)
    words = " ".join(" ".join(page_texts(data)).split())
    assert words.count("Moonwort") == 2, "suspected, and in what was taken"
    assert "Moonwort (" not in words, "it has no Latin name and no part"


def test_an_own_caution_without_words_or_hours_is_not_dropped() -> None:
    cautions = (
        OwnCaution("levothyroxine", Level.SEPARATE),
        OwnCaution("gout", Level.INFO),
        OwnCaution("under-12", Level.AVOID),
    )
    own = replace(new_own_herb("Moonwort"), cautions=cautions)
    materia_medica = with_own(supplied_materia_medica(), (own,), ())
    client = replace(with_facts("levothyroxine", "gout"), born=date(2020, 1, 1))
    layout = lay_out(course(remedy(own.id), client=client))
    found = {one.id: one for one in check(layout, materia_medica).findings}
    assert "2 hours from levothyroxine (recorded as to be taken hours apart)" in (
        found[f"hours.levothyroxine.{own.id}"].text
    )
    assert "under 12: recorded as to be avoided." in found[f"{own.id}.age"].text
    told = for_client(check(layout, materia_medica), layout, materia_medica)
    assert any("With gout: ask us about it." in sentence.text for sentence in told)


def test_the_practitioners_copy_has_sources_and_reasons() -> None:
    herbs = remedy("willow-bark", "liquorice", "sage", "nettle-leaf", "ginger")
    one = course(
        herbs, client=with_facts("anticoagulant", "lithium", "epilepsy", "hypertension", "digoxin")
    )
    accepts = (
        Accept("willow-bark.anticoagulant", "The doctor knows and watches"),
        Accept("ginger.pregnancy", "An older decision"),
    )
    one = replace(one, accepts=accepts)
    checked = check(lay_out(one))
    pages = page_texts(practitioner_copy(read_course(one, today=START), CARD))
    assert checked.findings
    for number, page in enumerate(pages, 1):
        assert f"{one.client.name} · Practitioner’s copy" in page
        assert f"Page {number} of {len(pages)}" in page
    said = " ".join(" ".join(pages).split())
    assert said.index("Finding nothing does not mean it is safe") < said.index("To avoid")
    for words in (
        "To avoid",
        "Willow bark with anticoagulants",
        "Ginger in pregnancy",
        "USP Safety Review",
        "The doctor knows and watches",
        f"Decided by {CARD.practitioner}.",
        "No longer found",
        "Finding nothing does not mean it is safe",
    ):
        assert words in said
    bare = read_course(course(remedy("rosehip")), today=START)
    vars(bare)["safety"] = SafetyReport((), (), "Checked.")
    assert "No findings." in " ".join(page_texts(practitioner_copy(bare, CARD)))


def test_the_client_is_told_of_single_remedies() -> None:
    made = course(remedy("valerian", name="Night tea"))
    told = handout_text(read_course(made, today=START), CARD)
    assert "You may be drowsy: do not drive, use machines" in " ".join(told.split())
    assert "No check finds everything" not in told
    asked = replace(made, client=replace(made.client, asked=(Topic.MEDICINES,)))
    told = handout_text(read_course(asked, today=START), CARD)
    assert "No check finds everything" in " ".join(told.split())


def test_rules_that_cannot_be_read_are_told_with_their_place(tmp_path: Path) -> None:
    (tmp_path / "red_flags.toml").write_text('[[flag]]\nid = "x"\n', encoding="utf-8")
    with pytest.raises(SafetyRulesError, match=r"red_flags.toml:\n.*source"):
        read_safety_rules(tmp_path)


def test_of_a_course_that_was_struck_out_only_reminders_are_taken_back(
    practice: OpenPractice, client_id: str, course_id: str, tmp_path: Path
) -> None:
    """What the phone was told is cancelled; no sheet says anything of the course any more."""
    give(practice, course_id, tmp_path / "first", now=NOW, today=START, choices=CHOICES)
    entry = course_entry(practice, course_id)
    struck = replace(entry.course, void="another client's", void_on=START)
    save_course(practice, entry, struck, now=NOW)
    later = give(practice, course_id, tmp_path / "later", now=NOW, today=START, choices=CHOICES)
    assert {path.suffix for path in later} == {".ics"}
    assert b"STATUS:CANCELLED" in later[0].read_bytes()
    assert client_entry(practice, client_id).client.name
