"""The revisions of a course file: dated changes to the course."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass

from sennight.domain.courses.courses import (
    Advance,
    End,
    Extend,
    Flare,
    Pause,
    PauseMode,
    Redirect,
    Revision,
    Stop,
)
from sennight.domain.courses.problems import nearest, unknown
from sennight.toml_tables import DAY, PROSE, TEXT, Table, ValueKind, one_of

_MOST_DAYS = 36500


@dataclass(frozen=True, slots=True)
class Named:
    """The ids that a revision can refer to; None where they are not known."""

    phases: Collection[str] | None
    remedies: Collection[str] | None


_FIELDS: dict[str, tuple[str, ...]] = {
    "extend": ("phase", "weeks", "days"),
    "advance": ("to", "from"),
    "pause": ("from", "to", "mode"),
    "flare": ("from", "to", "rescue"),
    "redirect": ("remedy", "from", "to", "take"),
    "stop": ("remedy", "from"),
    "end": ("from",),
}
"""The kinds of change and their own fields; every one also has on, change and reason."""


def read_revisions(course: Table, named: Named) -> tuple[Revision, ...]:
    """The revisions in the file's order; those of an unknown kind are noted and left out."""
    found = (_revision(table, named) for table in course.tables("revision"))
    return tuple(revision for revision in found if revision)


def _revision(table: Table, named: Named) -> Revision | None:
    change = table.need("change", TEXT)
    if change not in _FIELDS:
        if change:
            message = f"no change “{change}”; expected one of {', '.join(_FIELDS)}"
            table.report.add((*table.place, "change"), message + nearest(change, _FIELDS))
        return None
    table.only("on", "change", *_FIELDS[change], "reason", of=f"a change of the kind {change}")
    return _READERS[change](table, named)


def _extend(table: Table, named: Named) -> Extend:
    given = [key for key in ("weeks", "days") if key in table.data]
    by = 1
    if len(given) != 1:
        found = "found both" if given else "found neither"
        table.report.add(table.place, f"expected exactly one of weeks and days; {found}")
    else:
        by = table.need(given[0], _change_of_length())
    return Extend(
        on=table.need("on", DAY),
        reason=_reason(table),
        phase=_reference(table, "phase", "phase", named.phases),
        by=by,
        in_weeks=given == ["weeks"],
    )


def _change_of_length() -> ValueKind[int]:
    def read(value: object) -> int | None:
        fits = isinstance(value, int) and not isinstance(value, bool)
        return value if fits and isinstance(value, int) and 0 < abs(value) <= _MOST_DAYS else None

    words = f"a whole number other than 0, up to {_MOST_DAYS}, negative to shorten"
    return ValueKind(words, read, 1)


def _advance(table: Table, named: Named) -> Advance:
    return Advance(
        on=table.need("on", DAY),
        reason=_reason(table),
        to=_reference(table, "to", "phase", named.phases),
        first=table.need("from", DAY),
    )


def _pause(table: Table, _: Named) -> Pause:
    return Pause(
        on=table.need("on", DAY),
        reason=_reason(table),
        first=table.need("from", DAY),
        last=table.need("to", DAY),
        mode=table.need("mode", one_of(PauseMode, PauseMode.SKIP)),
    )


def _flare(table: Table, named: Named) -> Flare:
    return Flare(
        on=table.need("on", DAY),
        reason=_reason(table),
        first=table.need("from", DAY),
        last=table.perhaps("to", DAY),
        rescue=_reference(table, "rescue", "phase", named.phases),
    )


def _redirect(table: Table, named: Named) -> Redirect:
    return Redirect(
        on=table.need("on", DAY),
        reason=_reason(table),
        remedy=_reference(table, "remedy", "remedy", named.remedies),
        first=table.need("from", DAY),
        last=table.perhaps("to", DAY),
        directions=table.directions(),
    )


def _stop(table: Table, named: Named) -> Stop:
    return Stop(
        on=table.need("on", DAY),
        reason=table.need("reason", PROSE),
        remedy=_reference(table, "remedy", "remedy", named.remedies),
        first=table.need("from", DAY),
    )


def _end(table: Table, _: Named) -> End:
    return End(on=table.need("on", DAY), reason=_reason(table), first=table.need("from", DAY))


_READERS: dict[str, Callable[[Table, Named], Revision]] = {
    "extend": _extend,
    "advance": _advance,
    "pause": _pause,
    "flare": _flare,
    "redirect": _redirect,
    "stop": _stop,
    "end": _end,
}


def _reason(table: Table) -> str:
    return table.may("reason", PROSE, "")


def _reference(table: Table, key: str, what: str, known: Collection[str] | None) -> str:
    """The id of something in the file, noted where there is no such thing."""
    name = table.need(key, TEXT)
    if name and known is not None and name not in known:
        table.report.add((*table.place, key), unknown(what, name, known))
    return name
