"""Checks a course: what was found, what stops it from being given, and what was looked at."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cache
from typing import Protocol

from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import Layout
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.safety.advice import advice_sentences, inr_sentences
from sennight.domain.safety.alternative_words import alternatives_text
from sennight.domain.safety.alternatives import Alternative, Check, alternatives
from sennight.domain.safety.check import findings
from sennight.domain.safety.come_back import come_back_sentences
from sennight.domain.safety.decision_words import lapse_text
from sennight.domain.safety.decisions import (
    Decision,
    accept_of,
    decisions,
    known_facts,
    stopping,
)
from sennight.domain.safety.facts import client_facts
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.for_client import ClientSentence
from sennight.domain.safety.names import (
    Names,
)
from sennight.domain.safety.red_flags import RedFlagCheck
from sennight.domain.safety.rules import SafetyRules
from sennight.domain.safety.telling import told
from sennight.domain.safety.what_was_checked import checked_for_client, scope_text
from sennight.domain.safety.wording import WordedFinding, heading_of_id
from sennight.domain.safety.wording_findings import word_findings, word_lines
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
    "decide",
    "for_client",
    "proposals",
    "safety_record",
    "safety_rules",
    "with_proposals",
]


class Proposing(Protocol):
    """A course that was read and checked (`CourseReading`)."""

    @property
    def layout(self) -> Layout:
        """How it lies in days."""

    @property
    def materia_medica(self) -> MateriaMedica:
        """The herbs that it is read with."""

    @property
    def standing(self) -> RedFlagCheck | None:
        """The client's last check for red flags."""

    @property
    def safety(self) -> SafetyReport:
        """What was found."""


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
    """The findings of a course, those that stop it, and in words what was looked at.

    `lines` are the findings as they are told: those of one theme together, a pair of a herb and a
    fact once. Decisions are about findings, by their ids; what people read are the lines.
    `decided` has what was decided about a finding, by its id: to go ahead with it, or that it was
    discussed; `lapsed` why such a decision does not hold any more, in words. `found` are the
    findings as data.
    """

    findings: tuple[WordedFinding, ...]
    unaccepted: tuple[WordedFinding, ...]
    data_words: str
    decided: Mapping[str, Decision] = field(default_factory=dict)
    lapsed: Mapping[str, str] = field(default_factory=dict)
    found: tuple[Finding, ...] = ()
    lines: tuple[WordedFinding, ...] = ()

    @property
    def stopping(self) -> tuple[WordedFinding, ...]:
        """The lines that stop a course: those with a finding that nobody decided on."""
        undecided = {finding.id for finding in self.unaccepted}
        return tuple(line for line in self.lines if not undecided.isdisjoint(line.ids))

    def line_of(self, finding_id: str) -> WordedFinding | None:
        """The line that tells of a finding; None where none does."""
        return next((line for line in self.lines if finding_id in (line.id, *line.ids)), None)

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
    *,
    today: date | None = None,
) -> SafetyReport:
    """Check a course as it is laid out, for its client as recorded.

    `materia_medica` is the practice's, the supplied one where it is left out; `standing` the
    client's last check for red flags; `today` the day on which decisions must hold, the course's
    first where it is left out.
    """
    herbs, rules = materia_medica or supplied_materia_medica(), safety_rules()
    course, day = layout.course, today or layout.course.start
    course_findings, names = findings(layout, herbs, rules, standing), Names(course, herbs, rules)
    worded = word_findings(course_findings, names)
    decided = dict(decisions(course_findings, course.accepts, layout, day))
    stops = {finding.id for finding in stopping(course_findings, decided, day)}
    cautions = [finding for finding in course_findings if finding.severity is Severity.CAUTION]
    decided |= decisions(cautions, course.discussed, layout, day)
    return SafetyReport(
        findings=worded,
        unaccepted=tuple(finding for finding in worded if finding.id in stops),
        data_words=scope_text(layout, herbs, rules),
        decided=decided,
        lapsed={name: lapse_text(decision, names) for name, decision in decided.items()},
        found=course_findings,
        lines=word_lines(told(course_findings, rules), names),
    )


def proposals(reading: Proposing) -> Mapping[str, tuple[Alternative, ...]]:
    """For each finding to avoid the herbs that could take its herb's place, if there are any."""
    check_ = Check(reading.layout, reading.materia_medica, safety_rules(), reading.standing)
    proposed = {
        finding.id: alternatives(finding, check_)
        for finding in reading.safety.found
        if finding.severity is Severity.AVOID
    }
    return {name: found for name, found in proposed.items() if found}


def with_proposals(
    checked: SafetyReport,
    proposed: Mapping[str, tuple[Alternative, ...]],
    course: Course,
    materia_medica: MateriaMedica,
) -> tuple[WordedFinding, ...]:
    """The lines of a check, each with the herbs that could take the place of its own."""
    names = Names(course, materia_medica, safety_rules())
    lines = []
    for line in checked.lines:
        texts = [alternatives_text(proposed.get(name, ()), names) for name in line.ids]
        instead = (*line.instead, *dict.fromkeys(filter(None, texts)))
        lines.append(replace(line, instead=instead))
    return tuple(lines)


def decide(
    checked: SafetyReport, layout: Layout, finding_id: str, *, reason: str, on: date
) -> Accept:
    """A decision about a finding of a check, with all that it is made for.

    KeyError for a finding that is not among those of the check.
    """
    by_id = {finding.id: finding for finding in checked.found}
    facts = known_facts(layout.course.client)
    return accept_of(by_id[finding_id], layout, reason=reason, on=on, facts=facts)


def safety_record(
    checked: SafetyReport, course: Course, materia_medica: MateriaMedica | None = None
) -> SafetyRecord:
    """A check as the practitioner's copy tells it, with headings for people."""
    names = Names(course, materia_medica or supplied_materia_medica(), safety_rules())
    known = {name: finding.heading for finding in checked.findings for name in finding.accepted_as}
    heads = {
        accept.finding: known.get(accept.finding) or heading_of_id(accept.finding, names)
        for accept in (*course.accepts, *course.discussed)
    }
    return SafetyRecord(checked.lines, heads, checked.data_words, checked.lapsed)


def for_client(
    checked: SafetyReport, layout: Layout, materia_medica: MateriaMedica | None = None
) -> tuple[ClientSentence, ...]:
    """All that the client is told, each sentence with its place on the sheet.

    Each caution and each finding that was gone ahead with has its sentence; then what is told of
    remedies because of their herbs, and when to come back if no better. Of one sentence for
    several findings all remedies are named in one.
    """
    herbs, rules = materia_medica or supplied_materia_medica(), safety_rules()
    notes = client_notes(checked)
    known = client_facts(layout.course.client, rules).facts
    back = rules.come_back
    return (
        *notes,
        *inr_sentences(layout, rules, notes),
        *advice_sentences(layout, herbs, rules),
        *(come_back_sentences(layout, herbs, back, known) if back else ()),
    )


def client_notes(checked: SafetyReport) -> tuple[ClientSentence, ...]:
    """What a check means for the client to do, each sentence once."""
    stopping = {finding.id for finding in checked.unaccepted}
    sentences = (
        line.for_client
        for line in checked.lines
        if line.for_client and stopping.isdisjoint(line.ids)
    )
    return tuple(dict.fromkeys(sentences))


def checked_sentence(layout: Layout) -> str:
    """That the course was checked; empty where nothing was asked or recorded of the client."""
    client = layout.course.client
    known = (client.asked, client.conditions, client.medicines, client.allergies)
    return checked_for_client() if any(known) or client.standing_reactions else ""
