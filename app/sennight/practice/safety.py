"""Checks a course: what was found, what stops it from being given, and what was looked at."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import Layout
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.safety.advice import advice_sentences
from sennight.domain.safety.check import findings
from sennight.domain.safety.come_back import come_back_sentences
from sennight.domain.safety.findings import Severity, unaccepted
from sennight.domain.safety.for_client import ClientSentence
from sennight.domain.safety.red_flags import RedFlagCheck
from sennight.domain.safety.rules import SafetyRules
from sennight.domain.safety.what_was_checked import checked_for_client, scope_text
from sennight.domain.safety.wording import WordedFinding, heading_of_id, word_findings
from sennight.domain.safety.wording_statements import Names
from sennight.knowledge.safety_rules import read_safety_rules
from sennight.places import own_folder
from sennight.practice.materia_medica import supplied_materia_medica
from sennight.publish.safety_record import SafetyRecord

__all__ = [
    "SafetyReport",
    "Severity",
    "UnacceptedError",
    "WordedFinding",
    "check",
    "for_client",
    "handout_notes",
    "safety_record",
    "safety_rules",
]


class UnacceptedError(Exception):
    """`avoid` findings stand that nobody accepted, so nothing was given; `findings` has them."""

    def __init__(self, undecided: tuple[WordedFinding, ...]) -> None:
        self.findings = undecided
        lines = "\n".join(f"  {finding.id}: {finding.text}" for finding in undecided)
        super().__init__(
            "this course has findings to avoid that nobody has decided on:\n"
            f"{lines}\nChange the course, or go ahead with each for a reason; nothing was given"
        )


@dataclass(frozen=True, slots=True)
class SafetyReport:
    """The findings of a course, those that stop it, and in words what was looked at."""

    findings: tuple[WordedFinding, ...]
    unaccepted: tuple[WordedFinding, ...]
    data_words: str

    def require_accepted(self) -> None:
        """Raise UnacceptedError where something stands against giving the course."""
        if self.unaccepted:
            raise UnacceptedError(self.unaccepted)


@cache
def safety_rules() -> SafetyRules:
    """The rules that come with the program; read once."""
    return read_safety_rules(own_folder("resources") / "safety")


def check(
    layout: Layout,
    materia_medica: MateriaMedica | None = None,
    standing: RedFlagCheck | None = None,
) -> SafetyReport:
    """Check a course as it is laid out, for its client as recorded.

    `materia_medica` is the practice's, the supplied one where it is left out; `standing` the
    client's last check for red flags.
    """
    herbs, rules = materia_medica or supplied_materia_medica(), safety_rules()
    course = layout.course
    course_findings, names = findings(layout, herbs, rules, standing), Names(course, herbs, rules)
    worded = word_findings(course_findings, names)
    stopping = {finding.id for finding in unaccepted(course_findings, course.accepts)}
    return SafetyReport(
        worded,
        tuple(finding for finding in worded if finding.id in stopping),
        scope_text(layout, herbs, rules),
    )


def safety_record(
    checked: SafetyReport, course: Course, materia_medica: MateriaMedica | None = None
) -> SafetyRecord:
    """A check as the practitioner's copy tells it, with headings for people."""
    names = Names(course, materia_medica or supplied_materia_medica(), safety_rules())
    known = {name: finding.heading for finding in checked.findings for name in finding.accepted_as}
    heads = {
        accept.finding: known.get(accept.finding) or heading_of_id(accept.finding, names)
        for accept in course.accepts
    }
    return SafetyRecord(checked.findings, heads, checked.data_words)


def for_client(
    checked: SafetyReport, layout: Layout, materia_medica: MateriaMedica | None = None
) -> tuple[ClientSentence, ...]:
    """All that the client is told, each sentence with its place on the sheet.

    Each caution and each finding that was gone ahead with has its sentence; then what is told of
    remedies because of their herbs, and when to come back if no better. Of one sentence for
    several findings all remedies are named in one.
    """
    herbs, rules = materia_medica or supplied_materia_medica(), safety_rules()
    return (
        *client_notes(checked),
        *advice_sentences(layout, herbs, rules),
        *(come_back_sentences(layout, herbs, rules.come_back) if rules.come_back else ()),
    )


def client_notes(checked: SafetyReport) -> tuple[ClientSentence, ...]:
    """What a check means for the client to do, each sentence once."""
    told = (
        finding.for_client
        for finding in checked.findings
        if finding.for_client and finding not in checked.unaccepted
    )
    return tuple(dict.fromkeys(told))


def checked_sentence(layout: Layout) -> str:
    """That the course was checked; empty where nothing was asked or recorded of the client."""
    client = layout.course.client
    known = (client.asked, client.conditions, client.medicines, client.allergies, client.reactions)
    return checked_for_client(safety_rules()) if any(known) else ""


def handout_notes(
    layout: Layout,
    materia_medica: MateriaMedica | None = None,
    checked: SafetyReport | None = None,
) -> tuple[str, ...]:
    """What the client is told of single remedies, and that the course was checked.

    The sentences of `for_client` without their places, and without when to come back.
    """
    herbs = materia_medica or supplied_materia_medica()
    sentences = advice_sentences(layout, herbs, safety_rules())
    if checked:
        sentences += client_notes(checked)
    checked_words = checked_sentence(layout)
    return (
        *(sentence.text for sentence in sentences),
        *([checked_words] if checked_words else []),
    )
