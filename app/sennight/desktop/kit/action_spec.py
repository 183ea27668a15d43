"""An action of the window as data."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ActionSpec:
    """An action; the first of its keys is the one that menus and tips show."""

    id: str
    text: str
    tip: str
    keys: tuple[str, ...] = ()
