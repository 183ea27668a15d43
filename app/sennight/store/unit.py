"""The unit of work: one transaction with a repository per aggregate."""

# A repository is imported when it is asked for, so that the window is there at once.
# ruff: noqa: PLC0415

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Engine
from sqlalchemy.orm import Session

from sennight.store.connecting import WRITES
from sennight.store.damage import course_told
from sennight.store.touched import Touched, touched
from sennight.store.translated_errors import translated_errors

if TYPE_CHECKING:
    from sennight.store.cards import CardRepository
    from sennight.store.clients import ClientRepository
    from sennight.store.consultations import ConsultationRepository
    from sennight.store.courses import CourseRepository
    from sennight.store.day_notes import DayNoteRepository
    from sennight.store.diaries import DiaryRepository
    from sennight.store.dispensary import DispensaryRepository
    from sennight.store.drafts import DraftRepository
    from sennight.store.matters import MatterRepository
    from sennight.store.own_herbs import OwnHerbRepository
    from sennight.store.papers import PaperRepository
    from sennight.store.pricing import PriceRepository
    from sennight.store.protocols import ProtocolRepository
    from sennight.store.publications import PublicationRepository
    from sennight.store.reactions import ReactionRepository
    from sennight.store.red_flags import RedFlagRepository
    from sennight.store.remedies import RemedyRepository
    from sennight.store.standings import StandingRepository


class UnitOfWork:
    """The repositories of one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    @cached_property
    def card(self) -> CardRepository:
        """The practice's card."""
        from sennight.store.cards import CardRepository

        return CardRepository(self._session)

    @cached_property
    def clients(self) -> ClientRepository:
        """The clients."""
        from sennight.store.clients import ClientRepository

        return ClientRepository(self._session)

    @cached_property
    def remedies(self) -> RemedyRepository:
        """The shelf's remedies."""
        from sennight.store.remedies import RemedyRepository

        return RemedyRepository(self._session)

    @cached_property
    def protocols(self) -> ProtocolRepository:
        """The shelf's protocols."""
        from sennight.store.protocols import ProtocolRepository

        return ProtocolRepository(self._session, self.remedies)

    @cached_property
    def courses(self) -> CourseRepository:
        """The courses."""
        from sennight.store.courses import CourseRepository

        return CourseRepository(self._session)

    @cached_property
    def day_notes(self) -> DayNoteRepository:
        """What clients said of single days of their courses."""
        from sennight.store.day_notes import DayNoteRepository

        return DayNoteRepository(self._session)

    @cached_property
    def consultations(self) -> ConsultationRepository:
        """The consultations, with their files."""
        from sennight.store.consultations import ConsultationRepository

        return ConsultationRepository(self._session)

    @cached_property
    def diaries(self) -> DiaryRepository:
        """The diaries and scores."""
        from sennight.store.diaries import DiaryRepository

        return DiaryRepository(self._session)

    @cached_property
    def dispensary(self) -> DispensaryRepository:
        """Stock, batches and what was handed over."""
        from sennight.store.dispensary import DispensaryRepository

        return DispensaryRepository(self._session)

    @cached_property
    def pricing(self) -> PriceRepository:
        """How the practice prices, and what it wants to have left."""
        from sennight.store.pricing import PriceRepository

        return PriceRepository(self._session)

    @cached_property
    def reactions(self) -> ReactionRepository:
        """The clients' reactions."""
        from sennight.store.reactions import ReactionRepository

        return ReactionRepository(self._session)

    @cached_property
    def red_flags(self) -> RedFlagRepository:
        """What was asked of red flags."""
        from sennight.store.red_flags import RedFlagRepository

        return RedFlagRepository(self._session)

    @cached_property
    def own_herbs(self) -> OwnHerbRepository:
        """What the practice entered on herbs."""
        from sennight.store.own_herbs import OwnHerbRepository

        return OwnHerbRepository(self._session)

    @cached_property
    def papers(self) -> PaperRepository:
        """The papers that were given."""
        from sennight.store.papers import PaperRepository

        return PaperRepository(self._session)

    @cached_property
    def standings(self) -> StandingRepository:
        """What follows from the courses, kept beside them."""
        from sennight.store.standings import StandingRepository

        return StandingRepository(self._session)

    @cached_property
    def matters(self) -> MatterRepository:
        """What needs attention, by day."""
        from sennight.store.matters import MatterRepository

        return MatterRepository(self._session)

    @cached_property
    def drafts(self) -> DraftRepository:
        """What was typed and not saved yet."""
        from sennight.store.drafts import DraftRepository

        return DraftRepository(self._session)

    @cached_property
    def publications(self) -> PublicationRepository:
        """What was given."""
        from sennight.store.publications import PublicationRepository

        return PublicationRepository(self._session)


@contextmanager
def unit_of_work(engine: Engine, path: Path, *, writes: bool) -> Iterator[UnitOfWork]:
    """One transaction: kept whole when the block ends, gone whole when it raises.

    A block that writes takes the write lock first, so what it reads cannot change under it. What
    follows from its records is written with them (`standings`).
    """
    with translated_errors(path), course_told(path), Session(engine) as session, session.begin():
        session.connection(execution_options=WRITES if writes else {})
        yield UnitOfWork(session)
        if touched(session) != Touched():
            from sennight.store.standings import settle

            settle(session)
