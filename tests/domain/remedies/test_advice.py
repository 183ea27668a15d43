"""What every client is told, against what published texts ask for."""

from __future__ import annotations

import re

import pytest

from sennight.domain.remedies.advice import Advice, Concern, advice_for, get_help, see_soon
from sennight.domain.remedies.forms import Form

ALL = (*get_help(concerns=frozenset(Concern)), *advice_for(frozenset(Form)))
EVERYTHING = " ".join([*(item for advice in ALL for item in advice.items)])
USES = " ".join(item for form in Form for item in form.facts.use)


def said(advice: tuple[Advice, ...], words: str) -> bool:
    return any(words in item for one in advice for item in one.items)


@pytest.mark.parametrize(
    ("words", "source"),
    [
        ("out of the reach and sight of children", "UK SI 2012/1916 Sch 24 Pt 1 para 10"),
        ("use-by date", "UK SI 2012/1916 Sch 24 Pt 1 para 12"),
        ("dry, cool and away from light", "UK SI 2012/1916 Sch 24 Pt 1 para 13"),
        ("left over to us or to a pharmacy", "UK SI 2012/1916 Sch 24 Pt 1 para 14"),
        ("hot, red, swollen and painful", "BSR, hot swollen joint, Rheumatology 2006"),
        ("with or without a fever", "BSR, hot swollen joint: no fever does not rule it out"),
        ("one joint that flares far more", "hot swollen joints, professional article"),
        ("yellow skin", "EMA herbal monographs, liver signs"),
        ("bladder or bowel control", "NICE NG59, cauda equina"),
        ("calf", "NICE NG158, clot"),
        ("change in your sight", "BSR, giant cell arteritis"),
        ("bear your weight", "Ottawa rules"),
        ("at least 2 weeks before", "American Society of Anesthesiologists"),
        ("doctor and pharmacist", "common practice"),
        ("pregnant", "EMA herbal monographs"),
    ],
)
def test_what_published_texts_ask_for_is_said(words: str, source: str) -> None:
    assert said(ALL, words), source


@pytest.mark.parametrize(
    ("words", "source"),
    [
        ("external use only", "SUSMP Appendix L, WA Health summary"),
        ("inside of your forearm", "patch test pages"),
        ("24 to 48 hours", "patch test pages"),
        ("you could still react later", "patch test pages"),
        ("never on broken", "Commission E, comfrey and arnica"),
        ("Wash your hands with soap at once", "capsaicin topical, health library"),
        ("30 minutes", "capsaicin topical, health library"),
        ("rinse with plenty of water", "capsaicin topical, health library"),
        ("heat pad", "capsaicin topical, health library"),
    ],
)
def test_a_rub_says_how_it_is_used(words: str, source: str) -> None:
    assert any(words in item for item in Form.RUB.facts.use), source


@pytest.mark.parametrize(
    ("concern", "words", "source"),
    [
        (Concern.JOINTS, "bear your weight", "Ottawa rules"),
        (Concern.HEADACHE, "a sudden, severe headache", "NICE CG150, from memory"),
        (Concern.CHEST, "coughing up blood", "NHS, from memory"),
        (Concern.CHILD, "does not fade under a glass", "NICE NG143 and NHS, from memory"),
        (Concern.GROWN, "calf on one side", "NICE NG158, clot"),
        (Concern.GROWN, "a drooping face or arm, or slurred speech", "NHS, FAST, from memory"),
        (Concern.LOW_BLOOD_COUNT, "sore throat, mouth ulcers", "BNF, methotrexate, from memory"),
        (Concern.DIGESTION, "trouble swallowing", "a general practice's page on indigestion"),
        (Concern.MOOD, "harming yourself", "common practice"),
        (Concern.BLEEDING, "a blow to the head", "NPSA signal 2010, head injury on warfarin"),
        (Concern.SEROTONIN, "shaking or heavy sweating", "MSD manual, serotonin syndrome"),
    ],
)
def test_signs_go_by_what_the_course_is_for_and_its_client_takes(
    concern: Concern, words: str, source: str
) -> None:
    assert said(get_help(concerns={concern}), words), source
    assert not said(get_help(concerns=set(Concern) - {concern}), words), source
    for concerns in (set(), {concern}):
        assert said(get_help(concerns=concerns), "trouble breathing"), "told to everyone"
    assert bool(see_soon({concern})) == (concern in (Concern.DIGESTION, Concern.CHEST))


@pytest.mark.parametrize("concern", [Concern.JOINTS, Concern.ARTHRITIS])
def test_a_hot_joint_is_told_of_whatever_the_course_of_someone_with_arthritis_is_for(
    concern: Concern,
) -> None:
    """BSR, hot swollen joint, Rheumatology 2006: same day, septic arthritis not excluded."""
    assert said(get_help(concerns={concern}), "hot, red, swollen and painful")
    assert not said(get_help(concerns={Concern.DIGESTION}), "hot, red, swollen and painful")


def test_tea_alone_says_how_long_made_tea_keeps() -> None:
    """24 hours kept cold: reference texts on infusions and decoctions."""
    assert said(advice_for({Form.TEA}), "within 24 hours")
    assert not said(advice_for({Form.RUB}), "within 24 hours")


def test_the_urgent_comes_first() -> None:
    assert [advice.urgent for advice in ALL[:3]] == [True, True, False]


def test_nothing_is_ever_called_safe() -> None:
    assert not re.search(
        r"\b(safe|harmless|no side effects|cannot harm)", EVERYTHING + USES, re.IGNORECASE
    )


def syllables(word: str) -> int:
    """A rough count: groups of vowels, a silent e at the end left out."""
    groups = re.findall(r"[aeiouy]+", word.lower())
    return max(1, len(groups) - (word.lower().endswith("e") and not word.endswith("le")))


def test_reading_grade_is_eight_or_less() -> None:
    """AMA, NIH and CDC advise grades 6 to 8 (from memory); Flesch-Kincaid grade level."""
    sentences = [s for s in re.split(r"[.:]\s*", EVERYTHING + " " + USES) if s.strip()]
    words = re.findall(r"[A-Za-z']+", " ".join(sentences))
    per_sentence = len(words) / len(sentences)
    per_word = sum(syllables(word) for word in words) / len(words)
    assert 0.39 * per_sentence + 11.8 * per_word - 15.59 <= 8


def test_the_number_to_call_is_the_one_of_the_place() -> None:
    assert get_help("999")[0].lead == "Stop all remedies and call 999 if you have:"
    assert "your local emergency number" in get_help()[0].lead


def test_a_new_medicine_is_told_and_no_reason_to_stop_everything() -> None:
    """Stopping a herb that acts on a medicine's level is itself a change: common practice."""
    stop = next(
        advice for advice in ALL if advice.lead.startswith("Stop all remedies and call us")
    )
    assert not any("medicine" in item for item in stop.items)
    assert said(ALL, "Tell us before you start, stop or change the dose of a medicine.")
