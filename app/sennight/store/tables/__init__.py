"""All tables, one module per aggregate; each is imported with what reads it.

Those that others refer to are imported with the package, so that every reference is found.
"""

from sennight.store.tables import cards, clients, courses, drafts, papers
from sennight.store.tables.base import Base

__all__ = ["Base", "cards", "clients", "courses", "drafts", "papers"]
