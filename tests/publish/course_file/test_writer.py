"""What is written as a course file is read as the same values again."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time
from fractions import Fraction
from itertools import starmap

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sennight.domain.client_facts.typed_medicine import typed_medicine
from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Client, Fact, Harm, Outcome, Reaction, Sex, Topic
from sennight.domain.courses.courses import (
    Course,
    Join,
    Redirect,
    Reformulate,
    Revision,
)
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.problems import course_problems
from sennight.domain.courses.protocols import AdviceLine, Ceiling, Line, Phase, Protocol
from sennight.domain.courses.revising import plan_course
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.day import DEFAULT_TIMES, ClientDay, Moment
from sennight.domain.directions.directions import Unit
from sennight.domain.follow_up.diaries import DayNote, Followed, Score, Taken, note_words
from sennight.domain.follow_up.measures import Better, Measure, Measures, is_published
from sennight.domain.herbs.naming import as_names
from sennight.domain.remedies.contents import sugar_grams
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.portions import measured_units
from sennight.domain.remedies.remedies import Base, Ingredient, Remedy
from sennight.knowledge.client_facts import fact_records
from sennight.knowledge.fact_names import is_tag, names_of
from sennight.knowledge.vocabulary import vocabulary
from sennight.publish.course_file.reader import (
    CourseFile,
    CourseFileError,
    course_id,
    parse_course,
    read_course_file,
)
from sennight.publish.course_file.writer import course_toml
from support.draws import draws
from support.files import COURSES
from support.formulas import remedies
from support.samples import REMEDIES, TIMINGS, courses, day
from support.strategies import gates

HERBS = ("nettle-leaf", "ginger", "turmeric", "boswellia", "cayenne", "celery-seed")

words = st.text(
    st.characters(exclude_categories=["Cs", "Cc", "Zl", "Zp"]), min_size=1, max_size=12
).filter(lambda text: bool(text.strip()))
prose = st.text(st.characters(exclude_categories=["Cs"]), min_size=1).filter(
    lambda text: bool(text.strip())
)
amounts = st.fractions(min_value=Fraction(1, 1000), max_value=600, max_denominator=1000)
dates = st.dates(date(1900, 1, 1), date(2200, 1, 1))


times = st.lists(
    st.sampled_from(Moment) | st.times().map(lambda t: t.replace(second=0, microsecond=0)),
    max_size=3,
).map(tuple)


_RECORDS = fact_records()
_TAGS = {
    Topic.CONDITIONS: (*_RECORDS.conditions, *_RECORDS.unclear_conditions),
    Topic.MEDICINES: (
        *_RECORDS.medicines,
        *_RECORDS.classes,
        *_RECORDS.unclear_medicines,
    ),
    Topic.ALLERGIES: (*HERBS, *vocabulary().constituents, *_RECORDS.conditions),
}
_NAMES = {
    Topic.CONDITIONS: ("high blood pressure", "GORD", "hepatitis", "no such illness"),
    Topic.MEDICINES: ("Ramipril", "ramipril 5 mg", "blood thinner", "no such thing", "iron"),
    Topic.ALLERGIES: ("nettle leaf", "penicillin", "celery", "no such plant"),
}


@st.composite
def _facts_of(draw: st.DrawFn, topic: Topic) -> Fact:
    """A fact as the program has it: a tag, or a name with what it was taken for."""
    tag = draw(st.just("") | st.sampled_from(_TAGS[topic]))
    name = draw(st.just("") | words | st.sampled_from(_NAMES[topic]))
    assume(tag or (name and not names_of(topic).exact(name)))
    assume("-" not in name and not any(is_tag(other, name) for other in Topic))
    assume(topic is not Topic.ALLERGIES or tag or not as_names(HERBS).ids(name))
    assume(tag or topic is not Topic.MEDICINES or typed_medicine(name).name == name)
    since, until = draw(st.none() | dates), draw(st.none() | dates)
    assume(not (since and until and until < since))
    if topic is not Topic.MEDICINES:
        return Fact(tag, since, until, name=name)
    return Fact(
        tag,
        since,
        until,
        draw(times),
        name,
        draw(st.just("") | words),
        draw(st.none() | st.just(()) | st.just(("statin", "anticoagulant"))),
        draw(st.just(()) | st.just(("diabetes",))),
    )


def facts(topic: Topic) -> st.SearchStrategy[tuple[Fact, ...]]:
    return st.lists(_facts_of(topic), max_size=3).map(tuple)


@st.composite
def client_days(draw: st.DrawFn) -> ClientDay:
    minutes = sorted(draw(st.sets(st.integers(0, 1439), min_size=7, max_size=7)))
    times = dict(zip(Moment, (time(*divmod(m, 60)) for m in minutes), strict=True))
    if draw(st.booleans()):
        times[Moment.BEDTIME] = time(*divmod(minutes[0] // 2, 60))
        assume(times[Moment.BEDTIME] < times[Moment.RISING])
    return ClientDay.at(times if draw(st.booleans()) else dict(DEFAULT_TIMES))


reactions = st.builds(
    Reaction,
    dates,
    words,
    st.lists(st.sampled_from(HERBS), min_size=1, max_size=3).map(tuple),
    prose,
    st.none() | st.sampled_from(Harm),
    st.none() | st.sampled_from(Outcome),
)
clients = st.builds(
    Client,
    name=words,
    born=st.none() | st.dates(date(1900, 1, 1), date(2020, 1, 1)),
    zone=st.none() | st.sampled_from(["Europe/London", "Asia/Kolkata", "UTC"]),
    weight_kg=st.none() | amounts,
    conditions=facts(Topic.CONDITIONS),
    medicines=facts(Topic.MEDICINES),
    allergies=facts(Topic.ALLERGIES),
    reactions=st.lists(reactions, max_size=2).map(tuple),
    day=client_days(),
    asked=st.lists(st.sampled_from(Topic), unique=True).map(tuple),
    sex=st.none() | st.sampled_from(Sex),
)


ceilings = st.builds(
    Ceiling,
    st.lists(st.sampled_from(REMEDIES), min_size=1, unique=True).map(tuple),
    st.integers(1, 9),
)


# A strategy is looked over before it draws for the first time, which takes longer than to draw.

_advice = st.builds(AdviceLine, words, st.none() | TIMINGS, st.booleans(), st.booleans())
_advice_lines = st.lists(_advice, max_size=2)
_gates = st.none() | gates(words)
_said = st.just("") | words
_at_least = st.none() | st.integers(1, 20)


def _full_phase(draw: st.DrawFn, phase: Phase) -> Phase:
    return replace(
        phase,
        gate=draw(_gates),
        lines=tuple(replace(line, site=draw(_said), note=draw(_said)) for line in phase.lines),
        advice=tuple(draw(_advice_lines)),
        at_least_weeks=None if phase.is_rescue else draw(_at_least),
        trigger=draw(_said) if phase.is_rescue else "",
    )


own_measures = st.builds(
    Measure,
    words.filter(lambda name: not is_published(name)),
    words,
    st.sampled_from(Better),
    low=st.just(Fraction(0)),
    high=st.integers(10, 1000).map(Fraction),
    unit=st.just("") | words,
    matters=st.none() | st.integers(1, 9).map(Fraction),
    matters_percent=st.none() | st.integers(1, 100).map(Fraction),
    source=st.just("") | words,
)


_courses = courses(revised=True)
_remedies = [remedies(each, names=words, herbs=st.sampled_from(HERBS)) for each in REMEDIES]
_actions = st.lists(st.sampled_from(sorted(vocabulary().actions)), max_size=3)
_ceilings = st.lists(ceilings, max_size=2)
_accepts = st.lists(st.builds(Accept, words, prose), max_size=2)
_days = st.integers(1, 200).map(day)
_taken = st.dictionaries(st.tuples(_days, st.sampled_from(REMEDIES)), st.integers(0, 9))
_rated = st.dictionaries(st.tuples(_days, words), st.fractions(0, 10, max_denominator=1000))
_notes = st.dictionaries(_days, words.map(note_words).filter(bool), max_size=2)
_own = st.lists(own_measures, max_size=2, unique_by=lambda measure: measure.id)


@st.composite
def course_files(draw: st.DrawFn) -> CourseFile:
    course = draw(_courses)
    protocol = Protocol(
        draw(words),
        tuple(_full_phase(draw, phase) for phase in course.protocol.phases),
        tuple(draw(_actions)),
        tuple(draw(_ceilings)),
    )
    course = replace(
        course,
        client=draw(clients),
        remedies=tuple(map(draw, _remedies)),
        protocol=protocol,
        accepts=tuple(draw(_accepts)),
    )
    course = _measured(course)
    course = replace(course, id=course_id(course.client.name, protocol.name, course.start))
    course = replace(course, revisions=_possible(course))
    assume(not course_problems(course))
    taken, rated, own = draw(_taken), draw(_rated), draw(_own)
    return CourseFile(
        course,
        tuple(Taken(*key, doses) for key, doses in taken.items()),
        tuple(Score(*key, value) for key, value in rated.items()),
        followed=draw(_followed(protocol)),
        measures=Measures(tuple(own)),
        notes=tuple(starmap(DayNote, draw(_notes).items())),
    )


@st.composite
def _followed(draw: st.DrawFn, protocol: Protocol) -> tuple[Followed, ...]:
    texts = [advice.text for phase in protocol.phases for advice in phase.advice]
    if not texts:
        return ()
    cells = st.tuples(st.integers(1, 200).map(day), st.sampled_from(texts))
    counted = draw(st.dictionaries(cells, st.integers(0, 9), max_size=3))
    return tuple(Followed(*key, times) for key, times in counted.items())


def _measured(course: Course) -> Course:
    """The same with every dose in a unit that the remedy's form is measured in."""
    unit = {remedy.id: measured_units(remedy)[0] for remedy in course.remedies}

    def fit(line: Line) -> Line:
        own = unit[line.remedy]
        steps = tuple(replace(s, directions=replace(s.directions, unit=own)) for s in line.steps)
        return replace(line, directions=replace(line.directions, unit=own), steps=steps)

    phases = tuple(
        replace(phase, lines=tuple(map(fit, phase.lines))) for phase in course.protocol.phases
    )
    revisions = tuple(
        replace(r, directions=replace(r.directions, unit=unit[r.remedy]))
        if isinstance(r, Redirect | Join)
        else r
        for r in course.revisions
        if not isinstance(r, Reformulate) or unit[r.remedy] is unit[r.formula]
    )
    return replace(course, protocol=replace(course.protocol, phases=phases), revisions=revisions)


