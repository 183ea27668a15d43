"""Small herbs for tests: rows of doses as short as they can be said."""

from __future__ import annotations

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
    Herb,
    Level,
    MateriaMedica,
    OfficialText,
    Stated,
)
from sennight.domain.herbs.ranges import WorkingRange, working_range
from sennight.domain.herbs.sources import Basis, Origin, Source, SourceKind
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy


def source(kind: SourceKind = SourceKind.OFFICIAL, basis: Basis = Basis.READ) -> Source:
    return Source(f"{kind}-{basis}", f"A {kind} text", "", "final", kind, basis)


READ = Origin(source(), Basis.READ)
_NEXT = iter(range(10**9))


def ratio(text: str) -> Ratio:
    """A ratio such as 1:5 or 2-4:1."""
    herb, made = (part.split("-") for part in text.split(":"))
    return Ratio((Fraction(herb[0]), Fraction(herb[-1])), (Fraction(made[0]), Fraction(made[-1])))


def row(
    form: str,
    daily: str | None,
    *,
    per: str | None = None,
    kind: SourceKind = SourceKind.OFFICIAL,
    basis: Basis = Basis.READ,
    route: Route = Route.ORAL,
) -> DoseRow:
    """A row whose daily dose is written `low-high unit`, with `of …` behind where it counts it."""
    made = None
    if daily:
        span, unit, *of = daily.split(" ", 2)
        low, _, high = span.partition("-")
        made = DoseRange(
            Fraction(low), Fraction(high or low), DoseUnit(unit), of[0][3:] if of else ""
        )
    return DoseRow(
        id=f"p{next(_NEXT)}",
        form=Preparation(form),
        route=route,
        made_from=READ,
        dose_from=Origin(source(kind), basis),
        ratio=ratio(per) if per else None,
        daily=made,
        daily_basis=basis if made else None,
    )


def herb(herb_id: str, *rows: DoseRow, actions: tuple[str, ...] = ()) -> Herb:
    """A herb with these rows and actions, and nothing else of note."""
    return Herb(
        id=herb_id,
        name=herb_id.title(),
        latin="Herba exempli",
        family="Exemplaceae",
        part="leaf",
        drug_name="Exempli folium",
        routes=(Route.ORAL,),
        systems=(),
        official=OfficialText("none", "none", "none", READ, Basis.READ),
        actions=Actions(actions, READ),
        pregnancy=Caution("pregnancy", Level.AVOID, "No data", READ),
        lactation=Caution("lactation", Level.AVOID, "No data", READ),
        min_age=Stated(Fraction(18), "", READ),
        min_ethanol=Stated(Fraction(25), "", READ),
        sources=(READ.source,),
        doses=rows,
    )


def materia_medica_of(*herbs: Herb) -> MateriaMedica:
    return MateriaMedica().with_herbs(herbs)


BLEND = Remedy(
    "t",
    "Blend",
    Form.TINCTURE,
    (
        Ingredient("a", Fraction(60), Fraction(5), Fraction(60)),
        Ingredient("b", Fraction(40), Fraction(2), Fraction(25)),
    ),
)
"""Two tinctures: 60 % of it 1:5 in 60 % v/v, the rest 1:2 in 25 %."""


def range_in_grams(text: str) -> WorkingRange:
    """A range of so many g of dried herb a day, written `low-high`."""
    found = working_range(herb("x", row("tincture", f"{text} mL", per="1:1")), TakenAs.LIQUID)
    assert found
    return found
