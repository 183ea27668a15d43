"""The rows of the list of findings, in words: worst first, notes folded together."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace

from sennight.desktop.kit.translating import translate
from sennight.domain.courses.courses import Course
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import counted, listed, plain_dates
from sennight.practice.safety import SafetyReport, Severity, WordedFinding

NOTES = "notes"
CHECKED = "checked"
"""The ids of the rows that fold others together; a finding's row has the finding's id."""

SPANS_TOLD = 3
"""How many runs of days are told one by one."""


@dataclass(frozen=True, slots=True)
class FindingRow:
    """A row: a finding, or a heading that others are folded under.

    `head` stands out, `text` is what is always read, and
    `more` what is read once the row is unfolded: a label and what it says.
    """

    id: str
    head: str
    text: str
    more: tuple[tuple[str, str], ...] = ()
    severity: Severity | None = None
    accepted: bool = False
    unfolded: bool = False
    may_be_accepted: bool = True

    @property
    def asks(self) -> bool:
        """Whether it stops the course from being given."""
        return self.severity is Severity.AVOID and not self.accepted

    @property
    def sentence(self) -> str:
        """All of it, for a screen reader and the tip."""
        said = [f"{self.head}. {self.text}", *(f"{label}: {text}" for label, text in self.more)]
        return "\n".join(one.strip() for one in said if one.strip())


def severity_words(severity: Severity) -> str:
    """A severity as people read it."""
    return {
        Severity.AVOID: translate("Safety", "Avoid"),
        Severity.CAUTION: translate("Safety", "Caution"),
        Severity.NOTE: translate("Safety", "Note"),
    }[severity]


def glance(checked: SafetyReport) -> str:
    """The gravest in a few words: `2 to avoid`; avoid findings that were decided apart."""
    found = checked.findings
    if checked.unaccepted:
        number = len(checked.unaccepted)
        return translate("Safety", "Safety: {number} to avoid").format(number=number)
    if not found:
        return translate("Safety", "Safety: no finding")
    return translate("Safety", "Safety: {number}").format(number=counted(len(found), "finding"))


def summary(checked: SafetyReport) -> str:
    """How many findings of each kind: `1 to avoid, 2 cautions, 5 notes`."""
    found = [one.severity for one in checked.findings]
    avoid, caution, note = (found.count(severity) for severity in Severity)
    said = [translate("Safety", "{number} to avoid").format(number=avoid)] if avoid else []
    said += [counted(caution, translate("Safety", "caution"))] if caution else []
    said += [counted(note, translate("Safety", "note"))] if note else []
    if not said:
        return translate("Safety", "No finding. That does not mean it is safe.")
    return ", ".join(said)


def finding_rows(
    checked: SafetyReport, course: Course, unfolded: Collection[str]
) -> tuple[FindingRow, ...]:
    """The rows, given the ids of those that are unfolded."""
    return tuple(_rows(checked, course, unfolded))


def _rows(
    checked: SafetyReport, course: Course, unfolded: Collection[str]
) -> Iterator[FindingRow]:
    reasons = {one.finding: one.reason for one in course.accepts if one.reason.strip()}
    names = {remedy.id: remedy.name for remedy in course.remedies}
    notes = [one for one in checked.findings if one.severity is Severity.NOTE]
    for one in checked.findings:
        if one.severity is not Severity.NOTE:
            yield _finding(one, names, reasons, unfolded)
    if notes:
        open_now = NOTES in unfolded
        head = counted(len(notes), translate("Safety", "note"))
        yield FindingRow(NOTES, head, "", unfolded=open_now, severity=Severity.NOTE)
        for one in notes if open_now else ():
            yield _finding(one, names, reasons, unfolded)
    open_now = CHECKED in unfolded or not checked.findings
    said = ((translate("Safety", "What was checked"), checked.data_words),)
    yield FindingRow(CHECKED, translate("Safety", "What was checked"), "", said, unfolded=open_now)


def _finding(
    one: WordedFinding,
    names: Mapping[str, str],
    reasons: Mapping[str, str],
    unfolded: Collection[str],
) -> FindingRow:
    reason = next((reasons[name] for name in one.accepted_as if name in reasons), "")
    accepted = one.severity is Severity.AVOID and one.may_be_accepted and bool(reason)
    head = severity_words(one.severity)
    if accepted:
        head = translate("Safety", "Avoid, accepted")
    row = FindingRow(
        one.id,
        head,
        one.text,
        tuple(_more(one, names, reason if accepted else "")),
        one.severity,
        accepted,
        may_be_accepted=one.may_be_accepted,
    )
    return replace(row, unfolded=row.asks or one.id in unfolded)


def _more(one: WordedFinding, names: Mapping[str, str], reason: str) -> Iterator[tuple[str, str]]:
    if reason:
        yield translate("Safety", "Reason"), reason
    if one.remedies:
        yield translate("Safety", "In"), listed([names.get(id_, id_) for id_ in one.remedies])
    yield translate("Safety", "Days"), days_words(one.days)
    if one.instead:
        yield translate("Safety", "Instead"), " ".join(one.instead)
    yield translate("Safety", "Source"), one.source


def days_words(days: tuple[Span, ...]) -> str:
    """Runs of days in words; where there are many, the first ones and how many follow."""
    told = [plain_dates(span) for span in days[:SPANS_TOLD]]
    rest = len(days) - SPANS_TOLD
    if rest > 0:
        more = translate("Safety", "{count} up to {day}")
        last = plain_dates(Span(days[-1].last, days[-1].end))
        told.append(more.format(count=counted(rest, translate("Safety", "further run")), day=last))
    return "; ".join(told)
