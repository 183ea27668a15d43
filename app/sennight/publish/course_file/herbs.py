"""Reads which herb is meant: by its id or any of its names."""

from __future__ import annotations

from sennight.domain.courses.problems import Place, nearest
from sennight.domain.herbs.naming import HerbNames
from sennight.toml_tables import Report


def herb_called(typed: str, names: HerbNames, place: Place, report: Report) -> str:
    """The id of the herb of that name; what was typed, and a problem, where it is not one herb."""
    ids = names.ids(typed)
    if len(ids) == 1:
        return ids[0]
    if len(ids) > 1:
        report.add(place, f"“{typed}” is a name of {' and '.join(ids)}; expected one of them")
    elif typed:
        near = nearest(typed, names.known)
        report.add(place, f"unknown herb “{typed}”; expected the id of a herb{near}")
    return typed
