"""The materia medica that comes with the program."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.herbs.naming import HerbNames, names_of
from sennight.knowledge.materia_medica import read_materia_medica
from sennight.places import own_folder


@cache
def supplied_materia_medica() -> MateriaMedica:
    """The herbs that are supplied; read once."""
    return read_materia_medica(own_folder("resources") / "materia_medica")


def herb_finder(materia_medica: MateriaMedica | None = None) -> HerbNames:
    """Finds herbs, the supplied ones or those given, by any of their names."""
    return names_of((materia_medica or supplied_materia_medica()).headings)


def herb_names() -> Mapping[str, str]:
    """The supplied herbs' names by their ids, in order of the names."""
    return supplied_materia_medica().names
