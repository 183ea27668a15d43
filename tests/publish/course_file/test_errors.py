"""What is wrong with a course file is told with its place and what was expected."""

from __future__ import annotations

from pathlib import Path

import pytest

from sennight.publish.course_file.reader import (
    LARGEST_FILE,
    CourseFileError,
    parse_course,
    read_course_file,
)
from support.every import for_every

HERBS = ("nettle-leaf", "ginger", "turmeric", "boswellia")

GOOD = """\
version = 1
[client]
name = "Una Example"
born = 1970-05-01
zone = "Europe/London"
weight_kg = 70
conditions = ["peptic-ulcer"]
medicines = ["anticoagulant"]
allergies = ["asteraceae-allergy"]
[client.day]
breakfast = "08:00"
[[remedy]]
id = "t1"
form = "tea"
grams_per_cup = 3.0
parts = [ { herb = "nettle-leaf", parts = 2 }, { herb = "ginger", parts = 1 } ]
[[remedy]]
id = "t2"
form = "tincture"
parts = [ { herb = "turmeric", parts = 30, ratio = "1:3", ethanol = 60 } ]
[[remedy]]
id = "t3"
form = "capsule"
parts = [ { herb = "boswellia", mg = 400, as = "extract" } ]
[protocol]
name = "Knees"
aims = ["bitter"]
[[protocol.phase]]
id = "loading"
purpose = "loading"
weeks = 6
[[protocol.phase.line]]
remedy = "t1"
take = "1 cup tds"
steps = [ { after_weeks = 2, take = "1 cup bd" }, { after_weeks = 4, take = "1 cup od" } ]
[[protocol.phase.line]]
remedy = "t2"
take = "2 mL bd"
[protocol.phase.gate]
measure = "pain"
fall_percent = 30
[[protocol.phase]]
id = "maintenance"
open = true
[[protocol.phase]]
id = "rescue"
purpose = "rescue"
days = 7
[course]
start = 2027-01-04
until = 2027-12-31
[[course.revision]]
on = 2027-02-01
change = "flare"
from = 2027-02-01
to = 2027-02-07
rescue = "rescue"
[[course.revision]]
on = 2027-02-01
change = "pause"
from = 2027-03-01
to = 2027-03-07
mode = "skip"
[[course.revision]]
on = 2027-04-01
change = "stop"
remedy = "t1"
from = 2027-04-01
reason = "no longer needed"
[[course.accept]]
finding = "x"
reason = "y"
[[diary]]
date = 2027-01-04
remedy = "t1"
taken = 3
[[score]]
date = 2027-01-04
measure = "pain"
value = 7
"""

OWN = '[[measure]]\nbetter = "more"\n'

