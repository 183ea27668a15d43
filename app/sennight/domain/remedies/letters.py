"""The letter that stands for a remedy of a course."""

from __future__ import annotations


def letter_of(index: int) -> str:
    """The letter of the remedy at a place in its course: A, B … Z, then AA, AB …"""
    high, low = divmod(index, 26)
    return (letter_of(high - 1) if high else "") + chr(ord("A") + low)
