"""Findings in words: heading, text, what could be done, and the sources.

The one place where findings become sentences; a second language is a second one of these.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import assert_never

from sennight.domain.courses.phase_names import plan_title
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import listed
from sennight.domain.herbs.herbs import Level
from sennight.domain.safety.client_words import client_sentence
from sennight.domain.safety.finding_rules import (
    ConstituentCeiling,
    DeepSite,
    EssentialOilOver,
    EthanolInDose,
    EthanolWithFact,
    FactUnchecked,
    FindingRule,
    FlagStands,
    FormsUnrecorded,
    HerbAfterReaction,
    HerbAtAge,
    HerbForm,
    HerbNumber,
    HerbUnrecorded,
    HerbWithFact,
    HoursBetween,
    LengthOfUse,
    OverDayCeiling,
    OverMost,
    SteamForChild,
    SugarWithFact,
    earlier_id,
    finding_id,
)
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.for_client import ClientSentence
from sennight.domain.safety.names import (
    Names,
    Sentence,
)
from sennight.domain.safety.preparations import SUGAR_MATTERS
from sennight.domain.safety.statements import (
    AmountOver,
    LeftOutBefore,
    Quote,
    SignOfDanger,
)
from sennight.domain.safety.steps import (
    Step,
)
from sennight.domain.safety.wording_sources import sources
from sennight.domain.safety.wording_statements import statement_words
from sennight.domain.safety.wording_steps import step_words
from sennight.domain.tag_words import upper_first

REFER = "Refer the client to a doctor."
LEAVE_OUT = "Leave it out."
UNTIL_GONE = "Nothing can be given until a later check no longer finds it."


@dataclass(frozen=True, slots=True)
class WordedFinding:
    """A finding, or several that are told as one, as people read it.

    `id` is the finding's, or those of several with `; ` between them, as in `fact`. `text` stands
    alone, `under_heading` stands beneath `heading`; `instead` is what one could do, each a
    sentence; `for_client` what the client is told. `accepted_as` has the ids under which a
    decision about it is kept. `reasons` are what the texts say of each herb, with the source,
    where `text` only says what they come to. `parts` are the findings that are told as one;
    `steps` what one could do, as data.
    """

    severity: Severity
    id: str
    fact: str
    herbs: tuple[str, ...]
    remedies: tuple[str, ...]
    days: tuple[Span, ...]
    heading: str
    text: str
    under_heading: str
    source: str
    instead: tuple[str, ...] = ()
    accepted_as: tuple[str, ...] = ()
    may_be_accepted: bool = True
    for_client: ClientSentence | None = None
    reasons: tuple[str, ...] = ()
    parts: tuple[WordedFinding, ...] = ()
    steps: tuple[Step, ...] = ()

    @property
    def client_text(self) -> str:
        """What the client is told, as a sentence; empty where that is nothing."""
        return self.for_client.text if self.for_client else ""

    @property
    def ids(self) -> tuple[str, ...]:
        """The id of each finding in it."""
        return tuple(part.id for part in self.parts) or (self.id,)

    @property
    def first(self) -> date:
        """The first day on which it holds."""
        return self.days[0].first

    @property
    def last(self) -> date:
        """The last day on which it holds."""
        return self.days[-1].last


def word_finding(finding: Finding, names: Names) -> WordedFinding:
    """A finding in words."""
    worded = list(
        dict.fromkeys(
            statement_words(statement, names, finding.remedies) for statement in finding.statements
        )
    )
    also = [*_because(finding), *what_to_do(finding)]
    head = heading(finding.rule, names)
    return WordedFinding(
        severity=finding.severity,
        id=finding.id,
        fact=finding.fact,
        herbs=finding.herbs,
        remedies=finding.remedies,
        days=finding.days,
        heading=head,
        text=" ".join([*_with_leads(worded), *also]),
        under_heading=" ".join(
            [*_with_leads(worded, head, *map(names.herb, finding.herbs)), *also]
        ),
        source="; ".join(
            dict.fromkeys(src for statement in finding.statements for src in sources(statement))
        ),
        instead=tuple(step_words(step, names) for step in finding.steps),
        accepted_as=_ids(finding.rule),
        may_be_accepted=finding.may_be_accepted,
        for_client=client_sentence(finding, names.rules.theme(finding.theme), names),
        steps=finding.steps,
    )


def _with_leads(worded: Iterable[Sentence], *known: str) -> Iterator[str]:
    """Each statement with what it is about, where that was not said before."""
    leads = set(known)
    for words in worded:
        if not words.lead:
            yield words.body
        else:
            yield upper_first(words.body) if words.lead in leads else f"{words.lead}: {words.body}"
            leads.add(words.lead)


def _because(finding: Finding) -> Iterator[str]:
    """Which of the client's medicines and conditions are meant."""
    if finding.because:
        yield f"Because of: {', '.join(finding.because)}."


