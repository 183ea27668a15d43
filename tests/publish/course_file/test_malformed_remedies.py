"""Malformed remedies, made from form × field × fault: each is refused with its place named.

The forms, fields and bounds are those of the course file's own description.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

import pytest

from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.contents import Unknown, sugar_grams
from sennight.publish.course_file.reader import CourseFileError, parse_course
from support.every import for_every

HERBS = ("nettle-leaf", "ginger", "turmeric", "boswellia")

COURSE = """\
version = 1
[client]
name = "Una Example"
{remedy}
[protocol]
name = "Knees"
[[protocol.phase]]
id = "loading"
purpose = "loading"
weeks = 6
[[protocol.phase.line]]
remedy = "t1"
take = "1 {unit} tds"
[course]
start = 2027-01-04
"""

UNITS = {"tea": "cup", "tincture": "mL", "rub": "application", "capsule": "capsule"}
LIQUID = {"parts": "2", "ratio": '"1:5"', "ethanol": "45"}
INGREDIENT = {
    "tea": {"herb": '"nettle-leaf"', "parts": "2"},
    "tincture": {"herb": '"turmeric"', **LIQUID},
    "rub": {"herb": '"ginger"', **LIQUID},
    "capsule": {"herb": '"boswellia"', "mg": "400", "as": '"extract"', "ratio": '"5:1"'},
}
TOP = {
    "tea": {
        "grams_per_cup": "3.0",
        "water_ml": "250",
        "method": '"infusion"',
        "minutes": "10",
        "container": '"500 g"',
    },
    "tincture": {"drops_per_ml": "40"},
    "rub": {"drops_per_ml": "40"},
    "capsule": {},
}
NEEDED = {"id", "form", "parts", "grams_per_cup", "herb", "ratio", "ethanol", "mg"}
AMOUNTS = {
    "parts": 100_000,
    "mg": 100_000,
    "grams_per_cup": 1000,
    "water_ml": 5000,
    "drops_per_ml": 200,
}


@dataclass(frozen=True)
class Case:
    """A remedy with one field spoilt: the file's text, and the place that has to be named."""

    name: str
    text: str
    place: str


def text_of(form: str, top: dict[str, str], ingredient: dict[str, str]) -> str:
    fields = {"id": '"t1"', "name": '"Test"', "form": f'"{form}"', **top}
    lines = "\n".join(f"{key} = {value}" for key, value in fields.items() if value)
    part = ", ".join(f"{key} = {value}" for key, value in ingredient.items() if value)
    made = "" if top.get("parts") else f"\nparts = [ {{ {part} }} ]"
    return COURSE.format(remedy=f"[[remedy]]\n{lines}{made}", unit=UNITS[form])


def faults(field: str) -> Iterator[tuple[str, str]]:
    """The ways in which a field's value is spoilt: a name and the value; none leaves it out."""
    if field in NEEDED:
        yield "missing", ""
    yield "a date", "2027-01-04"
    yield "a list", "[1]"
    yield "true", "true"
    if field in AMOUNTS:
        yield from (("zero", "0"), ("negative", "-1"), ("a word", '"much"'), ("no end", "inf"))
        yield from (("no number", "nan"), ("too much", str(AMOUNTS[field] + 1)))
        yield from (("by nothing", '"1/0"'), ("with unit", '"2 g"'))
    elif field == "ethanol":
        yield from (("negative", "-1"), ("over 100", "100.5"), ("a word", '"strong"'))
        yield from (("no number", "nan"), ("with sign", '"45 %"'))
    elif field == "ratio":
        yield from (("one number", "5"), ("no colon", '"5"'), ("by zero", '"1:0"'))
        yield from (("of zero", '"0:5"'), ("a word", '"one to five"'), ("negative", '"1:-5"'))
        yield "two colons", '"1:5:2"'
    elif field == "minutes":
        yield from (
            ("zero", "0"),
            ("half", "2.5"),
            ("a day and more", "1441"),
            ("a word", '"ten"'),
        )
    elif field == "container":
        yield from (("of another form", '"500 mL"'), ("without unit", "500"), ("empty", '""'))
        yield from (("too small", '"0.5 g"'), ("too large", '"10001 g"'), ("a word", '"a bag"'))
    elif field in ("method", "as", "form"):
        yield from (("unknown", '"stirred"'), ("empty", '""'), ("a number", "1"))
    else:
        yield from (("empty", '""'), ("a number", "7"), ("with a line break", '"a\\nb"'))
    if field == "herb":
        yield from (("unknown", '"no-such-herb"'), ("nearly", '"nettle-leaves"'))


