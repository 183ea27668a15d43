"""What TOML's reader says of a file, in words that say what to do, and where."""

from __future__ import annotations

import re

_TWICE = "a key is given twice, or a table [ ] where a list of tables [[ ]] is meant"
_OPEN_QUOTE = "a quote is not closed; expected one at the end of its line"
_OPEN_TEXT = "a text is not closed; expected a quote at its end"
_ODD_SIGN = "a character that is not allowed there; expected letters, digits and common signs"
_NO_LETTER = "a \\ with digits that stand for no letter; expected \\\\ for a single one"
_NO_KEY = (
    "a line that does not begin with a key; expected a key such as name, or a table as [client]"
)
_NO_VALUE = (
    "no value; expected text in quotes, a number, a date such as 2027-01-04, true, false, [ … ] "
    "or { … }"
)
_REST = r".*?(?= \(at)"

_WORDS = (
    ("Cannot overwrite a value", _TWICE),
    (rf"Cannot (?:declare|mutate|redefine){_REST}", _TWICE),
    (rf"Duplicate inline table key{_REST}", "a key is given twice between { and }"),
    (r"Illegal character '\\n'", _OPEN_QUOTE),
    (rf"(?:Illegal|Found invalid) character{_REST}", _ODD_SIGN),
    ("Unterminated string", _OPEN_TEXT),
    (rf"Expected [\"']{{3}}{_REST}", _OPEN_TEXT),
    (rf"Unescaped{_REST}", "a single \\ in a text; expected \\\\"),
    ("Invalid hex value|Escaped character is not a Unicode scalar value", _NO_LETTER),
    (
        "Invalid value",
        _NO_VALUE,
    ),
    ("Invalid date or datetime", "a date that does not exist; expected one such as 2027-01-04"),
    (
        "Expected newline or end of document after a statement",
        "more follows the value, or it is a date that does not exist; expected a new line",
    ),
    ("Expected '=' after a key in a key/value pair", "expected = after the key"),
    ("Invalid initial character for a key part|Invalid statement", _NO_KEY),
    (r"Expected '\]' at the end of a table declaration", "a table's [ is not closed; expected ]"),
    (r"Expected '\]\]' at the end of an array declaration", "a [[ is not closed; expected ]]"),
    ("Unclosed array", "a list is not closed, or lacks a comma; expected ] at its end"),
    ("Unclosed inline table", "a { is not closed, or lacks a comma; expected } at its end"),
)


def why_not_toml(error: Exception, *, last_line: int) -> str:
    """What TOML's own reader found; a number with thousands of figures is a plain ValueError,
    deep nesting a RecursionError.
    """
    if isinstance(error, RecursionError):
        return "it is nested too deeply"
    why = str(error)
    if why.startswith("Exceeds the limit"):
        return "a number has thousands of digits"
    for theirs, ours in _WORDS:
        match = re.match(theirs, why)
        if match:
            why = f"{ours}{why[match.end() :]}"
            break
    return why.replace("(at end of document)", f"(at the end of the file, line {last_line})")