ONE_FAULT = [
    # the top of the file
    ("version = 1", "version = 2", "version: expected the number 1; found the number 2"),
    ("version = 1", "", "version: missing; expected"),
    ("version = 1", "version = true", "version: expected the number 1; found true"),
    ("[client.day]", "[clinet]", "clinet: unknown key; expected version, client"),
    ("[client.day]", "[clinet]", "did you mean “client”?"),
    # the client
    ('name = "Una Example"', "", "client.name: missing; expected text in quotes"),
    ('name = "Una Example"', 'name = "  "', "client.name: expected text in quotes"),
    ('name = "Una Example"', "name = 7", "client.name: expected text in quotes, on one line; fou"),
    ("1970-05-01", '"1970-05-01"', "client.born: expected a date such as"),
    ("1970-05-01", "1970-05-01T08:00:00", "client.born: expected a date such as 2027-01-31, from"),
    ("1970-05-01", "1970-05-01T08:00:00", "found a date with a time"),
    ("1970-05-01", "2027-01-04", "client.born: 2027-01-04 does not come before the course's star"),
    ("Europe/London", "Europe/Londen", "client.zone: no time zone “Europe/Londen”; expected an"),
    ("Europe/London", "Europe/Londen", "did you mean “Europe/London”?"),
    (
        "weight_kg = 70",
        "weight_kg = 0",
        "client.weight_kg: expected a number above 0, at most 600",
    ),
    ("weight_kg = 70", "weight_kg = true", "client.weight_kg: expected a number above 0, at"),
    ("weight_kg = 70", "weight_kg = nan", "client.weight_kg: expected a number above 0, at"),
    ("weight_kg = 70", "weight_kg = 1e400", "client.weight_kg: expected a number above 0, at"),
    ('"peptic-ulcer"', '"peptic-ulcr"', "client.conditions[1]: unknown tag “peptic-ulcr”; expec"),
    ('"peptic-ulcer"', '"peptic-ulcr"', "did you mean “peptic-ulcer”?"),
    ('"anticoagulant"', '"gout"', "client.medicines[1]: unknown tag “gout”"),
    ('"anticoagulant"', '"gout"', "it belongs to conditions"),
    ('["asteraceae-allergy"]', '"asteraceae-allergy"', "client.allergies: expected a list; fo"),
    (
        '"peptic-ulcer"',
        '{ tag = "gout", from = 2027-02-02, to = 2027-02-01 }',
        "client.conditions[1].to: 2027-02-01 comes before from, 2027-02-02",
    ),
    ('"peptic-ulcer"', "{ from = 2027-02-02 }", "client.conditions[1]: expected a name, or a tag"),
    ('"peptic-ulcer"', "3", "client.conditions[1]: expected a name in quotes, or { name"),
    ('"08:00"', '"8:00"', 'client.day.breakfast: expected a clock time in quotes, "HH:MM"'),
    ('"08:00"', "08:00:00", "client.day.breakfast: expected a clock time in quotes"),
    ('"08:00"', '"06:30"', "client.day.breakfast: breakfast at 06:30 does not come after risin"),
    ('"08:00"', '"11:00"', "client.day.breakfast: mid-morning at 10:30 does not come after"),
    ("breakfast =", "brekfast =", "client.day.brekfast: unknown key; expected rising, break"),
    # remedies
    ('id = "t3"', 'id = "t1"', "remedy[3].id: “t1” is already the id of remedy[1]; expected"),
    ('id = "t1"', "", "remedy[1].id: missing; expected text"),
    ('form = "tea"', 'form = "infusion"', "remedy[1].form: expected one of tea, tincture, glyc"),
    ("grams_per_cup = 3.0", "", "remedy[1].grams_per_cup: missing; expected a number above 0"),
    ("grams_per_cup = 3.0", 'grams_per_cup = "3"', "remedy[1].grams_per_cup: expected a number"),
    ("grams_per_cup = 3.0", "grams_per_cup = -1", "found the number -1"),
    ('form = "tincture"', 'form = "tincture"\nwater_ml = 1', "remedy[2].water_ml: unknown key of"),
    ('"ginger"', '"gingr"', "remedy[1].parts[2].herb: unknown herb “gingr”"),
    ('"ginger"', '"gingr"', "did you mean “ginger”?"),
    ("parts = 1 }", "parts = 0 }", "remedy[1].parts[2].parts: expected a number above 0"),
    (', ratio = "1:3"', "", "remedy[2].parts[1].ratio: missing; expected a ratio in quotes such"),
    ('"1:3"', '"1/3"', "remedy[2].parts[1].ratio: expected a ratio in quotes such"),
    (', ratio = "1:3"', ", ratio = 3", "remedy[2].parts[1].ratio: expected a ratio in quotes"),
    (", ethanol = 60", "", "remedy[2].parts[1].ethanol: missing; expected a number from 0 to 100"),
    (", ethanol = 60", ", ethanol = 101", "remedy[2].parts[1].ethanol: expected a number from"),
    (", mg = 400", "", "remedy[3].parts[1].mg: missing; expected a number above 0"),
    ('as = "extract"', 'as = "oil"', "remedy[3].parts[1].as: expected one of powder, extract"),
    (
        '[ { herb = "boswellia", mg = 400, as = "extract" } ]',
        "[]",
        "remedy[3].parts: expected tables, [[remedy.parts]]; found none",
    ),
    # the protocol
    ('aims = ["bitter"]', 'aims = ["bittr"]', "protocol.aims[1]: unknown action “bittr”"),
    ("weeks = 6\n", "", "protocol.phase[1]: expected exactly one of days, weeks, months, open"),
    ("weeks = 6", "weeks = 6\ndays = 2", "expected exactly one of days, weeks, months, open ="),
    ("weeks = 6", "weeks = 0", "protocol.phase[1].weeks: expected a whole number from 1 to"),
    ("weeks = 6", "weeks = 6.0", "protocol.phase[1].weeks: expected a whole number from 1 to"),
    ("weeks = 6", "weeks = true", "protocol.phase[1].weeks: expected a whole number from 1 to"),
    ("weeks = 6", "open = true", "protocol.phase[1].open: only the last phase of the sequence"),
    ("open = true", "open = false", "protocol.phase[2].open: expected true (or leave it out)"),
    ("days = 7", "open = true", "protocol.phase[3].open: a flare-up plan has a length of its own"),
    ('id = "maintenance"', 'id = "loading"', "protocol.phase[2].id: “loading” is already the i"),
    ("open = true", "open = true\nstand_in = true", "protocol.phase[2].stand_in: only a flare-"),
    ('remedy = "t2"', 'remedy = "t9"', "protocol.phase[1].line[2].remedy: no remedy “t9”; expe"),
    ('remedy = "t2"', 'remedy = "t1"', "protocol.phase[1].line[2].remedy: a second line for “t1"),
    ('take = "2 mL bd"', "", "protocol.phase[1].line[2].take: missing; expected text in quotes"),
    (
        '"2 mL bd"',
        '"2 mL bdd"',
        "protocol.phase[1].line[2].take: at “bdd”: expected",
    ),
    ('"2 mL bd"', '"2 mL bdd"', "\n    2 mL bdd\n         ^^^"),
    (
        '"2 mL bd"',
        '"2 mL qd"',
        "expected “od” or “qds”, whichever is meant\n    2 mL qd\n         ^^",
    ),
    (
        '"2 mL bd"',
        '"2 mL at 08:00,breakfast"',
        "protocol.phase[1].line[2].take: two doses of “2 mL at 08:00,breakfast” fall at 08:00",
    ),
    ('"1 cup od"', '"1 cup"', "protocol.phase[1].line[1].steps[2].take: at the end: expected"),
    (
        'take = "1 cup tds"',
        'take = "1 cup tds for 3 days, then bd"',
        "protocol.phase[1].line[1].steps: what follows is said in take already",
    ),
    (
        'take = "2 mL bd"',
        'take = "2 mL bd for 3 days, then tidy"',
        "protocol.phase[1].line[2].take: at “tidy”: expected how often",
    ),
    ("after_weeks = 2", "after_weeks = 0", "line[1].steps[1].after_weeks: expected a whole numb"),
    (
        "after_weeks = 4",
        "after_weeks = 2",
        "line[1].steps[2].after_weeks: 2 weeks does not come after",
    ),
    ("fall_percent = 30", "fall_percent = 101", "protocol.phase[1].gate.fall_percent: expected"),
    ("fall_percent = 30", "at_most = 11", "protocol.phase[1].gate.at_most: expected"),
    (
        "fall_percent = 30",
        "fall_percent = 30\nfall_points = 2",
        "protocol.phase[1].gate.fall_points: expected exactly one of fall_percent, fall_points, ",
    ),
    # the course
    ("start = 2027-01-04", "", "course.start: missing; expected a date"),
    ("until = 2027-12-31", "until = 2027-01-03", "course.until: 2027-01-03 comes before the cou"),
    ("until = 2027-12-31", "until = 2027-02-14", "course.until: the open phase “maintenance” wo"),
    ('change = "flare"', 'change = "flair"', "course.revision[1].change: no change “flair”; exp"),
    ('rescue = "rescue"', 'rescue = "resque"', "course.revision[1].rescue: no phase “resque”"),
    ('rescue = "rescue"', 'rescue = "loading"', "course.revision[1].rescue: flare decided on"),
    ("from = 2027-02-01\n", "", "course.revision[1].from: missing; expected a date"),
    ("to = 2027-03-07", "to = 2027-02-27", "course.revision[2].to: pause decided on 2027-02-01: "),
    ("from = 2027-03-01", "from = 2026-03-01", "course.revision[2].from: pause decided on 2027-"),
    ('mode = "skip"', "", "course.revision[2].mode: missing; expected one of skip, freeze"),
    ('mode = "skip"', 'mode = "slip"', "did you mean “skip”?"),
    ('mode = "skip"', 'mode = "skip"\nrescue = "rescue"', "course.revision[2].rescue: unknown k"),
    ('remedy = "t1"\nfrom', 'remedy = "t7"\nfrom', "course.revision[3].remedy: no remedy “t7”"),
    ('reason = "no longer needed"', "", "course.revision[3].reason: missing; expected text"),
    ('finding = "x"', "", "course.accept[1].finding: missing; expected text"),
    ('reason = "y"', 'reason = ""', "course.accept[1].reason: expected text in quotes; found"),
    # what the client reports
    ('remedy = "t1"\ntaken', 'remedy = "t8"\ntaken', "diary[1].remedy: no remedy “t8”; expected"),
    ("taken = 3", "taken = -1", "diary[1].taken: expected a whole number from 0 to 99; found"),
    ("taken = 3", "taken = 2.5", "diary[1].taken: expected a whole number from 0 to 99; found"),
    ("value = 7", "value = 11", "score[1].value: expected a number from 0 to 10; found the numb"),
    (
        'measure = "pain"\nvalue = 7',
        'measure = "stiffness in minutes"\nvalue = 1441',
        "score[1].value: expected a number from 0 to 1440; found the number 1441",
    ),
    ("[[score]]", OWN + 'id = "Pain"\n[[score]]', "measure[1].id: “Pain” is already in use; e"),
    ("[[score]]", OWN + "[[score]]", "measure[1].id: missing; expected"),
    (
        "[[score]]",
        f'{OWN}id = "grip"\n{OWN}id = "grip"\n[[score]]',
        "measure[2].id: a second measure with the id “grip”; expected each id once",
    ),
    (
        "[[score]]",
        OWN + 'id = "grip"\nlow = 60\nhigh = 60\n[[score]]',
        "measure[1].high: expected a number above 60, where it begins",
    ),
    (
        '[[score]]\ndate = 2027-01-04\nmeasure = "pain"\nvalue = 7',
        OWN + 'id = "grip"\nhigh = 5\n[[score]]\ndate = 2027-01-04\nmeasure = "grip"\nvalue = 7',
        "score[1].value: expected a number from 0 to 5; found the number 7",
    ),
    (
        "[[score]]",
        '[[diary]]\ndate = 2027-01-04\nremedy = "t1"\ntaken = 2\n[[score]]',
        "diary[2]: a second entry for “t1” on 2027-01-04",
    ),
    (
        "[[score]]",
        '[[score]]\ndate = 2027-01-04\nmeasure = "pain"\nvalue = 2\n[[score]]',
        "score[2]: a second score of “pain” on 2027-01-04; expected one for a day",
    ),
    (
        'change = "pause"\nfrom = 2027-03-01\nto = 2027-03-07\nmode = "skip"',
        'change = "extend"\nphase = "loading"',
        "course.revision[2]: expected exactly one of weeks and days; found neither",
    ),
    (
        'change = "pause"\nfrom = 2027-03-01\nto = 2027-03-07\nmode = "skip"',
        'change = "extend"\nphase = "loading"\nweeks = 1\ndays = 2',
        "course.revision[2]: expected exactly one of weeks and days; found both",
    ),
    (
        'change = "pause"\nfrom = 2027-03-01\nto = 2027-03-07\nmode = "skip"',
        'change = "extend"\nphase = "loading"\nweeks = 0',
        "course.revision[2].weeks: expected a whole number other than 0, up to 36500, negative",
    ),
    (
        'change = "pause"\nfrom = 2027-03-01\nto = 2027-03-07\nmode = "skip"',
        'change = "end"\nfrom = 2027-01-04',
        "course.revision[2].from: end decided on",
    ),
    # tables that are none
    ('[client.day]\nbreakfast = "08:00"', 'day = "08:00"', "client.day: expected a table, [clie"),
    ("[course]\n", "[course_]\n", "course_: unknown key; expected version, client"),
    ("[[course.accept]]", "[course.accept]", "course.accept: expected tables, [[course.accept"),
    ("[[diary]]", "[diary]", "diary: expected tables, [[diary]]; found a table"),
]


