"""All tables, one module per aggregate; importing this package fills the metadata."""

from sennight.store.tables import (
    cards,
    clients,
    coming,
    consultations,
    courses,
    diaries,
    dispensary,
    drafts,
    own_herbs,
    papers,
    protocols,
    publications,
    remedies,
)
from sennight.store.tables.base import Base

__all__ = [
    "Base",
    "cards",
    "clients",
    "coming",
    "consultations",
    "courses",
    "diaries",
    "dispensary",
    "drafts",
    "own_herbs",
    "papers",
    "protocols",
    "publications",
    "remedies",
]
