"""What the keys of a course file become."""

from __future__ import annotations

from datetime import date, time
from fractions import Fraction

import pytest

from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Client, Fact
from sennight.domain.courses.courses import (
    Advance,
    End,
    Extend,
    Flare,
    Pause,
    PauseMode,
    Redirect,
    Stop,
)
from sennight.domain.courses.protocols import Gate, Line, Phase, Step
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.day import ClientDay, Moment
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Method, Remedy, TeaMaking
from sennight.knowledge.vocabulary import vocabulary
from sennight.practice.materia_medica import herb_finder
from sennight.publish.course_file.reader import (
    CourseFile,
    CourseFileError,
    parse_course,
    read_course_file,
)
from support.files import COURSES
from support.samples import take

HERBS = (
    *("nettle-leaf", "ginger", "turmeric", "boswellia", "cayenne", "celery-seed"),
    *("lemon-balm", "passionflower", "valerian", "hops"),
)

LEAST = """\
version = 1
[client]
name = "Una Example"
[protocol]
[[protocol.phase]]
id = "only"
weeks = 1
[course]
start = 2027-01-04
"""


def sample(name: str) -> CourseFile:
    return read_course_file(COURSES / f"{name}.toml", HERBS)


def with_remedy(text: str) -> Remedy:
    (remedy,) = parse_course(f'{LEAST}[[remedy]]\nid = "r"\n{text}', HERBS).course.remedies
    return remedy


def test_what_may_be_left_out_has_its_usual_value() -> None:
    found = parse_course(LEAST, HERBS)
    course = found.course
    assert course.client == Client("Una Example")
    assert course.protocol.phases == (Phase("only", "only", Length(1, CalendarUnit.WEEKS)),)
    assert (course.until, course.revisions, course.accepts, course.remedies) == (None, (), (), ())
    assert (found.diary, found.scores) == ((), ())


def test_the_client_is_read() -> None:
    assert sample("knees").course.client == Client(
        name="Una Fennimore-Example",
        born=date(1958, 3, 14),
        zone="Europe/London",
        weight_kg=Fraction(143, 2),
        conditions=(
            Fact("iron-deficiency"),
            Fact("planned-surgery", date(2027, 5, 1), date(2027, 5, 20)),
        ),
        medicines=(Fact("antihypertensive"),),
        allergies=(Fact("asteraceae-allergy"),),
        day=ClientDay.at({Moment.BREAKFAST: time(8, 0), Moment.BEDTIME: time(0, 15)}),
    )


def test_remedies_of_every_form_are_read() -> None:
    assert sample("knees").course.remedies == (
        Remedy(
            "t1",
            "Morning tea",
            Form.TEA,
            (Ingredient("nettle-leaf", Fraction(2)), Ingredient("ginger", Fraction(1))),
            TeaMaking(Fraction(3), Fraction(200), Method.DECOCTION, 12),
        ),
        Remedy(
            "t2",
            "Root tincture",
            Form.TINCTURE,
            (
                Ingredient("turmeric", Fraction(30), Fraction(3), Fraction(60)),
                Ingredient("celery-seed", Fraction(20), Fraction(5), Fraction(121, 2)),
            ),
            drops_per_ml=Fraction(34),
        ),
        Remedy(
            "t3",
            "t3",
            Form.CAPSULE,
            (Ingredient("boswellia", mg=Fraction(400), filling=Filling.EXTRACT),),
        ),
        Remedy(
            "rub",
            "Warming rub",
            Form.RUB,
            (Ingredient("cayenne", Fraction(1), Fraction(20), Fraction(0)),),
        ),
    )


@pytest.mark.parametrize(
    ("more", "method", "minutes"),
    [
        ("", Method.INFUSION, 10),
        ('method = "decoction"\n', Method.DECOCTION, 15),
        ('method = "decoction"\nminutes = 5\n', Method.DECOCTION, 5),
    ],
)
def test_a_tea_is_made_as_usual_where_nothing_else_is_said(
    more: str, method: Method, minutes: int
) -> None:
    text = f'form = "tea"\ngrams_per_cup = 0.1\n{more}parts = [{{ herb = "ginger", parts = 1 }}]'
    made = TeaMaking(Fraction(1, 10), Fraction(250), method, minutes)
    assert with_remedy(text).tea == made