def problems(text: str) -> list[str]:
    with pytest.raises(CourseFileError) as caught:
        parse_course(text, HERBS, name="f.toml")
    return [str(problem) for problem in caught.value.problems]


def test_the_file_that_the_faults_are_put_into_is_good() -> None:
    assert parse_course(GOOD, HERBS).course.client.name == "Una Example"


@for_every(ONE_FAULT, str)
def test_a_fault_is_told_by_its_place(fault: tuple[str, str, str]) -> None:
    old, new, said = fault
    assert old in GOOD
    found = problems(GOOD.replace(old, new, 1))
    assert any(said in problem for problem in found), found


@for_every(sorted({(old, new) for old, new, _ in ONE_FAULT if "[" not in (old + new)[:2]}), str)
def test_one_fault_is_told_once_and_brings_no_others(fault: tuple[str, str]) -> None:
    old, new = fault
    assert len(problems(GOOD.replace(old, new, 1))) == 1


def test_several_faults_are_told_together_in_the_files_order() -> None:
    text = GOOD.replace("value = 7", "value = 70").replace('"2 mL bd"', '"2 mL bdd"')
    text = text.replace('"ginger"', '"gingr"').replace("born = ", "bron = ")
    text = text.replace("to = 2027-02-07", "to = 7").replace('remedy = "t2"', 'remedy = "t9"')
    assert [problem.split(": ")[0] for problem in problems(text)] == [
        "client.bron",
        "remedy[1].parts[2].herb",
        "protocol.phase[1].line[2].remedy",
        "protocol.phase[1].line[2].take",
        "course.revision[1].to",
        "score[1].value",
    ]


