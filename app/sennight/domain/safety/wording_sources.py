"""The texts that statements rest on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import assert_never

from sennight.domain.remedies.sites import DEEP_SOURCE
from sennight.domain.safety.statements import (
    AddsUp,
    AllergicToIt,
    AllergyToWhich,
    AmountOver,
    AppliedTooOften,
    CeilingPassed,
    ChildAmount,
    DosesOverCeiling,
    EssentialOils,
    EthanolDose,
    EthanolSpokenAgainst,
    FormSpokenAgainst,
    HoldsAllergen,
    LeastAge,
    LeftOutBefore,
    LengthsPassed,
    MayBeEither,
    NoChildDose,
    NoFormRecord,
    NothingRecorded,
    NotInRecords,
    OfOneFamily,
    OnSkinWhileFeeding,
    Quote,
    SignOfDanger,
    SiteLiesDeep,
    Statement,
    SteamScalds,
    SugarTaken,
    SuspectedReaction,
    TooNear,
    WashOut,
)

STEAM_SOURCE = (
    "NHS and British Burn Association, warning of November 2025; British Journal of General "
    "Practice 2005, 55:557 (read in part)"
)


def sources(statement: Statement) -> Iterator[str]:
    """The sources of a statement, each once."""
    match statement:
        case AmountOver() | ChildAmount():
            yield statement.source
        case NoFormRecord():
            yield "The practice's materia medica"
        case SuspectedReaction():
            yield "The practice's own record of the client's reactions"
        case AllergicToIt():
            yield "The practice's own record of the client's allergies"
        case AllergyToWhich() | NotInRecords() | MayBeEither():
            yield "The practice's own record of the client"
        case DosesOverCeiling():
            yield "The protocol's own ceiling"
        case SugarTaken():
            yield "EMA, annex on excipients in labels, sucrose (not yet checked)"
        case EssentialOils() | OnSkinWhileFeeding():
            yield "Common practice"
        case SiteLiesDeep():
            yield DEEP_SOURCE
        case SteamScalds():
            yield STEAM_SOURCE
        case NothingRecorded():
            yield "The practice's materia medica"
        case LengthsPassed(_, lengths):
            yield from dict.fromkeys(str(length.origin) for length in lengths)
        case CeilingPassed(ceiling):
            yield str(ceiling.origin)
        case TooNear():
            yield from _sources_of_hours(statement)
        case Quote(origin=origin, also=also):
            yield from map(str, (origin, *also))
        case EthanolSpokenAgainst(origins=origins) | WashOut(origins=origins):
            yield from map(str, origins)
        case (
            LeftOutBefore(origin=origin)
            | HoldsAllergen(origin=origin)
            | OfOneFamily(origin=origin)
            | LeastAge(origin=origin)
            | AddsUp(origin=origin)
            | EthanolDose(origin=origin)
            | AppliedTooOften(origin=origin)
            | NoChildDose(origin=origin)
            | FormSpokenAgainst(origin=origin)
            | SignOfDanger(origin=origin)
        ):
            yield str(origin)
        case _:
            assert_never(statement)


def _sources_of_hours(near: TooNear) -> Iterator[str]:
    """Who says why, and who says for how long where that is another."""
    why = [str(origin) for origin in (near.quote.origin, *near.quote.also)]
    yield from why
    long = str(near.hours_origin or "common practice")
    if long not in why:
        yield f"hours: {long}"
