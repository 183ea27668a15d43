"""Writes values and tables of TOML as course files lay them out; reading gives the same values."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date
from fractions import Fraction

from sennight.domain.amounts import is_decimal, plain_number

_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}


class Raw(str):
    """Text that is TOML already."""

    __slots__ = ()


def _value(value: object) -> str:
    if isinstance(value, Raw):
        return value
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, Fraction):
        text = plain_number(value)
        return text if is_decimal(value) else quoted(text)
    if isinstance(value, (int, date)) and not isinstance(value, str):
        return str(value)
    return quoted(str(value))


def quoted(text: str) -> str:
    """Text in quotes."""

    def escaped(match: re.Match[str]) -> str:
        return _ESCAPES.get(match[0]) or f"\\u{ord(match[0]):04X}"

    return '"' + re.sub(r'[\\"\x00-\x1f\x7f]', escaped, text) + '"'


def _pairs(values: dict[str, object]) -> Iterator[str]:
    """`key = value` for each value that is not None."""
    return (f"{key} = {_value(value)}" for key, value in values.items() if value is not None)


def table(header: str, **values: object) -> str:
    """A table; keys that are words of Python end in an underscore here, not in the file."""
    named = {key.rstrip("_"): value for key, value in values.items()}
    return "\n".join([header, *_pairs(named)]) + "\n"


def inline(**values: object) -> str:
    """A table in one line."""
    named = {key.rstrip("_"): value for key, value in values.items()}
    return "{ " + ", ".join(_pairs(named)) + " }"


def value_list(entries: Iterable[str]) -> Raw | None:
    """A list, each entry on a line of its own where there are several; None for an empty one."""
    parts = tuple(entries)
    if len(parts) > 1 and any(entry.startswith("{") for entry in parts):
        return Raw("[\n" + "".join(f"    {entry},\n" for entry in parts) + "]")
    return Raw(f"[{', '.join(parts)}]") if parts else None


def raw_list(entries: Iterable[str]) -> Raw:
    """A list that is written though it is empty."""
    return Raw(f"[{', '.join(entries)}]")


def ratio_value(value: Fraction | None) -> str | None:
    """A ratio as a file has it: `1:5`, `5:1`; None for none."""
    if value is None:
        return None
    if value < 1 and is_decimal(1 / value):
        return f"{plain_number(1 / value)}:1"
    if is_decimal(value):
        return f"1:{plain_number(value)}"
    return f"{value.denominator}:{value.numerator}"


def unless(value: object, usual: object) -> object | None:
    """A value, None where it is the one that reading takes anyway."""
    return None if value == usual else value
