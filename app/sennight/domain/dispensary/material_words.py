"""What a material is called: its name and what tells it from others."""

from __future__ import annotations

from collections.abc import Mapping
from typing import assert_never

from sennight.domain.amounts import rounded
from sennight.domain.dispensary.stock import Held, Material


def held_words(held: Held) -> str:
    """As what a material is held."""
    match held:
        case Held.DRIED:
            return "dried herb"
        case Held.POWDER:
            return "powder"
        case Held.EXTRACT:
            return "dry extract"
        case Held.LIQUID:
            return "tincture or other liquid"
        case Held.OTHER:
            return "something else"
        case _:
            assert_never(held)


def material_words(material: Material, names: Mapping[str, str]) -> str:
    """A material by its name and what tells it from others: `Ginger, 1:5, 45 %`."""
    ratio = material.ratio
    parts = [names.get(material.name, material.name)]
    if material.held not in (Held.OTHER, Held.LIQUID):
        parts.append(held_words(material.held))
    if material.held is Held.LIQUID and ratio:
        parts.append(f"1:{rounded(ratio, 2)}")
    if material.held is Held.EXTRACT and ratio:
        parts.append(f"{rounded(1 / ratio, 2)}:1")
    if material.ethanol is not None:
        parts.append(f"{rounded(material.ethanol, 1)} %")
    return ", ".join(parts)
