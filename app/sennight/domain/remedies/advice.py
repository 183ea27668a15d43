"""What every client is told in writing, whatever the course, and by the forms that it holds.

Plain statements for a lay reader. They never call anything safe, and they send the reader to
licensed care. Where each comes from stands beside it; "common practice" is the trade's habit,
and the publications named without a "read" mark are quoted from memory.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from enum import StrEnum

from sennight.domain.remedies.forms import Form, is_made_in_water


class Concern(StrEnum):
    """What signs of danger are chosen by: the course's complaint, or a class of medicines."""

    JOINTS = "joints"
    ARTHRITIS = "arthritis"
    """A client whose joints may turn hot, whatever the course is for."""
    HEADACHE = "headache"
    DIGESTION = "digestion"
    CHEST = "chest"
    MOOD = "mood"
    BLEEDING = "bleeding"
    SEROTONIN = "serotonin"
    LOW_BLOOD_COUNT = "low blood count"
    """A medicine that may lower the blood count or weaken immunity."""
    CHILD = "child"
    GROWN = "grown"
    """Everyone who is no child."""


@dataclass(frozen=True, slots=True)
class Advice:
    """A heading and its statements, with the words that lead to them.

    `urgent` where it says when to seek help.
    """

    title: str
    items: tuple[str, ...]
    urgent: bool = False
    lead: str = ""


# Warning sections of the EMA herbal monographs; NICE and BSR guidance on the hot swollen joint
# (Rheumatology 2006, read); NICE NG59 (cauda equina), NG158 (clot); Ottawa rules; BSR on giant
# cell arteritis.
# A blow to the head while on an anticoagulant: NPSA signal, 2010 (read). Raised serotonin: MSD
# manual for consumers (read). Swallowing, weight: advice of a general practice on indigestion
# (read). Thoughts of self-harm, belly pain, a changed bowel habit: from memory.
# Signs of a stroke: FAST, as the NHS teaches it; a sudden headache: NICE CG150; a child: NICE
# NG143 (traffic light for fever) and NHS advice to parents; coughing up blood: NHS; a low blood
# count: BNF, methotrexate and carbimazole. All from memory.
_Lines = tuple[tuple[frozenset[Concern], str], ...]
_EVERYONE = frozenset(Concern)
_JOINTS = frozenset({Concern.JOINTS})
_ANY_JOINT = frozenset({Concern.JOINTS, Concern.ARTHRITIS})
_DIGESTION = frozenset({Concern.DIGESTION})
_CHILD = frozenset({Concern.CHILD})
_EMERGENCY: _Lines = (
    (_EVERYONE, "chest pain, trouble breathing, or a swollen face, lips, tongue or throat"),
    (_CHILD, "fast or hard breathing, or skin or lips that are blue, grey or very pale"),
    (_CHILD, "a child who is floppy, hard to wake or does not respond to you"),
    (_CHILD, "a stiff neck, or a rash that does not fade under a glass"),
    (frozenset({Concern.GROWN}), "a drooping face or arm, or slurred speech"),
    (frozenset({Concern.HEADACHE}), "a sudden, severe headache, or one with a stiff neck"),
    (_EVERYONE, "vomiting blood, or poo that is black or has blood in it"),
    (frozenset({Concern.MOOD}), "thoughts of harming yourself"),
    (
        frozenset({Concern.SEROTONIN}),
        "agitation or confusion with fever, shaking or heavy sweating",
    ),
    (
        frozenset({Concern.BLEEDING}),
        "a blow to the head, though you feel well, or bleeding that does not stop",
    ),
    (_DIGESTION, "severe belly pain"),
    (
        _JOINTS,
        "back pain with loss of bladder or bowel control, numbness between the legs, or weak legs",
    ),
    (frozenset({Concern.GROWN}), "a swollen, warm, painful calf on one side"),
    (_JOINTS, "an injured joint that will not bear your weight, looks the wrong shape or is numb"),
    (_EVERYONE, "a fit (seizure), fainting or sudden confusion"),
)
_SAME_DAY: _Lines = (
    (_ANY_JOINT, "a joint that turns hot, red, swollen and painful, with or without a fever"),
    (_ANY_JOINT, "one joint that flares far more than the rest"),
    (frozenset({Concern.LOW_BLOOD_COUNT}), "a fever, sore throat, mouth ulcers or new bruises"),
    (_DIGESTION, "trouble swallowing, or food that sticks"),
    (frozenset({Concern.CHEST}), "coughing up blood, or a cough with a high fever"),
    (_CHILD, "a fever of 39 °C or more, or one that lasts 5 days"),
    (_CHILD, "drinking or passing water much less than usual"),
    (_EVERYONE, "yellow skin or eyes, or dark urine"),
    (_EVERYONE, "a new bad headache, jaw pain or any change in your sight"),
)
_SOON: _Lines = (
    (
        _DIGESTION,
        "See a doctor soon if you lose weight without trying or your bowels change for weeks.",
    ),
    (
        frozenset({Concern.CHEST}),
        "See a doctor soon if a cough lasts longer than 3 weeks.",
    ),
)
USUAL = frozenset({Concern.JOINTS, Concern.GROWN})


