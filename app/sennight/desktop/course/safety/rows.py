"""The rows of the list of findings, in words: worst first, notes folded together."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.severity_marks import severity_words
from sennight.domain.courses.courses import Course
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import counted, listed, plain_date, plain_dates
from sennight.domain.safety.decisions import Decision
from sennight.domain.tag_words import upper_first
from sennight.practice.safety import SafetyReport, Severity, WordedFinding

NOTES = "notes"
CHECKED = "checked"
"""The ids of the rows that fold others together; a finding's row has the finding's id."""

SPANS_TOLD = 3
"""How many runs of days are told one by one."""


@dataclass(frozen=True, slots=True)
class FindingRow:
    """A row: a finding, or a heading that others are folded under.

    `accepted` and `discussed` say that a decision about it holds. `head` stands out, `text` is
    what is always read, and `more` what is read once the row is unfolded: a label and what it
    says. `title` is what a finding is about, and `short` what is said beneath it on one line.
    """

    id: str
    head: str
    text: str
    more: tuple[tuple[str, str], ...] = ()
    severity: Severity | None = None
    accepted: bool = False
    discussed: bool = False
    unfolded: bool = False
    may_be_accepted: bool = True
    ids: tuple[str, ...] = ()
    title: str = ""
    short: str = ""

    @property
    def asks(self) -> bool:
        """Whether it stops the course from being given."""
        return self.severity is Severity.AVOID and not self.accepted

    @property
    def seen(self) -> tuple[object, ...]:
        """What of it can be seen as it is, folded or unfolded."""
        signs = self.severity, self.accepted, self.discussed, self.unfolded
        return (
            self.head,
            self.title,
            self.short,
            *signs,
            self.unfolded and (self.text, self.more),
        )

    @property
    def sentence(self) -> str:
        """All of it, for a screen reader and the tip."""
        lines = [f"{self.head}. {self.text}", *(f"{label}: {text}" for label, text in self.more)]
        return "\n".join(line.strip() for line in lines if line.strip())


def summary(checked: SafetyReport) -> str:
    """How many findings of each kind: `1 to avoid, 2 cautions, 5 notes`."""
    return counts(checked) or translate("Safety", "No finding. That does not mean it is safe.")


def counts(checked: SafetyReport) -> str:
    """The same without what it does not mean: nothing where there is no finding."""
    severities = [finding.severity for finding in checked.lines]
    avoid, caution, note = (severities.count(severity) for severity in Severity)
    told = [translate("Safety", "{number} to avoid").format(number=avoid)] if avoid else []
    told += [counted(caution, translate("Safety", "caution"))] if caution else []
    told += [counted(note, translate("Safety", "note"))] if note else []
    return ", ".join(told)


def told_at_head(checked: SafetyReport, unasked: int) -> tuple[str, ...]:
    """How many findings there are of each kind, and how many things nobody asked about.

    Then the same in fewer words, where there is no room for all.
    """
    lines = checked.lines
    worst = lines[0].severity if lines else None
    grave = tuple(line for line in lines if line.severity is not Severity.NOTE)
    first = tuple(line for line in lines if line.severity is worst)
    told = dict.fromkeys(
        counts(replace(checked, lines=some)) for some in (lines, grave or lines, first)
    )
    if not unasked or not lines:
        return tuple(told)
    both = translate("Safety", "{findings}; {number} not asked")
    whole = (both.format(findings=words, number=unasked) for words in told)
    return (*whole, *told)


def without_finding(unasked: int) -> tuple[str, str]:
    """That there is no finding, and how many things nobody asked about; and the same in short."""
    if not unasked:
        return translate("Safety", "no finding"), ""
    things = counted(unasked, translate("Safety", "thing"))
    told = translate("Safety", "no finding; {things} not asked").format(things=things)
    return told, translate("Safety", "{number} not asked").format(number=unasked)


def finding_rows(
    checked: SafetyReport, course: Course, unfolded: Collection[str]
) -> tuple[FindingRow, ...]:
    """The rows, given the ids of those that are unfolded."""
    return tuple(_rows(checked, course, unfolded))


def _rows(
    checked: SafetyReport, course: Course, unfolded: Collection[str]
) -> Iterator[FindingRow]:
    names = {remedy.id: remedy.name for remedy in course.remedies}
    notes = [finding for finding in checked.lines if finding.severity is Severity.NOTE]
    for finding in checked.lines:
        if finding.severity is not Severity.NOTE:
            yield _finding(finding, names, checked, unfolded)
    if notes:
        open_now = NOTES in unfolded
        head = counted(len(notes), translate("Safety", "note"))
        yield FindingRow(NOTES, head, "", unfolded=open_now, severity=Severity.NOTE)
        for finding in notes if open_now else ():
            yield _finding(finding, names, checked, unfolded)
    if notes and NOTES not in unfolded:
        return
    open_now = CHECKED in unfolded or not checked.lines
    more = ((translate("Safety", "What was checked"), checked.data_words),)
    yield FindingRow(CHECKED, translate("Safety", "What was checked"), "", more, unfolded=open_now)


def _finding(
    finding: WordedFinding,
    names: Mapping[str, str],
    checked: SafetyReport,
    unfolded: Collection[str],
) -> FindingRow:
    held = _held(finding, checked)
    lapsed = dict.fromkeys(filter(None, (checked.lapsed.get(name) for name in finding.ids)))
    row = FindingRow(
        finding.id,
        _head(finding.severity, is_decided=bool(held)),
        finding.text,
        tuple(_more(finding, names, held, tuple(lapsed))),
        finding.severity,
        accepted=bool(held) and finding.severity is Severity.AVOID,
        discussed=bool(held) and finding.severity is Severity.CAUTION,
        may_be_accepted=finding.may_be_accepted,
        ids=finding.ids,
        title=upper_first(finding.heading),
        short=finding.under_heading,
    )
    return replace(row, unfolded=row.asks or finding.id in unfolded)


def _held(line: WordedFinding, checked: SafetyReport) -> tuple[Decision, ...]:
    """The decisions that hold about a line; none where one of its findings has none."""
    gravest = [part for part in line.parts or (line,) if part.severity is line.severity]
    decided = [checked.decided.get(part.id) for part in gravest]
    held = tuple(decision for decision in decided if decision and decision.holds)
    return held if line.may_be_accepted and len(held) == len(gravest) else ()


def _head(severity: Severity, *, is_decided: bool) -> str:
    if is_decided and severity is Severity.AVOID:
        return translate("Safety", "Avoid, accepted")
    if is_decided and severity is Severity.CAUTION:
        return translate("Safety", "Caution, discussed")
    return severity_words(severity)


def _more(
    finding: WordedFinding,
    names: Mapping[str, str],
    held: Sequence[Decision],
    lapsed: Sequence[str],
) -> Iterator[tuple[str, str]]:
    for accept in dict.fromkeys((decision.accept.on, decision.accept.reason) for decision in held):
        on = f"{plain_date(accept[0])}: " if accept[0] else ""
        yield translate("Safety", "Decided"), f"{on}{accept[1]}"
    for words in lapsed:
        yield translate("Safety", "Before"), words
    if finding.remedies:
        yield translate("Safety", "In"), listed([names.get(id_, id_) for id_ in finding.remedies])
    yield translate("Safety", "Days"), days_words(finding.days)
    if finding.instead:
        yield translate("Safety", "What you can do"), " ".join(finding.instead)
    if finding.reasons:
        yield translate("Safety", "Why"), "\n".join(finding.reasons)
    else:
        yield translate("Safety", "Source"), finding.source


def days_words(days: tuple[Span, ...]) -> str:
    """Runs of days in words; where there are many, the first ones and how many follow."""
    runs = [plain_dates(span) for span in days[:SPANS_TOLD]]
    rest = len(days) - SPANS_TOLD
    if rest > 0:
        more = translate("Safety", "{count} up to {day}")
        last = plain_dates(Span(days[-1].last, days[-1].end))
        runs.append(more.format(count=counted(rest, translate("Safety", "further run")), day=last))
    return "; ".join(runs)
