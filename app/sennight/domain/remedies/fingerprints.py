"""A short mark that tells one formula from another, whatever the two are called."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import MISSING, fields

from sennight.domain.remedies.remedies import Base, Ingredient, Remedy, TeaMaking

_MEASURES = ("batch_g", "spoon_g", "dropperful", "mg_in")

LENGTH = 12
"""Hexadecimal figures of a mark: enough to tell the formulas of one practice apart."""


def formula_mark(remedy: Remedy) -> str:
    """The mark of a formula: of its form, its herbs and how it is made.

    What a formula does not say is left out, so that marks stay when formulas can say more.
    """
    herbs = sorted(_said(ingredient) for ingredient in remedy.ingredients)
    made = [_said(part) for part in (remedy.tea, remedy.base) if part]
    weights = {name: getattr(remedy, name) for name in _MEASURES}
    made += [f"{name}={value}" for name, value in weights.items() if value is not None]
    text = "\n".join([str(remedy.form), str(remedy.drops_per_ml), *herbs, *made])
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:LENGTH]


def _said(part: Ingredient | TeaMaking | Base) -> str:
    return ";".join(_set_fields(part))


def _set_fields(part: Ingredient | TeaMaking | Base) -> Iterator[str]:
    for field in fields(part):
        value = getattr(part, field.name)
        if field.default is MISSING or value != field.default:
            yield f"{field.name}={value}"