def get_help(emergency: str = "", concerns: Collection[Concern] = USUAL) -> tuple[Advice, Advice]:
    """When to call for help at once, and when to see a doctor the same day.

    `emergency` is the number to call where the client lives; empty where it is not known.
    `concerns` are what the course is for, and what the client's medicines bring with them.
    """
    number = emergency or "your local emergency number"
    return (
        Advice(
            "Get help at once",
            _of(_EMERGENCY, concerns),
            urgent=True,
            lead=f"Stop all remedies and call {number} if you have:",
        ),
        Advice(
            "See a doctor the same day",
            _of(_SAME_DAY, concerns),
            urgent=True,
            lead="Stop all remedies and see a doctor the same day if you have:",
        ),
    )


def see_soon(concerns: Collection[Concern]) -> tuple[str, ...]:
    """The signs for which a doctor is seen, though not on the same day."""
    return _of(_SOON, concerns)


def _of(lines: _Lines, concerns: Collection[Concern]) -> tuple[str, ...]:
    return tuple(
        words for about, words in lines if about is _EVERYONE or not about.isdisjoint(concerns)
    )


_PREGNANT = "you find out that you are pregnant"
_PREGNANT_OR_FEEDING = (
    "If you are pregnant, hope to be, or are breastfeeding, ask us before you take anything on "
    "this sheet."
)

# EMA herbal monographs, undesirable effects; general-practice follow-up rules: common practice.
# Two weeks before an operation: American Society of Anesthesiologists (read).
STOP = Advice(
    "Stop, and tell us",
    (
        "you get a rash, itching or a sore mouth",
        "you feel sick, or have stomach pain or diarrhoea that lasts more than a day",
        "you feel worse, or have a new symptom",
        _PREGNANT,
        "you are going to have an operation or dental surgery: tell us at least 2 weeks before it",
    ),
    lead="Stop all remedies and call us if:",
)

# UK Human Medicines Regulations 2012 Sch 24 Pt 1 paras 10, 12, 13, 14 (read): children, expiry,
# storage, disposal. Keeping of made tea: reference texts on infusions give 24 hours (read).
_KEEP = (
    "Keep all remedies out of the reach and sight of children.",
    "Keep them closed, dry, cool and away from light.",
    "Do not use them after the use-by date on the label.",
    "They are made for you only. Do not share them.",
    "Return anything left over to us or to a pharmacy. Do not pour it away.",
)
_KEEP_TEA = "Keep brewed tea covered in the fridge, and drink it within 24 hours."

# EMA herbal monographs, sections on interactions, pregnancy and lactation; common practice.
TELL = Advice(
    "Tell us, your doctor and your pharmacist",
    (
        "Show this sheet to your doctor and pharmacist, and before any treatment.",
        "Tell us before you start, stop or change the dose of a medicine.",
        "Do not stop or change a prescribed medicine unless the person who prescribed it agrees.",
        _PREGNANT_OR_FEEDING,
        "Herbs can act on medicines. No sheet can list every case, so ask if you are not sure.",
    ),
)

# Patient-leaflet convention for a missed dose; common practice.
DOSES = Advice(
    "Doses",
    (
        "If you miss a dose, leave it out. Take the next at its usual time. Never take double.",
        "If you or anyone else takes too much, get medical help and take this sheet with you.",
    ),
)


def advice_for(forms: Collection[Form], *, may_be_pregnant: bool = True) -> tuple[Advice, ...]:
    """What a course with remedies of these forms must say, beside when to get help."""
    in_water = any(is_made_in_water(form) for form in forms)
    keep = (*_KEEP, _KEEP_TEA) if in_water else _KEEP
    every = (STOP, TELL, DOSES, Advice("Storing", keep))
    return every if may_be_pregnant else tuple(map(_without_pregnancy, every))


def _without_pregnancy(advice: Advice) -> Advice:
    """The same for men, small children and the old."""
    left_out = (_PREGNANT, _PREGNANT_OR_FEEDING)
    return replace(advice, items=tuple(item for item in advice.items if item not in left_out))