def test_impossible_revisions_are_told_together() -> None:
    text = GOOD.replace("to = 2027-03-07", "to = 2027-02-27")
    text = text.replace("from = 2027-04-01", "from = 2029-04-01")
    found = [problem.split(": ")[0] for problem in problems(text)]
    assert found == ["course.revision[2].to", "course.revision[3].from"]


def test_impossible_revisions_are_told_beside_faults_elsewhere() -> None:
    text = GOOD.replace("to = 2027-03-07", "to = 2027-02-27").replace('"2 mL bd"', '"2 mL bdd"')
    text = text.replace('"ginger"', '"gingr"').replace('"bitter"', '"bittr"')
    assert [problem.split(": ")[0] for problem in problems(text)] == [
        "remedy[1].parts[2].herb",
        "protocol.aims[1]",
        "protocol.phase[1].line[2].take",
        "course.revision[2].to",
    ]


def test_each_line_of_the_message_names_the_file() -> None:
    text = GOOD.replace("value = 7", "value = 70").replace("taken = 3", "taken = -1")
    with pytest.raises(CourseFileError) as caught:
        parse_course(text, HERBS, name="f.toml")
    lines = str(caught.value).splitlines()
    assert len(lines) == 2
    assert all(line.startswith("f.toml: ") for line in lines)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("version = 1\nname 3\n", "this is not TOML: "),
        ("version = 1\nname 3\n", "at line 2, column 6"),
        ('version = 1\nname = "x', "at the end of the file, line 2"),
        ("version = 1\nversion = 1\n", "at line 2"),
        ("x = " + "[" * 5000, "nested too deeply"),
        ("x = " + "9" * 5000, "this is not TOML: a number has thousands of digits"),
        ("version = 1\nversion = 1\n", "a key is given twice"),
        ('[client]\nname = "x\n', "a quote is not closed; expected one at the end of its line"),
        ('[client]\nname = "x\n', "(at line 2, column 10)"),
        ("[client]\nname = x\n", "no value; expected text in quotes"),
        ("[course]\nstart = 2027-13-01\n", "or it is a date that does not exist"),
        ('[client]\nname: "x"\n', "expected = after the key (at line 2, column 5)"),
    ],
)
def test_a_fault_of_toml_is_told_by_line_and_column(text: str, said: str) -> None:
    (problem,) = problems(text)
    assert said in problem


