"""What the client is told because of a finding, in a sentence for the sheet."""

from __future__ import annotations

from sennight.domain.day import clock
from sennight.domain.directions.plain_words import counted, listed, plain_date
from sennight.domain.safety.finding_rules import (
    EthanolWithFact,
    HerbWithFact,
    HoursBetween,
    LengthOfUse,
)
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.statements import (
    LastDoseBefore,
    LastDoseOn,
    MoveDose,
    Step,
    TooNear,
)
from sennight.domain.safety.wording_statements import Names
from sennight.domain.tag_words import lower_first


def client_text(finding: Finding, names: Names) -> str:
    """The sentence; empty for a note, and where there is nothing that the client would do."""
    if finding.severity is Severity.NOTE or not finding.remedies:
        return ""
    text = _client_phrase(finding, names)
    return f"{names.remedies(finding.remedies)}: {text}." if text else ""


def _client_phrase(finding: Finding, names: Names) -> str:
    last = next((sentence for step in finding.steps if (sentence := _last_dose(step, names))), "")
    match finding.rule:
        case HerbWithFact(_, "planned-surgery") if last:
            return f"{last}, and tell the surgeon and the anaesthetist what you took"
        case HerbWithFact(_, tag):
            return next((rule.says for rule in names.rules.client if tag in rule.tags), "")
        case HoursBetween():
            return _hours(finding, names)
        case LengthOfUse():
            return last
        case EthanolWithFact():
            return "it contains alcohol; take no more of it than is written here"
        case _:
            return ""


def _last_dose(step: Step, names: Names) -> str:
    match step:
        case LastDoseBefore(day):
            return f"take the last dose before {plain_date(day)}"
        case LastDoseOn(herb, day):
            name = lower_first(names.herb(herb))
            return f"it contains {name}: take it for the last time on {plain_date(day)}"
        case _:
            return ""


def _hours(finding: Finding, names: Names) -> str:
    """How far from which medicine, and when instead where that is known."""
    near = [statement for statement in finding.statements if isinstance(statement, TooNear)]
    medicines = listed(list(dict.fromkeys(names.label(statement.medicine) for statement in near)))
    hours = counted(max(statement.hours for statement in near), "hour")
    moved = [clock(step.to_minute) for step in finding.steps if isinstance(step, MoveDose)]
    instead = f"; {listed(list(dict.fromkeys(moved)))} is far enough" if moved else ""
    return f"keep {hours} between it and your {medicines}{instead}"