def test_a_liquid_has_20_drops_to_the_ml_and_a_capsule_powder_where_nothing_else_is_said() -> None:
    parts = '[{ herb = "ginger", parts = 1, ratio = "2:1", ethanol = 25 }]'
    liquid = with_remedy(f'form = "tincture"\nparts = {parts}')
    assert liquid.drops_per_ml == 20
    assert liquid.ingredients[0].ratio == Fraction(1, 2)
    capsule = with_remedy('form = "capsule"\nparts = [{ herb = "ginger", mg = 250 }]')
    assert capsule.ingredients[0].filling is Filling.POWDER


def test_a_fraction_without_a_decimal_form_is_written_as_text() -> None:
    remedy = with_remedy(
        'form = "tea"\ngrams_per_cup = "7/3"\nparts = [{ herb = "ginger", parts = "1/3" }]'
    )
    assert remedy.ingredients == (Ingredient("ginger", Fraction(1, 3)),)
    assert remedy.tea == TeaMaking(Fraction(7, 3))


def test_phases_are_read() -> None:
    loading, maintenance, rescue = sample("knees").course.protocol.phases
    assert loading == Phase(
        "loading",
        "loading",
        Length(6, CalendarUnit.WEEKS),
        (
            Line("t1", take("1 cup tds ac"), (Step(28, take("1 cup bd")),)),
            Line("t2", take("2.5 mL bd pc on mon wed fri")),
        ),
        Gate("pain", 30),
    )
    assert maintenance.length is None
    assert (rescue.length, rescue.stand_in) == (Length(7, CalendarUnit.DAYS), False)
    phases = sample("sleep").course.protocol.phases
    assert [phase.purpose for phase in phases] == ["first", "second", "third", "last", "rescue"]
    assert phases[1].length == Length(2, CalendarUnit.MONTHS)
    assert phases[-1].stand_in


def test_a_phase_called_rescue_is_one_where_no_purpose_is_given() -> None:
    text = LEAST.replace("[course]", '[[protocol.phase]]\nid = "rescue"\ndays = 3\n[course]')
    assert parse_course(text, HERBS).course.protocol.phases[1].is_rescue


def test_revisions_of_every_kind_are_read() -> None:
    assert sample("sleep").course.revisions == (
        Extend(on=date(2028, 1, 28), phase="first", by=2),
        Pause(
            on=date(2028, 2, 10),
            first=date(2028, 2, 12),
            last=date(2028, 2, 14),
            mode=PauseMode.SKIP,
        ),
        Redirect(
            on=date(2028, 2, 20),
            remedy="drops",
            first=date(2028, 2, 21),
            last=date(2028, 3, 5),
            directions=take("15 drops tds pc"),
        ),
        Flare(on=date(2028, 3, 6), first=date(2028, 3, 6), rescue="bad-nights"),
        Pause(
            on=date(2028, 3, 20),
            first=date(2028, 3, 24),
            last=date(2028, 3, 30),
            mode=PauseMode.FREEZE,
            reason="In hospital",
        ),
        Advance(on=date(2028, 4, 20), to="last", first=date(2028, 5, 1), reason="Sleeps through"),
        End(on=date(2028, 5, 20), first=date(2028, 5, 25)),
    )
    assert sample("knees").course.revisions[-1] == Stop(
        on=date(2027, 6, 1), remedy="t3", first=date(2027, 6, 1), reason="Client's wish"
    )


def test_an_extension_in_weeks_may_shorten() -> None:
    change = '[[course.revision]]\non = 2027-01-04\nchange = "extend"\nphase = "only"\nweeks = -1'
    text = LEAST.replace("weeks = 1", "weeks = 3") + change
    (extend,) = parse_course(text, HERBS).course.revisions
    assert extend == Extend(on=date(2027, 1, 4), phase="only", by=-1, in_weeks=True)


