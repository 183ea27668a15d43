"""Sixty invented clients with medicines by name: what must and what must not be told.

Expectations and their sources are in `references/safety_clients.yaml`.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import time
from functools import cache
from statistics import median
from typing import Any

import pytest

from sennight.domain.courses.clients import Client, Fact, Topic
from sennight.domain.courses.stretches import lay_out
from sennight.domain.remedies.forms import Form
from sennight.domain.safety.check import findings
from sennight.domain.safety.finding_rules import HerbWithFact, HoursBetween
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.names import (
    Names,
)
from sennight.domain.safety.telling import Line, told
from sennight.domain.safety.wording import WordedFinding
from sennight.domain.safety.wording_findings import word_lines
from sennight.knowledge.fact_names import fact_written
from support.files import REFERENCES, from_yaml
from support.safety_samples import MATERIA_MEDICA, RULES, course, remedy

CLIENTS: list[dict[str, Any]] = from_yaml(
    (REFERENCES / "safety_clients.yaml").read_text(encoding="utf-8")
)
HERBS_A_CUP = "2"


def medicine(entry: str | dict[str, Any]) -> Fact:
    if isinstance(entry, str):
        return fact_written(Topic.MEDICINES, entry)
    at = tuple(time.fromisoformat(text) for text in entry["at"])
    fact = fact_written(Topic.MEDICINES, entry["name"])
    return Fact(fact.tag, at=at, name=fact.name, dose=fact.dose)


@cache
def case(number: int) -> tuple[tuple[Line, ...], tuple[WordedFinding, ...]]:
    """What is told of a client's course, as data and in words."""
    entry = CLIENTS[number]
    form = Form[entry.get("form", "tea").upper()]
    client = Client(
        "Una Example",
        conditions=tuple(fact_written(Topic.CONDITIONS, c) for c in entry.get("conditions", [])),
        medicines=tuple(map(medicine, entry.get("medicines", []))),
    )
    made = course(remedy(*entry["herbs"], form=form, amount=HERBS_A_CUP), client=client, take=None)
    lines = told(findings(lay_out(made), MATERIA_MEDICA, RULES), RULES)
    return lines, word_lines(lines, Names(made, MATERIA_MEDICA, RULES))


def shown(number: int) -> Iterator[Finding]:
    return (finding for line in case(number)[0] for finding in line.findings)


def label(fact: Fact) -> str:
    return (fact.name or RULES.records.label(fact.tag) or fact.tag).lower()


def is_about(finding: Finding, herb: str, fact: str) -> bool:
    of_herb = herb in finding.herbs if herb else not finding.herbs
    facts = {finding.fact.lower(), *(label(met) for met in finding.met)}
    return of_herb and (fact.lower() in facts)


NUMBERS = range(len(CLIENTS))


def test_there_are_sixty() -> None:
    assert len(CLIENTS) >= 60
    assert all(entry["source"] for entry in CLIENTS)
    assert len({str(entry) for entry in CLIENTS}) == len(CLIENTS)


@pytest.mark.parametrize("number", NUMBERS)
def test_what_must_be_told_is_told(number: int) -> None:
    for how, herb, fact in CLIENTS[number]["told"]:
        about = [finding for finding in shown(number) if is_about(finding, herb, fact)]
        if how == "hours":
            assert any(isinstance(finding.rule, HoursBetween) for finding in about), (herb, fact)
        else:
            worst = [str(f.severity) for f in about if not isinstance(f.rule, HoursBetween)]
            assert how in worst, (herb, fact, worst)


@pytest.mark.parametrize("number", NUMBERS)
def test_what_must_not_be_told_is_not(number: int) -> None:
    for herb, what in CLIENTS[number]["never"]:
        of_herb = [f for f in shown(number) if (herb in f.herbs if herb else f.fact)]
        with_fact = [finding for finding in of_herb if finding.met or finding.fact]
        if what == "any":
            assert not with_fact, [finding.id for finding in with_fact]
        elif what == "hours":
            assert not [f for f in of_herb if isinstance(f.rule, HoursBetween)]
        elif what == "avoid":
            grave = [f.id for f in with_fact if f.severity is Severity.AVOID]
            assert not grave
        else:
            assert not [f.id for f in of_herb if is_about(f, herb, what)]


@pytest.mark.parametrize("number", NUMBERS)
def test_nothing_is_told_twice(number: int) -> None:
    """Each pair of a herb and a fact at one strength; each theme in one line; each text once."""
    strengths: dict[tuple[str, Fact], set[Severity]] = {}
    for line in case(number)[0]:
        for finding in line.findings:
            if isinstance(finding.rule, HerbWithFact):
                for fact in finding.met:
                    strengths.setdefault((finding.rule.herb, fact), set()).add(finding.severity)
    assert all(len(severities) == 1 for severities in strengths.values())
    words = case(number)[1]
    texts = [line.text for line in words]
    assert len(texts) == len(set(texts))
    milder = [line for line in case(number)[0] if line.severity is not Severity.AVOID]
    themes = [
        line.theme.id
        for line in milder
        if line.theme and isinstance(line.findings[0].rule, HerbWithFact)
    ]
    assert len(themes) == len(set(themes))


@pytest.mark.parametrize("number", [n for n in NUMBERS if "one_line" in CLIENTS[n]])
def test_herbs_of_one_theme_share_a_line(number: int) -> None:
    herbs = set(CLIENTS[number]["one_line"])
    assert any(herbs <= set(line.herbs) for line in case(number)[1])


def test_every_caution_and_every_avoid_has_a_sentence_for_the_client() -> None:
    for number in NUMBERS:
        for line in case(number)[1]:
            assert bool(line.client_text) == (line.severity is not Severity.NOTE), line.id


def test_two_notes_at_most_in_the_median() -> None:
    notes = [
        sum(1 for line in case(number)[1] if line.severity is Severity.NOTE) for number in NUMBERS
    ]
    print(f"notes: median {median(notes)}, most {max(notes)}, all {sum(notes)}")
    assert median(notes) <= 2
