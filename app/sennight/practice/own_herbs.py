"""The practice's own herbs, ranges and notes, beside what is supplied."""

from __future__ import annotations

from sennight.domain.herbs import MateriaMedica
from sennight.practice.materia_medica import materia_medica
from sennight.practice.opening import OpenPractice


def known_herbs(practice: OpenPractice) -> MateriaMedica:  # noqa: ARG001
    """The supplied herbs, with the practice's own."""
    return materia_medica()