def test_the_rest_is_read() -> None:
    found = sample("knees")
    assert found.course.start == date(2027, 1, 4)
    assert found.course.until == date(2027, 12, 31)
    assert found.course.protocol.aims == ("anti-inflammatory", "circulatory-stimulant")
    assert found.course.accepts == (
        Accept("boswellia.planned-surgery", "Talked over with the client"),
        Accept("ginger.planned-surgery", "Culinary amounts, agreed with the surgeon"),
    )
    assert found.diary[0] == Taken(date(2027, 1, 4), "t1", 3)
    assert found.scores[1] == Score(date(2027, 2, 15), "pain", Fraction(9, 2))


def test_a_cell_of_the_findings_may_be_accepted_as_it_stands() -> None:
    decided = '[[course.accept]]\nfinding = "{}"\nreason = "Agreed"\n'
    cell = "sage.epilepsy; unchecked.blue-pill; burden.salicylates.2"
    accepts = parse_course(LEAST + decided.format(cell), HERBS).course.accepts
    assert [accept.finding for accept in accepts] == cell.split("; ")
    assert {accept.reason for accept in accepts} == {"Agreed"}
    words = "a; b"
    (kept,) = parse_course(LEAST + decided.format(words), HERBS).course.accepts
    assert kept.finding == words


@pytest.mark.parametrize("kind", ["conditions", "medicines", "constituents", "actions"])
def test_every_tag_of_the_vocabulary_has_a_meaning(kind: str) -> None:
    words = getattr(vocabulary(), kind)
    assert len(words) > 30
    assert all(meaning.strip() for meaning in words.values())


def test_an_allergy_may_be_to_a_class_of_constituents() -> None:
    text = LEAST.replace('"Una Example"', '"Una Example"\nallergies = ["salicylates"]')
    assert parse_course(text, HERBS).course.client.allergies == (Fact("salicylates"),)


def test_the_course_file_in_the_documents_is_a_good_one() -> None:
    document = (COURSES.parents[1] / "resources" / "course-file.md").read_text(encoding="utf-8")
    text = document.split("```toml\n")[1].split("```")[0]
    found = parse_course(text, HERBS)
    assert [remedy.form for remedy in found.course.remedies] == ["tea", "tincture", "capsule"]
    assert len(found.diary) == len(found.scores) == len(found.course.accepts) == 1


def test_a_herb_may_be_called_by_any_of_its_names() -> None:
    names = herb_finder()
    text = COURSES.joinpath("knees.toml").read_text(encoding="utf-8")
    written = text.replace('"nettle-leaf"', '"stinging nettle"').replace('"turmeric"', '"Haldi"')
    assert written != text
    assert parse_course(written, names) == parse_course(text, names)


def test_a_name_of_two_herbs_is_asked_about() -> None:
    text = COURSES.joinpath("knees.toml").read_text(encoding="utf-8")
    written = text.replace('"nettle-leaf"', '"nettle"')
    with pytest.raises(CourseFileError, match="“nettle” is a name of nettle-leaf and nettle-root"):
        parse_course(written, herb_finder())


@pytest.mark.parametrize(
    ("before", "after", "told"),
    [
        ('id = "own-moonwort"', 'id = "moonwort"', "herb[1].id: “moonwort” may be the id of a"),
        ('tag = "peptic-ulcer"', 'tag = "warts"', "herb[1].cautions[1].tag: expected a condition"),
        ('actions = ["bitter"]', 'actions = ["sour"]', "herb[1].actions[1]: expected an action"),
        ("min = 1,", "min = 4,", "herb[1].ranges[1].min: is more than max"),
        ("max = 3, ref", 'max = 3, ratio = "1:5", ref', "a ratio is for liquids only"),
        ('name = "Moonwort"', 'call = "Moonwort"', "herb[1].call: unknown key of a herb"),
    ],
)
def test_what_does_not_fit_in_an_own_herb_is_told(before: str, after: str, told: str) -> None:
    text = (COURSES / "own-herb.toml").read_text(encoding="utf-8")
    assert before in text
    with pytest.raises(CourseFileError) as error:
        parse_course(text.replace(before, after, 1), HERBS)
    assert told in str(error.value)
