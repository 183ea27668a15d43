"""More is never fewer findings: a further fact, a further remedy, a longer course."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Client, Fact, Reaction
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span, joined
from sennight.domain.day import Moment
from sennight.domain.herbs.herbs import Caution, Level
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.safety.check import findings
from sennight.domain.safety.findings import Severity, merged
from sennight.domain.safety.what_was_checked import checked_for_client, scope_text
from sennight.domain.safety.wording import WordedFinding
from sennight.knowledge.vocabulary import vocabulary
from support.draws import draws
from support.safety_samples import (
    MATERIA_MEDICA,
    RULES,
    START,
    course,
    day,
    found,
    remedy,
    unaccepted,
)

some = settings(max_examples=draws(30))
WORDS = vocabulary()
DATES = st.none() | st.dates(date(2026, 6, 1), date(2027, 12, 1))
AT = st.lists(st.sampled_from([*Moment, time(8), time(13, 15)]), max_size=2).map(tuple)


def facts(tags: dict[str, str]) -> st.SearchStrategy[tuple[Fact, ...]]:
    one = st.builds(Fact, st.sampled_from(sorted(tags)), DATES, DATES, AT)
    return st.lists(one, max_size=4).map(tuple)


CLIENTS = st.builds(
    Client,
    name=st.just("Una Example"),
    born=st.none() | st.dates(date(1950, 1, 1), date(2026, 1, 1)),
    conditions=facts(dict(WORDS.conditions)),
    medicines=facts(dict(WORDS.medicines)),
    allergies=facts(dict(WORDS.allergies)),
)
HERBS = st.lists(
    st.sampled_from(sorted(MATERIA_MEDICA.herbs)), min_size=1, max_size=3, unique=True
)
REMEDIES = st.lists(st.tuples(HERBS, st.sampled_from(Form)), min_size=1, max_size=3)


def made(parts: list[tuple[list[str], Form]]) -> list[Remedy]:
    return [remedy(*herbs, form=form, name=f"r{n}") for n, (herbs, form) in enumerate(parts)]


def days_of(one: WordedFinding) -> set[date]:
    return {day for span in one.days for day in span}


def no_fewer(before: dict[str, WordedFinding], after: dict[str, WordedFinding]) -> None:
    gravest = list(Severity)
    for wanted, one in before.items():
        key = wanted
        if key not in after:  # of several thresholds the gravest is told
            assert key.startswith("burden.")
            about = key.rpartition(".")[0]
            key = next(other for other in after if other.rpartition(".")[0] == about)
        assert gravest.index(after[key].severity) <= gravest.index(one.severity), key
        if not key.startswith("burden."):
            assert days_of(one) <= days_of(after[key]), key


@some
@given(CLIENTS, CLIENTS, REMEDIES)
def test_a_further_fact(client: Client, more: Client, parts: list[tuple[list[str], Form]]) -> None:
    before = course(*made(parts), client=client)
    wider = replace(
        client,
        conditions=client.conditions + more.conditions,
        medicines=client.medicines + more.medicines,
        allergies=client.allergies + more.allergies,
        reactions=(Reaction(START, "r0", tuple(parts[0][0]), "a rash"),),
    )
    no_fewer(found(before), found(replace(before, client=wider)))


@some
@given(CLIENTS, REMEDIES, REMEDIES)
def test_a_further_remedy(
    client: Client, parts: list[tuple[list[str], Form]], more: list[tuple[list[str], Form]]
) -> None:
    before = found(course(*made(parts), client=client))
    no_fewer(before, found(course(*made([*parts, *more]), client=client)))


@some
@given(CLIENTS, REMEDIES, st.integers(1, 20), st.integers(1, 20))
def test_a_longer_course(
    client: Client, parts: list[tuple[list[str], Form]], weeks: int, more: int
) -> None:
    before = found(course(*made(parts), client=client, weeks=weeks))
    no_fewer(before, found(course(*made(parts), client=client, weeks=weeks + more)))


@some
@given(CLIENTS, REMEDIES, st.integers(1, 30))
def test_what_every_finding_is(
    client: Client, parts: list[tuple[list[str], Form]], weeks: int
) -> None:
    """In order, on days of the course, with a source and a text; its id has no date in it."""
    one = course(*made(parts), client=client, weeks=weeks)
    ids = found(one)
    end = START + timedelta(weeks=weeks)
    for key, finding in ids.items():
        assert finding.days == joined(finding.days) != ()
        assert finding.days[0].first >= START
        assert finding.days[-1].end <= end
        assert finding.source
        assert finding.text.endswith((".", "?"))
        assert "202" not in key
        assert "safe" not in finding.text.casefold().replace("safety", "")
        assert set(finding.remedies) <= {remedy.id for remedy in one.remedies}
    order = [list(Severity).index(finding.severity) for finding in ids.values()]
    assert order == sorted(order)


def test_a_decision_without_a_reason_decides_nothing() -> None:
    client = Client("Una Example", medicines=(Fact("anticoagulant"),))
    layout = lay_out(course(remedy("willow-bark"), client=client))
    stands = unaccepted(layout, ())
    assert [one.id for one in stands] == ["willow-bark.anticoagulant"]
    accept = Accept("willow-bark.anticoagulant", " ")
    assert unaccepted(layout, (accept,)) == stands
    assert unaccepted(layout, (replace(accept, reason="the doctor agrees"),)) == []
    assert unaccepted(layout, (Accept("ginger.pregnancy", "no"),)) == stands


def test_what_was_checked_is_said_and_is_no_clearance() -> None:
    said = scope_text(lay_out(course(remedy("rosehip", "moonwort"))), MATERIA_MEDICA, RULES)
    assert "2 herbs (1 herb without a record)" in said
    assert "Not asked yet: conditions, medicines, allergies and reactions." in said
    assert "No date of birth is recorded, so ages were not checked" in said
    assert "164 herbs and substances" in said
    assert "as of 25 November 2026" in said
    assert said.endswith(
        "Finding nothing does not mean it is safe: what is not recorded cannot be found."
    )


def test_where_every_kind_of_fact_is_recorded_none_is_said_to_be_missing() -> None:
    client = Client(
        "Una Example",
        date(1970, 5, 1),
        conditions=(Fact("peptic-ulcer"),),
        medicines=(Fact("anticoagulant"), Fact("iron")),
        allergies=(Fact("asteraceae-allergy"),),
        reactions=(Reaction(START, "Tea", ("ginger",), "Heartburn."),),
    )
    said = scope_text(lay_out(course(remedy("rosehip"), client=client)), MATERIA_MEDICA, RULES)
    assert "against 1 condition, 2 medicines, 1 allergy and 1 reaction. Records used" in said


def test_what_is_found_twice_is_said_once() -> None:
    """Two facts of one kind meet the herb alike; the days are those of both."""
    (one,) = findings(lay_out(course(remedy("moonwort"))), MATERIA_MEDICA, RULES)
    first, second = (
        replace(one, days=(span,)) for span in (Span(START, day(8)), Span(day(15), day(22)))
    )
    (both,) = merged([first, second])
    assert (both.statements, both.days) == (one.statements, (*first.days, *second.days))


@pytest.mark.parametrize(
    "earlier", ["meets.willow-bark.anticoagulant", "willow-bark.anticoagulant"]
)
def test_a_decision_kept_under_the_earlier_id_holds(earlier: str) -> None:
    """Findings on a herb and a fact were once called `meets.HERB.TAG`."""
    client = Client("Una Example", medicines=(Fact("anticoagulant"),))
    layout = lay_out(course(remedy("willow-bark"), client=client))
    assert unaccepted(layout, (Accept(earlier, "the doctor agrees"),)) == []


def test_what_a_record_says_decides_nothing_but_its_level() -> None:
    """A text of a practice's own herb may hold any words: to avoid is to leave out."""
    willow = MATERIA_MEDICA.herbs["willow-bark"]
    said = Caution(
        "gout",
        Level.AVOID,
        "Do not leave it out in the sun: and never give it; if in doubt ask",
        willow.pregnancy.origin,
    )
    own = MATERIA_MEDICA.with_herbs([replace(willow, cautions=(said,))])
    made = course(remedy("willow-bark"), client=Client("Una Example", conditions=(Fact("gout"),)))
    finding = found(made, own)["willow-bark.gout"]
    assert finding.text == (
        "Willow bark with gout: do not leave it out in the sun: and never give it; "
        "if in doubt ask. Leave it out."
    )
    assert finding.under_heading == finding.text.replace("Willow bark with gout: d", "D")


def test_two_texts_on_one_herb_and_fact_name_it_once() -> None:
    willow = MATERIA_MEDICA.herbs["willow-bark"]
    texts = ("One text: with a colon", "Another text")
    cautions = tuple(
        Caution("gout", Level.CAUTION, text, willow.pregnancy.origin) for text in texts
    )
    own = MATERIA_MEDICA.with_herbs([replace(willow, cautions=cautions)])
    made = course(remedy("willow-bark"), client=Client("Una Example", conditions=(Fact("gout"),)))
    assert found(made, own)["willow-bark.gout"].text == (
        "Willow bark with gout: one text: with a colon. Another text."
    )


def test_the_client_is_told_what_was_checked_and_that_no_check_finds_everything() -> None:
    said = checked_for_client()
    assert "against what you have told us" in said
    assert "No check finds everything" in said