def _possible(course: Course) -> tuple[Revision, ...]:
    """Those of a course's revisions that can follow each other, struck out or not."""
    kept: tuple[Revision, ...] = ()
    for revision in course.revisions:
        if getattr(revision, "by", 1) == 0:
            continue
        try:
            plan_course(replace(course, revisions=(*kept, replace(revision, void=""))))
        except LayoutError:
            continue
        kept = (*kept, revision)
    return kept


@settings(max_examples=draws(20))
@given(course_files())
def test_what_is_written_is_read_as_the_same(file: CourseFile) -> None:
    text = course_toml(
        file.course,
        file.reported,
        measures=file.measures,
    )
    assert parse_course(text, HERBS) == file


@pytest.mark.parametrize("name", ["knees.toml"])
def test_a_sample_is_read_as_the_same_after_writing(name: str) -> None:
    file = read_course_file(COURSES / name, HERBS)
    text = course_toml(file.course, file.reported)
    assert parse_course(text, HERBS) == file
    assert course_toml(file.course, file.reported) == text


def test_it_is_laid_out_for_people() -> None:
    file = read_course_file(COURSES / "knees.toml", HERBS)
    text = course_toml(file.course)
    assert '\n[client.day]\nbreakfast = "08:00"\nbedtime = "00:15"\n' in text
    assert (
        'form = "tincture"\ndrops_per_ml = 34\nparts = [\n'
        '    { herb = "turmeric", parts = 30, ratio = "1:3", ethanol = 60 },\n' in text
    )
    assert '\n\n[[protocol.phase.line]]\nremedy = "t1"\ntake = "1 cup tds ac"\n' in text