def test_tables_nested_deeply_are_unknown_like_any_other() -> None:
    assert "a: unknown key" in "\n".join(problems(f"[{'.'.join('a' * 8)}]"))


@pytest.mark.parametrize(
    "text",
    [
        f"a{'.a' * 200_000} = 1",
        f"a{' . a' * 100_000} = 1",
        f"[a{'.a' * 400_000}]",
        "['a'" + '."a"' * 200_000 + "]",
        "x = { a" + ".a" * 200_000 + " = 1 }",
    ],
)
def test_keys_of_thousands_of_parts_are_refused_at_once(text: str) -> None:
    """TOML's own reader needs minutes for them."""
    (problem,) = problems(GOOD + text)
    assert problem == "this is not a course file: a key in it has more than 8 parts"


def test_points_in_texts_and_remarks_are_no_parts_of_keys() -> None:
    words = "a.b.c.d.e.f.g.h.i.j.k.l"
    text = GOOD.replace('name = "Una Example"', f'name = "{words}" # {words}')
    assert parse_course(text, HERBS).course.client.name == words


def test_hundreds_of_problems_are_counted_not_told() -> None:
    many = "".join(f"key{n} = 1\n" for n in range(900))
    with pytest.raises(CourseFileError) as caught:
        parse_course(many + GOOD, HERBS, name="f.toml")
    lines = str(caught.value).splitlines()
    assert len(lines) == 101
    assert lines[-1] == "f.toml: and 800 more; correct these first"