def cases() -> Iterator[Case]:
    for form, ingredient in INGREDIENT.items():
        for field in ingredient:
            for fault, value in faults(field):
                if (form, field, fault) == ("capsule", "ratio", "missing"):
                    continue  # an extract's ratio need not be known
                text = text_of(form, TOP[form], {**ingredient, field: value})
                yield Case(f"{form}, {field}: {fault}", text, f"remedy[1].parts[1].{field}")
        for field in TOP[form]:
            for fault, value in faults(field):
                text = text_of(form, {**TOP[form], field: value}, ingredient)
                yield Case(f"{form}, {field}: {fault}", text, f"remedy[1].{field}")
        yield from alien(form, ingredient)
        yield from heads(form, ingredient)


def alien(form: str, ingredient: dict[str, str]) -> Iterator[Case]:
    """Fields that belong to another form, or to none."""
    others = {key: value for one in INGREDIENT.values() for key, value in one.items()}
    for key in (*sorted(others.keys() - ingredient.keys()), "share"):
        text = text_of(form, TOP[form], {**ingredient, key: others.get(key, "1")})
        yield Case(f"{form}, {key}: of another form", text, f"remedy[1].parts[1].{key}")
    tops = {key: value for one in TOP.values() for key, value in one.items()}
    del tops["container"]  # every form has one
    for key in (*sorted(tops.keys() - TOP[form].keys()), "strength"):
        text = text_of(form, {**TOP[form], key: tops.get(key, "1")}, ingredient)
        yield Case(f"{form}, {key}: of another form", text, f"remedy[1].{key}")


def heads(form: str, ingredient: dict[str, str]) -> Iterator[Case]:
    """What every remedy has: its id, name and form, and its list of ingredients."""
    for key in ("id", "name", "form"):
        for fault, value in faults(key):
            text = text_of(form, {**TOP[form], key: value}, ingredient)
            yield Case(f"{form}, {key}: {fault}", text, f"remedy[1].{key}")
    for fault, value in (("empty", "[]"), ("a word", '"nettle"'), ("words", '["nettle-leaf"]')):
        text = text_of(form, {**TOP[form], "parts": value}, ingredient)
        yield Case(f"{form}, parts: {fault}", text, "remedy[1].parts")


CASES = tuple(cases())


def test_there_are_two_hundred_and_more() -> None:
    assert len({case.text for case in CASES}) >= 200


@pytest.mark.parametrize("form", INGREDIENT)
def test_the_form_that_they_are_made_from_is_right(form: str) -> None:
    found = parse_course(text_of(form, TOP[form], INGREDIENT[form]), HERBS)
    assert str(found.course.remedies[0].form) == form


@for_every(CASES, lambda case: case.name)
def test_each_is_refused_with_its_place_named(case: Case) -> None:
    with pytest.raises(CourseFileError) as raised:
        parse_course(case.text, HERBS)
    assert case.place in str(raised.value)


SYRUP = """[[remedy]]
id = "t1"
form = "syrup"
{base}
parts = [{{ herb = "ginger", parts = 20, ratio = "1:5", ethanol = 60 }}]"""


@pytest.mark.parametrize("base", ["sugar = 60", 'base = "simple syrup"'])
def test_sugar_in_no_base_is_a_mistake(base: str) -> None:
    """It would pass for a syrup without sugar, and be told to nobody with diabetes."""
    text = COURSE.format(remedy=SYRUP.format(base=base), unit="mL")
    with pytest.raises(CourseFileError) as caught:
        parse_course(text, HERBS)
    assert "remedy[1].base_parts: how much of the base is in it" in str(caught.value)
    with_base = SYRUP.format(base=f"{base}\nbase_parts = 20")
    parse_course(COURSE.format(remedy=with_base, unit="mL"), HERBS)
    without = SYRUP.format(base="sugar = 0")
    parse_course(COURSE.format(remedy=without, unit="mL"), HERBS)
    unknown = SYRUP.format(base=f"{base}\nbase_parts = 0")
    (syrup,) = parse_course(COURSE.format(remedy=unknown, unit="mL"), HERBS).course.remedies
    assert isinstance(sugar_grams(syrup, Fraction(5), Unit.ML), Unknown)
