"""What boxes and troubles of a diary sheet are called."""

from __future__ import annotations

from collections.abc import Mapping
from typing import assert_never

from sennight.desktop.kit.translating import translate
from sennight.domain.day import clock
from sennight.domain.directions.plain_words import plain_day
from sennight.practice.sheet_pages import AdviceSays, BoxState, DoseSays, Says, ScoreSays, Trouble


def says_words(says: Says, names: Mapping[str, str], advice: tuple[str, ...]) -> str:
    """A box by its day and what a mark says; `names` are those of remedies and scores."""
    return f"{plain_day(says.day)}\n{_of(says, names, advice)}"


def _of(says: Says, names: Mapping[str, str], advice: tuple[str, ...]) -> str:
    match says:
        case DoseSays(remedy=remedy, minute=None, number=number):
            text = translate("SheetWords", "{name}, when needed: box {number}")
            return text.format(name=names.get(remedy, remedy), number=number)
        case DoseSays(remedy=remedy, minute=int(minute)):
            return f"{names.get(remedy, remedy)}, {clock(minute)}"
        case AdviceSays(number=number, minute=minute):
            return advice[number - 1] + ("" if minute is None else f", {clock(minute)}")
        case ScoreSays(measure=measure, value=value):
            return f"{names.get(measure, measure)}: {value}"
        case DoseSays():
            raise AssertionError(says)
        case _:
            assert_never(says)


def state_words(state: BoxState) -> str:
    """What a box holds."""
    match state:
        case BoxState.MARKED:
            return translate("SheetWords", "Marked")
        case BoxState.EMPTY:
            return translate("SheetWords", "Empty")
        case BoxState.UNCLEAR:
            return translate("SheetWords", "Unclear")
        case _:
            assert_never(state)


def trouble_words(trouble: Trouble) -> str:
    """Why a photo could not be read, and what to do."""
    if trouble is Trouble.OTHER_SHEET:
        return translate(
            "SheetWords",
            "the sheet is of another course, or was not given from this practice; open the "
            "course that it was given for",
        )
    return str(trouble.value)
