"""Lines in words: what several findings come to, with what each text says beneath."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sennight.domain.directions.plain_words import listed, numeral
from sennight.domain.safety.client_words import client_sentence
from sennight.domain.safety.finding_rules import EthanolWithFact, HoursBetween
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.names import (
    Names,
)
from sennight.domain.safety.statements import (
    TooNear,
)
from sennight.domain.safety.steps import (
    LastDoseBefore,
    Step,
)
from sennight.domain.safety.telling import Line
from sennight.domain.safety.wording import WordedFinding, what_to_do
from sennight.domain.safety.wording_sources import sources
from sennight.domain.safety.wording_statements import statement_words
from sennight.domain.safety.wording_steps import step_words
from sennight.domain.tag_words import lower_first, upper_first

HERBS_NAMED = 3
"""Up to so many herbs are named at once; of more the number comes first."""


def word_line(line: Line, parts: tuple[WordedFinding, ...], names: Names) -> WordedFinding:
    """A line in words, given those of its findings; one finding alone is told as it is."""
    if len(parts) == 1:
        return parts[0]
    whole = line.whole
    heading, body = _heading_and_body(line, whole, names)
    because = _because(line, heading, names)
    also = " ".join([*because, *what_to_do(whole)])
    return WordedFinding(
        severity=whole.severity,
        id="; ".join(part.id for part in parts),
        fact="; ".join(dict.fromkeys(part.fact for part in parts if part.fact)),
        herbs=whole.herbs,
        remedies=whole.remedies,
        days=whole.days,
        heading=heading,
        text=f"{_lead(whole, heading)}{body} {also}".strip(),
        under_heading=f"{upper_first(body)} {also}".strip(),
        source="; ".join(dict.fromkeys(src for part in parts for src in part.source.split("; "))),
        instead=tuple(step_words(step, names) for step in _steps(whole)),
        accepted_as=tuple(dict.fromkeys(name for part in parts for name in part.accepted_as)),
        may_be_accepted=whole.may_be_accepted,
        for_client=client_sentence(whole, line.theme, names),
        reasons=tuple(dict.fromkeys(_reasons(line, names))),
        parts=parts,
        steps=_steps(whole),
    )


def _heading_and_body(line: Line, whole: Finding, names: Names) -> tuple[str, str]:
    """What a line is about, and the one sentence that it comes to."""
    if isinstance(whole.rule, HoursBetween):
        return "Hours apart", statement_words(_near_together(whole), names, whole.remedies).body
    body = _said_first(line.findings[0], names)
    if isinstance(whole.rule, EthanolWithFact):
        return "Alcohol", body
    herbs = herb_words(whole.herbs, names)
    if line.theme and line.severity is not Severity.AVOID:
        return f"{herbs} {line.theme.may}", f"{line.theme.does}."
    if line.theme and line.theme.decided_once:
        body = f"{line.theme.does}."
    return f"{herbs} {_with_facts(line, names)}", body


def _lead(whole: Finding, heading: str) -> str:
    """The heading where a text does not say itself what it is about, as some do."""
    return "" if isinstance(whole.rule, HoursBetween | EthanolWithFact) else f"{heading}: "


def _said_first(finding: Finding, names: Names) -> str:
    return statement_words(finding.statements[0], names, finding.remedies).body


def herb_words(herbs: tuple[str, ...], names: Names) -> str:
    """Herbs as they begin a sentence: up to three by name, of more the number first."""
    said = [names.herb(herb) for herb in herbs]
    together = listed([said[0], *map(lower_first, said[1:])])
    if len(said) <= HERBS_NAMED:
        return upper_first(together)
    return f"{upper_first(numeral(len(said)))} {_kinds(herbs, names)} ({lower_first(together)})"


def _kinds(herbs: tuple[str, ...], names: Names) -> str:
    """What several are called together: what bought-in products hold beside herbs is no herb."""
    known = (names.materia_medica.herb(herb) for herb in herbs)
    substances = [herb.is_substance for herb in known if herb is not None]
    if not any(substances):
        return "herbs"
    return "supplements" if all(substances) else "herbs and supplements"


def _with_facts(line: Line, names: Names) -> str:
    """The client's facts as they follow herbs: `with ramipril and high blood pressure`.

    Each fact once, whatever tags it is met under; what does not follow “with” comes last.
    """
    with_them: dict[str, str] = {}
    others: dict[str, None] = {}
    for finding in line.findings:
        own = [names.fact(fact) for fact in finding.met if fact.tag == finding.fact]
        if finding.met and not own:
            for fact in finding.met:
                with_them.setdefault(names.fact(fact), names.fact(fact))
            continue
        phrase = names.phrase(finding.fact)
        if phrase.startswith(_WITH):
            with_them.setdefault(own[0] if own else phrase, phrase.removeprefix(_WITH))
        else:
            others[phrase] = None
    together = f"{_WITH}{listed(list(dict.fromkeys(with_them.values())))}"
    return " and ".join([together, *others] if with_them else others)


def _because(line: Line, heading: str, names: Names) -> Iterator[str]:
    """The client's medicines and conditions that are behind it and are not named yet."""
    if line.severity is Severity.AVOID:
        return  # the heading has them
    met = dict.fromkeys(
        names.fact(fact)
        for finding in line.findings
        for fact in finding.met
        if not isinstance(finding.rule, HoursBetween)
    )
    unnamed = [name for name in met if name not in heading]
    if unnamed:
        yield f"Because of: {', '.join(unnamed)}."


def _near_together(whole: Finding) -> TooNear:
    """Herbs that are kept the same hours from the same medicine, as one statement."""
    first, *others = (s for s in whole.statements if isinstance(s, TooNear))
    every = (first, *others)
    return replace(
        first,
        herbs=tuple(dict.fromkeys(herb for near in every for herb in near.herbs)),
        doses=tuple(dict.fromkeys(dose for near in every for dose in near.doses)),
    )


def _steps(whole: Finding) -> tuple[Step, ...]:
    """What one could do; of several last doses before an operation the first alone."""
    last = [step for step in whole.steps if isinstance(step, LastDoseBefore)]
    first = min(last, key=lambda step: step.day, default=None)
    return tuple(step for step in whole.steps if step not in last or step is first)


def _reasons(line: Line, names: Names) -> Iterator[str]:
    """What each text says, with its source."""
    for finding in line.findings:
        for statement in finding.statements:
            words = statement_words(statement, names, finding.remedies)
            said = f"{words.lead}: {words.body}" if words.lead else words.body
            yield f"{said} [{'; '.join(sources(statement))}]"


_WITH = "with "
