"""What is no TOML is told in our words, never in those of Python's reader."""

from __future__ import annotations

import re

import pytest

from sennight.publish.course_file.reader import CourseFileError, parse_course

_THEIRS = re.compile(
    r"[Cc]annot (declare|mutate|overwrite|redefine)|namespace|[Ii]nvalid|[Ii]llegal|statement|"
    r"document|scalar|escap|[Uu]nterminated|[Uu]nclosed|inline|array|declaration|hex"
)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("version 1\n", "expected = after the key (at line 1"),
        ("version = \n", "no value; expected text in quotes"),
        ("version = 1 2\n", "more follows the value"),
        ("name = 2027-13-40\n", "that does not exist"),
        ("version = 1\nversion = 2\n", "a key is given twice"),
        ("[client]\n[client]\n", "a key is given twice"),
        ("a = { b = 1, b = 2 }\n", "a key is given twice between { and }"),
        ("a = { b = 1 }\n[a.c]\n", "a key is given twice"),
        ("a = 1\na.b = 2\n", "a key is given twice"),
        ('name = "Una\nborn = 3\n', "a quote is not closed"),
        ("name = 'Una\n", "a text is not closed"),
        ("name = 'Una", "a text is not closed"),
        ('name = "Una', "a text is not closed"),
        ('name = """Una', "a text is not closed"),
        ("name = '''Una", "a text is not closed"),
        ('name = "C:\\d"\n', "a single \\ in a text"),
        ('name = "\\uzzzz"\n', "no letter"),
        ('name = "\\ud800"\n', "no letter"),
        ("name = \x01\n", "no value"),
        ("# \x01\n", "a character that is not allowed there"),
        ("= 3\n", "a line that does not begin with a key"),
        ("]\n", "a line that does not begin with a key"),
        ("[client\n", "a table's [ is not closed"),
        ("[[remedy]\n", "a [[ is not closed"),
        ("a = [1, 2\n", "a list is not closed"),
        ("a = [1 2]\n", "a list is not closed"),
        ("a = { b = 1\n", "a { is not closed"),
    ],
)
def test_each_fault_in_our_words(text: str, said: str) -> None:
    with pytest.raises(CourseFileError) as caught:
        parse_course(text, ())
    message = str(caught.value)
    assert "this is not TOML: " in message
    assert said in message
    assert not _THEIRS.search(message.split("TOML: ")[1])
    assert re.search(r"line \d+", message)
