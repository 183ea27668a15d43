"""Findings and lines in words, those that were there before the last edit not worded anew."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.kept import kept
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.safety.finding_rules import FindingRule
from sennight.domain.safety.findings import Finding
from sennight.domain.safety.names import Names
from sennight.domain.safety.rules import SafetyRules
from sennight.domain.safety.telling import Line
from sennight.domain.safety.wording import WordedFinding, word_finding
from sennight.domain.safety.wording_lines import word_line

_Said = dict[FindingRule, tuple[Finding, WordedFinding]]


class _Words:
    """The last words of what each rule found, while all that has a name stays the same."""

    def __init__(self) -> None:
        self._findings: _Said = {}
        self._parts: _Said = {}
        self._lines: dict[FindingRule, tuple[Line, WordedFinding]] = {}

    def of_finding(self, finding: Finding, names: Names) -> WordedFinding:
        """A finding in words."""
        return _said(self._findings, finding) or _say(self._findings, finding, names)

    def of_line(self, line: Line, names: Names) -> WordedFinding:
        """A line in words; what of it is told otherwise than the finding has words of its own."""
        known = self._lines.get(line.findings[0].rule)
        if known is None or known[0] != line:
            parts = tuple(self._of_part(finding, names) for finding in line.findings)
            known = line, word_line(line, parts, names)
            self._lines[line.findings[0].rule] = known
        return known[1]

    def _of_part(self, finding: Finding, names: Names) -> WordedFinding:
        words = _said(self._findings, finding) or _said(self._parts, finding)
        return words or _say(self._parts, finding, names)


def _said(said: _Said, finding: Finding) -> WordedFinding | None:
    """What was said of a finding before, be it of other days, which no word of it tells."""
    known = said.get(finding.rule)
    if known is None or known[0] == finding:
        return known and known[1]
    if replace(known[0], days=finding.days) != finding:
        return None
    words = replace(known[1], days=finding.days)
    said[finding.rule] = finding, words
    return words


def _say(said: _Said, finding: Finding, names: Names) -> WordedFinding:
    words = word_finding(finding, names)
    said[finding.rule] = finding, words
    return words


@kept(4)
def _known_words(_remedies: tuple[Remedy, ...], _herbs: MateriaMedica, _of: SafetyRules) -> _Words:
    """The words that were found with these names, which are all that words depend on."""
    return _Words()


def _known(names: Names) -> _Words:
    return _known_words(names.course.remedies, names.materia_medica, names.rules)


def word_findings(findings: Iterable[Finding], names: Names) -> tuple[WordedFinding, ...]:
    """Findings in words, in their order."""
    known = _known(names)
    return tuple(known.of_finding(finding, names) for finding in findings)


def word_lines(lines: Iterable[Line], names: Names) -> tuple[WordedFinding, ...]:
    """Lines in words, in their order."""
    known = _known(names)
    return tuple(known.of_line(line, names) for line in lines)