def test_an_id_tells_nothing_of_the_client_and_stays() -> None:
    made = course_id("Una Example", "Knees", date(2027, 1, 4))
    assert made == course_id("Una Example", "Knees", date(2027, 1, 4))
    assert len(made) == 32
    assert made != course_id("Una Example", "Knees", date(2027, 1, 5))
    assert "una" not in made


@pytest.mark.parametrize(("written", "grams"), [("5:1", "1/5"), ("4.5:1", "2/9"), ("3:1", "1/3")])
def test_the_drug_extract_ratio_of_an_extract_is_kept(written: str, grams: str) -> None:
    text = (COURSES / "knees.toml").read_text(encoding="utf-8")
    assert text.count('as = "extract"') == 1
    told = text.replace('as = "extract"', f'as = "extract", ratio = "{written}"')
    file = parse_course(told, HERBS)
    extract = next(
        one
        for remedy in file.course.remedies
        for one in remedy.ingredients
        if one.filling is Filling.EXTRACT
    )
    assert extract.ratio == Fraction(grams)
    assert f'ratio = "{written}"' in course_toml(file.course)
    with pytest.raises(CourseFileError, match="a ratio is for extracts only"):
        parse_course(told.replace('as = "extract", ratio', 'as = "powder", ratio'), HERBS)


SUGARS = st.sampled_from([Fraction(0), Fraction(60), Fraction(85)])


@settings(max_examples=30)
@given(st.builds(Base, st.just("") | words, st.just(Fraction(0)) | amounts, SUGARS))
def test_a_syrup_with_whatever_base_it_was_saved_is_read_again(base: Base) -> None:
    """The window has saved syrups without the parts of their base."""
    herb = Ingredient("ginger", Fraction(1), Fraction(5), Fraction(60))
    syrup = Remedy("t1", "t1", Form.SYRUP, (herb,), base=base)
    plan = Protocol("", (Phase("p", "p", Length(1, CalendarUnit.DAYS), ()),))
    course = Course("c", Client("Una"), (syrup,), plan, day(1))
    (read,) = parse_course(course_toml(course), HERBS).course.remedies
    assert (read.base or Base()).name == base.name
    assert sugar_grams(read, Fraction(5), Unit.ML) == sugar_grams(syrup, Fraction(5), Unit.ML)
