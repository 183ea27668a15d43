"""Remedies counted in words."""

from __future__ import annotations

from sennight.desktop.kit.translating import translate


def counted_remedies(number: int) -> str:
    """A number of remedies: 1 remedy, 2 remedies."""
    if number == 1:
        return translate("Remedies", "1 remedy")
    return translate("Remedies", "{n} remedies").format(n=number)
