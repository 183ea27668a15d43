"""Reading values from rows: what cannot be read is told as damage, without the value."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from sennight.store.errors import UnreadableError

_NOT_WRITTEN_BY_US = (ValueError, LookupError, TypeError, AttributeError, ArithmeticError)
"""How the domain and Python refuse a value that this program would not have written."""


@contextmanager
def decoding(what: str) -> Iterator[None]:
    """Turn any failure to read a value of `what` into UnreadableError.

    The error's own words are dropped: they may hold the value, which may be a client's.
    """
    try:
        yield
    except (*_NOT_WRITTEN_BY_US, RecursionError) as error:
        raise UnreadableError(f"{what} cannot be read ({type(error).__name__})") from None
