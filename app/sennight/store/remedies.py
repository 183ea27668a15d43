"""Remedies on the shelf: rows and values, and the repository."""

from __future__ import annotations

from datetime import datetime
from fractions import Fraction

from sqlalchemy import Select, and_, select
from sqlalchemy.orm import Session

from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Base, Ingredient, Method, Portion, Remedy, TeaMaking
from sennight.store.decoding import decoding
from sennight.store.entries import ShelfRemedy, ShelfTitle
from sennight.store.errors import MissingRecordError
from sennight.store.tables.remedies import RemedyHead, RemedyIngredient, RemedyVersion


def remedy_to_row(shelf: ShelfRemedy, *, saved: datetime) -> RemedyVersion:
    """A new version of a remedy."""
    remedy, tea, base = shelf.remedy, shelf.remedy.tea, shelf.remedy.base
    return RemedyVersion(
        remedy_id=shelf.id,
        version=shelf.version,
        saved=saved,
        name=remedy.name,
        form=str(remedy.form),
        note=shelf.note,
        drops_per_ml=remedy.drops_per_ml,
        grams_per_cup=tea.grams_per_cup if tea else None,
        water_ml=tea.water_ml if tea else None,
        method=str(tea.method) if tea else None,
        minutes=tea.minutes if tea else None,
        base=base.name if base else None,
        base_parts=base.parts if base else None,
        sugar=base.sugar if base else None,
        batch_g=remedy.batch_g,
        spoon_g=remedy.spoon_g,
        stirred_into=remedy.stirred_into or None,
        dropperful=remedy.dropperful.amount if remedy.dropperful else None,
        dropperful_unit=str(remedy.dropperful.unit) if remedy.dropperful else None,
        mg_in=remedy.mg_in.amount if remedy.mg_in else None,
        mg_in_unit=str(remedy.mg_in.unit) if remedy.mg_in else None,
        container=remedy.container.amount if remedy.container else None,
        container_unit=str(remedy.container.unit) if remedy.container else None,
        ingredients=[
            RemedyIngredient(
                place=n,
                herb=ingredient.herb,
                parts=ingredient.parts,
                ratio=ingredient.ratio,
                ethanol=ingredient.ethanol,
                mg=ingredient.mg,
                filling=None if ingredient.filling is None else str(ingredient.filling),
                percent=ingredient.percent,
                drops=ingredient.drops,
            )
            for n, ingredient in enumerate(remedy.ingredients)
        ],
    )


def remedy_from_row(row: RemedyVersion) -> ShelfRemedy:
    """The remedy that a version holds."""
    with decoding("a remedy"):
        return _remedy(row)


def _remedy(row: RemedyVersion) -> ShelfRemedy:
    ingredients = tuple(
        Ingredient(
            herb=ingredient.herb,
            parts=ingredient.parts,
            ratio=ingredient.ratio,
            ethanol=ingredient.ethanol,
            mg=ingredient.mg,
            filling=None if ingredient.filling is None else Filling(ingredient.filling),
            percent=ingredient.percent,
            drops=ingredient.drops,
        )
        for ingredient in row.ingredients
    )
    remedy = Remedy(
        id=row.remedy_id,
        name=row.name,
        form=Form.named(row.form),
        ingredients=ingredients,
        tea=_tea(row),
        drops_per_ml=row.drops_per_ml,
        base=_base(row),
        batch_g=row.batch_g,
        spoon_g=row.spoon_g,
        stirred_into=row.stirred_into or "",
        dropperful=_measure(row.dropperful, row.dropperful_unit),
        mg_in=_measure(row.mg_in, row.mg_in_unit),
        container=_measure(row.container, row.container_unit),
    )
    return ShelfRemedy(row.remedy_id, row.version, remedy, row.note)


def _tea(row: RemedyVersion) -> TeaMaking | None:
    if (
        row.grams_per_cup is None
        or row.water_ml is None
        or row.method is None
        or row.minutes is None
    ):
        return None
    return TeaMaking(row.grams_per_cup, row.water_ml, Method(row.method), row.minutes)


def _base(row: RemedyVersion) -> Base | None:
    if row.base is None or row.base_parts is None or row.sugar is None:
        return None
    return Base(row.base, row.base_parts, row.sugar)


def _measure(amount: Fraction | None, unit: str | None) -> Portion | None:
    return None if amount is None or unit is None else Portion(amount, Unit(unit))


def _current() -> Select[RemedyVersion]:
    return select(RemedyVersion).join(
        RemedyHead,
        and_(
            RemedyHead.id == RemedyVersion.remedy_id,
            RemedyHead.version == RemedyVersion.version,
        ),
    )


class RemedyRepository:
    """The shelf's remedies in one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def get(self, remedy_id: str) -> ShelfRemedy:
        """One remedy's current version; raises MissingRecordError."""
        shelf = self.find(remedy_id)
        if shelf is None:
            raise MissingRecordError("remedy", remedy_id)
        return shelf

    def find(self, remedy_id: str) -> ShelfRemedy | None:
        """One remedy's current version, None where the shelf has none of that id."""
        query = _current().where(RemedyHead.id == remedy_id)
        row = self._session.scalars(query).one_or_none()
        return None if row is None else remedy_from_row(row)

    def all(self) -> tuple[ShelfRemedy, ...]:
        """The current version of every remedy, by name."""
        remedies = [remedy_from_row(row) for row in self._session.scalars(_current())]
        return tuple(sorted(remedies, key=lambda s: (s.remedy.name.casefold(), s.id)))

    def titles(self) -> tuple[ShelfTitle, ...]:
        """The names of the remedies, in the order of `all`, without their formulas."""
        query = _current().with_only_columns(
            RemedyVersion.remedy_id, RemedyVersion.name, RemedyVersion.form
        )
        titles = (ShelfTitle(*row) for row in self._session.execute(query))
        return tuple(sorted(titles, key=lambda title: (title.name.casefold(), title.id)))

    def versions(self, remedy_id: str) -> tuple[ShelfRemedy, ...]:
        """Every version of a remedy, oldest first."""
        return tuple(shelf for _, shelf in self.saves(remedy_id))

    def saves(self, remedy_id: str) -> tuple[tuple[datetime, ShelfRemedy], ...]:
        """The same, each with the time when it was saved."""
        query = (
            select(RemedyVersion)
            .where(RemedyVersion.remedy_id == remedy_id)
            .order_by(RemedyVersion.version)
        )
        return tuple((row.saved, remedy_from_row(row)) for row in self._session.scalars(query))

    def save(self, remedy: Remedy, *, note: str | None, saved: datetime) -> ShelfRemedy:
        """Keep a remedy as a new version; one that says nothing new adds none.

        A note of None keeps the one that it has.
        """
        before = self.find(remedy.id)
        if note is None:
            note = before.note if before else ""
        shelf = ShelfRemedy(remedy.id, before.version + 1 if before else 1, remedy, note)
        if before and (before.remedy, before.note) == (remedy, note):
            return before
        self._session.merge(RemedyHead(id=shelf.id, version=shelf.version))
        self._session.flush()
        self._session.add(remedy_to_row(shelf, saved=saved))
        self._session.flush()
        return shelf
