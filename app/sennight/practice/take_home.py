"""What a client takes home, made from the one reading of the course."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date

from sennight.domain.dates import whole_years
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.advice import Concern
from sennight.domain.remedies.forms import is_taken_by_mouth
from sennight.domain.remedies.use_words import NO_HEAT
from sennight.domain.safety.come_back import purposes_of
from sennight.domain.safety.facts import client_facts
from sennight.domain.safety.for_client import ClientSentence
from sennight.domain.tag_words import lower_first
from sennight.domain.take_home.choices import USUAL, SheetChoices
from sennight.domain.take_home.document import TakeHome
from sennight.domain.take_home.facts import TakeHomeFacts
from sennight.domain.take_home.whole import take_home
from sennight.knowledge.vocabulary import vocabulary
from sennight.practice.course_reading import CourseReading
from sennight.practice.safety import checked_sentence, for_client, safety_rules

HEAT = "heat-exposure"
ONLY_SWALLOWED = frozenset(
    (
        "adaptogen",
        "adrenal-tonic",
        "alterative",
        "antacid",
        "antiemetic",
        "antihidrotic",
        "antilithic",
        "bitter",
        "cardiac-tonic",
        "carminative",
        "cholagogue",
        "diaphoretic",
        "diuretic",
        "emetic",
        "emmenagogue",
        "galactagogue",
        "hepatic",
        "hormonal-regulator",
        "hypoglycaemic",
        "hypotensive",
        "immune-stimulant",
        "laxative-mild",
        "laxative-stimulant",
        "lipid-lowering",
        "nootropic",
        "nutritive",
        "prostate-tonic",
        "stomachic",
        "thyroid-stimulant",
        "tonic",
        "urinary-antiseptic",
        "uterine-tonic",
    )
)
"""Actions of which nobody is told of what goes on the skin or is spat out: common practice."""
MOST_PURPOSES = 3
"""More purposes than these are not said of one remedy."""


def take_home_document(
    reading: CourseReading, card: PracticeCard, choices: SheetChoices = USUAL
) -> TakeHome:
    """The neutral document of a course; raises ValueError for a course without a day."""
    return take_home(
        TakeHomeFacts(
            reading.layout,
            card,
            reading.today,
            reading.materia_medica.names,
            told=told(reading),
            checked=checked_sentence(reading.layout),
            purposes=purposes(reading),
            lasts_until=lasts_until(reading),
            appointment=reading.appointment,
            choices=choices,
            concerns=concerns(reading),
            phone=reading.phone,
        )
    )


_OF_PURPOSE = {
    "joints": Concern.JOINTS,
    "headache": Concern.HEADACHE,
    "digestion": Concern.DIGESTION,
    "bowel": Concern.DIGESTION,
    "chest": Concern.CHEST,
    "sleep": Concern.MOOD,
}
_OF_FACT = {
    "anticoagulant": Concern.BLEEDING,
    "antiplatelet": Concern.BLEEDING,
    "depression": Concern.MOOD,
    "suicidal-thoughts": Concern.MOOD,
    "lowers-blood-count": Concern.LOW_BLOOD_COUNT,
    "immunosuppressing": Concern.LOW_BLOOD_COUNT,
    "immunosuppression": Concern.LOW_BLOOD_COUNT,
    **dict.fromkeys(
        (
            "osteoarthritis",
            "rheumatoid-arthritis",
            "psoriatic-arthritis",
            "juvenile-arthritis",
            "ankylosing-spondylitis",
            "lupus",
            "gout",
            "joint-replacement",
        ),
        Concern.ARTHRITIS,
    ),
}
_RAISES_SEROTONIN = frozenset(
    ("ssri", "ssri-antidepressant", "snri", "antidepressant", "tricyclic", "maoi", "serotonergic")
)
_MOOD = "mood"
"""The theme of what acts on mood or serotonin."""
_A_CHILD = 12
"""Years of age below which the signs of an ill child are told."""


def concerns(reading: CourseReading) -> frozenset[Concern]:
    """What chooses the signs of danger: what remedies are for, and the client's facts."""
    facts = client_facts(reading.course.client, safety_rules())
    known = {*facts.facts, *facts.properties}
    found = {concern for tag, concern in _OF_FACT.items() if tag in known}
    found.add(_by_age(reading))
    if any(
        finding.theme == _MOOD and finding.fact in _RAISES_SEROTONIN
        for finding in reading.safety.found
    ):
        found.add(Concern.SEROTONIN)
    return frozenset(found | _of_purposes(reading, known))


def _by_age(reading: CourseReading) -> Concern:
    born = reading.course.client.born
    is_child = born is not None and whole_years(born, reading.today) < _A_CHILD
    return Concern.CHILD if is_child else Concern.GROWN


def _of_purposes(reading: CourseReading, known: Collection[str]) -> set[Concern]:
    rules = safety_rules().come_back
    if rules is None:
        return set()
    every = purposes_of(reading.course, reading.materia_medica, rules, known)
    met = {purpose.id for purpose in every.values()}
    found = {_OF_PURPOSE[name] for name in met if name in _OF_PURPOSE}
    # What eases cramp is for the gut in a course for digestion, else for back and limbs.
    if "muscles" in met and found.isdisjoint({Concern.DIGESTION, Concern.HEADACHE}):
        found.add(Concern.JOINTS)
    return found


def purposes(reading: CourseReading) -> Mapping[str, tuple[str, ...]]:
    """What each remedy is used for: the wanted actions that it has, in words for a client."""
    words = vocabulary().purposes
    found: dict[str, dict[str, None]] = {}
    for covered in reading.actions:
        if covered.wanted and covered.action in words:
            for remedy in covered.remedies:
                form = reading.course.remedy(remedy).form
                if covered.action in ONLY_SWALLOWED and not is_taken_by_mouth(form):
                    continue
                found.setdefault(remedy, {}).update(dict.fromkeys(words[covered.action]))
    return {remedy: tuple(said)[:MOST_PURPOSES] for remedy, said in found.items()}


def told(reading: CourseReading) -> tuple[ClientSentence, ...]:
    """What this client is told, without what the directions of a form on the skin say already."""
    rubs = [rule for rule in safety_rules().advice if rule.form == "rub"]
    said = {lower_first(rule.says).removesuffix("."): rule.tag for rule in rubs}
    every = for_client(reading.safety, reading.layout, reading.materia_medica)
    return tuple(
        sentence
        for sentence in every
        if sentence.says not in said or not _is_of_form(sentence, said[sentence.says], reading)
    )


def _is_of_form(sentence: ClientSentence, tag: str, reading: CourseReading) -> bool:
    """Whether the directions of its remedies' forms say it; of heat not all of them do."""
    forms = (reading.course.remedy(remedy).form for remedy in sentence.remedies)
    return tag != HEAT or all(NO_HEAT in form.facts.use for form in forms)


def lasts_until(reading: CourseReading) -> Mapping[str, date]:
    """The last day that each remedy lasts for, of those that run out before the course's end."""
    return {
        row.bottle.remedy: row.last_day
        for row in reading.lasts
        if row.last_day and row.order_by and not row.plan
    }
