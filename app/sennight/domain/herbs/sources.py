"""Where the facts of the materia medica come from."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Basis(StrEnum):
    """Whether a fact was seen in its source or remembered."""

    READ = "read"
    MEMORY = "memory"


class SourceKind(StrEnum):
    """What sort of text a source is; the order is the order of trust.

    `own` is no text: a practice's own figure, which stands before all of them.
    """

    OFFICIAL = "official"
    TEXTBOOK = "textbook"
    SECONDARY = "secondary"
    PRACTICE = "practice"
    OWN = "own"


@dataclass(frozen=True, slots=True)
class Source:
    """A published text; `status` says whether it is final, a draft, superseded …"""

    id: str
    title: str
    document: str
    status: str
    kind: SourceKind
    basis: Basis


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a fact comes from, and on what basis it is held."""

    source: Source
    basis: Basis

    def __str__(self) -> str:
        document = self.source.document
        name = self.source.title
        if document and document not in name:
            name = f"{name}, {document}"
        return name if self.basis is Basis.READ else f"{name} (not yet checked)"
