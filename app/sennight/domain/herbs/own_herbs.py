"""A practice's own herbs and ranges, and how they join those that are supplied.

They are kept apart from what is supplied and never change it: an own herb has an id that no
supplied herb can have, an own range is a row beside the published ones, and both carry a source
of the kind `own`. Where a practice says nothing of pregnancy, breastfeeding or age, the careful
side is taken.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from sennight.domain.herbs.doses import (
    DoseRange,
    DoseRow,
    DoseUnit,
    Preparation,
    Ratio,
    Route,
    TakenAs,
)
from sennight.domain.herbs.herbs import (
    Actions,
    Caution,
    Constituent,
    Herb,
    Level,
    MateriaMedica,
    OfficialText,
    Presence,
    Stated,
)
from sennight.domain.herbs.ranges import working_range
from sennight.domain.herbs.sources import Basis, Origin, Source, SourceKind

OWN_PREFIX = "own-"
OWN_TITLE = "This practice's own"
ADULT = Fraction(18)

_PREPARED = {
    TakenAs.TEA: Preparation.INFUSION,
    TakenAs.LIQUID: Preparation.TINCTURE,
    TakenAs.JUICE: Preparation.JUICE,
    TakenAs.POWDER: Preparation.POWDER,
    TakenAs.EXTRACT: Preparation.DRY_EXTRACT,
    TakenAs.SUBSTANCE: Preparation.SUBSTANCE,
}


@dataclass(frozen=True, slots=True)
class OwnCaution:
    """What the practice holds against a herb for clients to whom a tag applies."""

    tag: str
    level: Level
    text: str = ""


@dataclass(frozen=True, slots=True)
class OwnHerb:
    """A herb that the practice entered itself; `reference` says where it has it from.

    `min_age` in years and `min_ethanol` in % v/v are None where nothing was entered. A retired
    herb is offered no more, and stays for the remedies that hold it.
    """

    id: str
    name: str
    latin: str = ""
    family: str = ""
    part: str = ""
    other_names: tuple[str, ...] = ()
    actions: tuple[str, ...] = ()
    constituents: tuple[str, ...] = ()
    cautions: tuple[OwnCaution, ...] = ()
    pregnancy: Level = Level.AVOID
    lactation: Level = Level.AVOID
    min_age: Fraction | None = None
    min_ethanol: Fraction | None = None
    remark: str = ""
    reference: str = ""
    retired: bool = False


@dataclass(frozen=True, slots=True)
class OwnRange:
    """A daily range that the practice goes by, both ends included.

    Grams a day; for liquids mL a day of a tincture of `ratio` mL to 1 g of dried herb.
    """

    herb: str
    form: TakenAs
    low: Fraction
    high: Fraction
    ratio: Fraction | None = None
    reference: str = ""

    @property
    def unit(self) -> DoseUnit:
        """What its ends are counted in."""
        liquid = self.form in (TakenAs.LIQUID, TakenAs.JUICE)
        return DoseUnit.ML if liquid else DoseUnit.G


@dataclass(frozen=True, slots=True)
class CarriedHerb:
    """An own herb with its ranges, as a course file brings it along."""

    herb: OwnHerb
    ranges: tuple[OwnRange, ...] = ()


def is_own(herb: Herb) -> bool:
    """Whether a herb is the practice's own; to be shown wherever the herb is."""
    return herb.id.startswith(OWN_PREFIX)


def own_source(reference: str = "") -> Source:
    """The source of what a practice entered itself."""
    return Source("own", OWN_TITLE, reference, "own", SourceKind.OWN, Basis.READ)


def cites_own(source: str) -> bool:
    """Whether a range's source, as it is cited, is the practice's own."""
    return OWN_TITLE in source


def with_own(
    materia_medica: MateriaMedica, herbs: Iterable[OwnHerb], ranges: Iterable[OwnRange]
) -> MateriaMedica:
    """All herbs: the supplied ones and the practice's own, with its own ranges.

    Ranges for a herb that is not held are left out, and have an effect again once it is.
    """
    ours = {own.id: as_herb(own) for own in herbs}
    by_herb: dict[str, list[OwnRange]] = {}
    for own_range in ranges:
        by_herb.setdefault(own_range.herb, []).append(own_range)
    ids = [
        herb_id for herb_id in materia_medica.herbs if herb_id in by_herb and herb_id not in ours
    ]
    known = [*(materia_medica.herbs[herb_id] for herb_id in ids), *ours.values()]
    changed = [_with_rows(herb, by_herb.get(herb.id, ())) for herb in known]
    return materia_medica.with_herbs(changed) if changed else materia_medica


def _with_rows(herb: Herb, ranges: Iterable[OwnRange]) -> Herb:
    rows = tuple(own_row(own_range) for own_range in ranges)
    sources = tuple(dict.fromkeys(row.dose_from.source for row in rows))
    return replace(herb, doses=(*rows, *herb.doses), sources=(*herb.sources, *sources))


def own_row(own_range: OwnRange) -> DoseRow:
    """An own range as a row beside the published ones."""
    origin = Origin(own_source(own_range.reference), Basis.READ)
    ratio = None
    if own_range.ratio is not None:
        ratio = Ratio((Fraction(1), Fraction(1)), (own_range.ratio, own_range.ratio))
    return DoseRow(
        id=f"{OWN_PREFIX}{own_range.form}",
        form=_PREPARED[own_range.form],
        route=Route.ORAL,
        made_from=origin,
        dose_from=origin,
        ratio=ratio,
        daily=DoseRange(own_range.low, own_range.high, own_range.unit),
        daily_basis=Basis.READ,
    )


def as_herb(own: OwnHerb) -> Herb:
    """An own herb as a record of the materia medica, the careful side taken where it is silent."""
    origin = Origin(own_source(own.reference), Basis.READ)
    silent = "nothing was entered, so caution is assumed"
    age, ethanol = own.min_age, own.min_ethanol
    return Herb(
        id=own.id,
        name=own.name,
        latin=own.latin,
        family=own.family,
        part=own.part,
        drug_name="",
        routes=(Route.ORAL,),
        systems=(),
        official=OfficialText("none", "", "", origin, Basis.READ),
        actions=Actions(own.actions, origin),
        pregnancy=Caution("pregnancy", own.pregnancy, "", origin),
        lactation=Caution("lactation", own.lactation, "", origin),
        min_age=Stated(ADULT if age is None else age, silent if age is None else "", origin),
        min_ethanol=Stated(Fraction(0) if ethanol is None else ethanol, "", origin),
        sources=(origin.source,),
        other_names=own.other_names,
        remark=own.remark,
        cautions=tuple(
            Caution(caution.tag, caution.level, caution.text, origin) for caution in own.cautions
        ),
        constituents=tuple(
            Constituent(tag, Presence.MODERATE, None, "", origin) for tag in own.constituents
        ),
    )


def published_maximum(own_range: OwnRange, supplied: Herb | None) -> Fraction | None:
    """The published daily maximum in grams that an own range goes beyond; None where it does not.

    To be said wherever the range is shown, since it stands before the published one.
    """
    if supplied is None:
        return None
    working = working_range(supplied, own_range.form, own_range.ratio)
    high = (
        own_range.high / own_range.ratio
        if own_range.form is TakenAs.LIQUID and own_range.ratio
        else own_range.high
    )
    return working.high if working and not working.is_own and high > working.high else None