def what_to_do(finding: Finding) -> Iterator[str]:
    """A doctor, where a text asks for one; else a herb to avoid is left out."""
    asks = [statement for statement in finding.statements if isinstance(statement, SignOfDanger)]
    if not finding.may_be_accepted:
        yield UNTIL_GONE
    asks_doctor = any(
        isinstance(statement, Quote) and statement.level is Level.REFER
        for statement in finding.statements
    )
    dated = any(
        isinstance(statement, LeftOutBefore | AmountOver) for statement in finding.statements
    )
    if asks or asks_doctor:
        yield REFER
    elif finding.severity is Severity.AVOID and finding.herbs and not dated:
        yield LEAVE_OUT
    if finding.if_flare:
        plans = listed([f"the {plan_title(plan)}" for plan in finding.if_flare])
        yield f"This is for {plans}, which may start on any day."


def heading(rule: FindingRule, names: Names) -> str:
    """What a finding is about, in a few words: `Willow bark with anticoagulants`."""
    match rule:
        case HerbWithFact(herb, tag):
            return f"{_name(herb, names)} {names.phrase(tag)}"
        case HerbAtAge(herb):
            return f"{_name(herb, names)}: age"
        case HerbAfterReaction(herb):
            return f"{_name(herb, names)}: an earlier reaction"
        case HerbUnrecorded(herb):
            return f"{_name(herb, names)}: no record"
        case FactUnchecked(name):
            return f"Not checked: {names.label(name)}"
        case LengthOfUse(herb):
            return f"{_name(herb, names)}: length of use"
        case HoursBetween(tag, herb):
            return f"{_name(herb, names)} and {names.label(tag)}: hours apart"
        case HerbNumber(group, count):
            name = upper_first(names.label(group))
            return f"{name} together" if count > 1 else name
        case ConstituentCeiling(constituent):
            return f"{upper_first(names.label(constituent))} per day"
        case EthanolWithFact(tag):
            return f"Alcohol {names.phrase(tag)}"
        case EthanolInDose():
            return "Alcohol in one dose"
        case OverMost(herb):
            return f"{_name(herb, names)}: over the published maximum"
        case OverDayCeiling(remedies):
            return f"Doses per day: {names.remedies(remedies)}"
        case HerbForm(herb):
            return f"{_name(herb, names)}: unsuitable form"
        case FormsUnrecorded():
            return "Forms with no recorded dose"
        case SugarWithFact(tag):
            return f"Sugar {names.phrase(tag)}"
        case EssentialOilOver(remedy):
            return f"Essential oils in {names.remedy(remedy)}"
        case DeepSite(remedy):
            return f"{names.remedy(remedy)} on a deep joint"
        case SteamForChild(remedy):
            return f"{names.remedy(remedy)} for a young child"
        case FlagStands(tag):
            signs = [flag.id for flag in names.rules.flags if tag == (flag.tag or flag.id)]
            return f"Red flag: {names.label(signs[0] if signs else tag)}"
        case _:
            assert_never(rule)


def _name(herb: str, names: Names) -> str:
    return upper_first(names.herb(herb))


def heading_of_id(finding: str, names: Names) -> str:
    """The heading that belongs to an id, also to one of a finding that is not there any more.

    The id itself where it is that of nothing that is known.
    """
    possible = (rule for rule in _possible(finding, names) if finding in _ids(rule))
    rule = next(possible, None)
    return heading(rule, names) if rule else finding


def _ids(rule: FindingRule) -> tuple[str, ...]:
    """The ids under which decisions about a rule's finding are kept: today's, and an earlier."""
    return tuple(dict.fromkeys((finding_id(rule), earlier_id(rule))))


def _possible(finding: str, names: Names) -> Iterator[FindingRule]:
    """What an id could be about, as far as the herbs and rules that are held go."""
    rules = names.rules
    for flag in rules.flags:
        yield FlagStands(flag.tag or flag.id)
    for tag in rules.every_tag:
        yield EthanolWithFact(tag)
    for dose in rules.dose_limits:
        yield EthanolInDose(dose.mg_per_kg)
    for count in rules.counts:
        yield HerbNumber(count.id, count.count)
    yield from (SugarWithFact(tag) for tag in SUGAR_MATTERS)
    for remedy in names.course.remedies:
        yield from (EssentialOilOver(remedy.id), DeepSite(remedy.id), SteamForChild(remedy.id))
    for limit in rules.limits:
        yield ConstituentCeiling(limit.constituent, limit.value)
    for herb in dict.fromkeys((*names.course_herbs, *names.materia_medica.herbs)):
        if herb in finding:  # spares the tags of all other herbs
            yield from _possible_of_herb(herb, rules.every_tag)


def _possible_of_herb(herb: str, tags: Iterable[str]) -> Iterator[FindingRule]:
    yield from (HerbAtAge(herb), HerbAfterReaction(herb), HerbUnrecorded(herb))
    yield from (LengthOfUse(herb), OverMost(herb), HerbForm(herb))
    for tag in tags:
        yield HerbWithFact(herb, tag)
        yield HoursBetween(tag, herb)
