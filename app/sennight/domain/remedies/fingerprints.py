"""A short mark that tells one formula from another, whatever the two are called."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import MISSING, fields

from sennight.domain.remedies.remedies import Ingredient, Remedy, TeaMaking

LENGTH = 12
"""Hexadecimal figures of a mark: enough to tell the formulas of one practice apart."""


def formula_mark(remedy: Remedy) -> str:
    """The mark of a formula: of its form, its herbs and how it is made.

    What a formula does not say is left out, so that marks stay when formulas can say more.
    """
    herbs = sorted(_said(ingredient) for ingredient in remedy.ingredients)
    tea = [_said(remedy.tea)] if remedy.tea else []
    text = "\n".join([str(remedy.form), str(remedy.drops_per_ml), *herbs, *tea])
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:LENGTH]


def _said(part: Ingredient | TeaMaking) -> str:
    return ";".join(_set_fields(part))


def _set_fields(part: Ingredient | TeaMaking) -> Iterator[str]:
    for field in fields(part):
        value = getattr(part, field.name)
        if field.default is MISSING or value != field.default:
            yield f"{field.name}={value}"