def test_a_text_too_long_for_a_paper_is_refused_and_not_said_again() -> None:
    (problem,) = problems(GOOD.replace('name = "Una Example"', f'name = "{"x" * 5000}"'))
    assert problem == (
        "client.name: expected text in quotes, on one line, of at most 200 letters; found "
        "5,000 letters"
    )
    (problem,) = problems(GOOD.replace("[client]", f"[client]\n{'k' * 9000} = 1"))
    assert problem.startswith(f"client.{'k' * 60}…: unknown key")
    assert len(problem) < 300


def test_what_cannot_be_seen_is_told_by_its_escape() -> None:
    (problem,) = problems(GOOD.replace('name = "Una Example"', 'name = "Una\tExample"'))
    assert "found the text “Una\\tExample”" in problem


def test_an_empty_file_is_told_what_it_lacks() -> None:
    found = [problem.split(": ")[0] for problem in problems("")]
    assert found == ["version", "client", "protocol", "course"]


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"version = 1\nname = \xe9\n", "is not UTF-8 text (line 2)"),
        (GOOD.encode("utf-16"), "is not UTF-8 text (line 1)"),
        (b"#" * (LARGEST_FILE + 1), "is too large; expected at most 4,000,000 bytes"),
    ],
)
def test_a_file_that_is_no_text_is_refused(tmp_path: Path, data: bytes, said: str) -> None:
    path = tmp_path / "f.toml"
    path.write_bytes(data)
    with pytest.raises(CourseFileError, match=r"f\.toml") as caught:
        read_course_file(path, HERBS)
    assert said in str(caught.value)


def test_a_file_that_cannot_be_read_is_refused(tmp_path: Path) -> None:
    for path in (tmp_path, tmp_path / "none.toml"):
        with pytest.raises(CourseFileError, match="cannot be read"):
            read_course_file(path, HERBS)


def test_a_mark_of_byte_order_and_line_ends_of_windows_do_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "f.toml"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert read_course_file(path, HERBS) == parse_course(GOOD, HERBS)
