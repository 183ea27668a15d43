"""The revisions of a course file: dated changes to the course."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import assert_never

from sennight.domain.courses.courses import (
    Advance,
    End,
    Extend,
    Flare,
    Join,
    Pause,
    PauseMode,
    Redirect,
    Reformulate,
    Revision,
    Stay,
    Stop,
)
from sennight.domain.courses.problems import nearest, unknown
from sennight.domain.courses.revision_kind import RevisionKind
from sennight.publish.course_file.accepts import VOID_KEYS, read_void
from sennight.toml_tables import DAY, NAME, PROSE, Table, ValueKind, one_of

_MOST_DAYS = 36500


@dataclass(frozen=True, slots=True)
class Named:
    """The ids that a revision can refer to; None where they are not known."""

    phases: Collection[str] | None
    remedies: Collection[str] | None


def read_revisions(course: Table, named: Named) -> tuple[Revision, ...]:
    """The revisions in the file's order; those of an unknown kind are noted and left out."""
    revisions = (_revision(table, named) for table in course.tables("revision"))
    return tuple(revision for revision in revisions if revision)


def _revision(table: Table, named: Named) -> Revision | None:
    name = table.need("change", NAME)
    if name not in tuple(RevisionKind):
        if name:
            message = f"no change “{name}”; expected one of {', '.join(RevisionKind)}"
            table.report.add(
                (*table.place, "change"), message + nearest(name, tuple(RevisionKind))
            )
        return None
    change = RevisionKind(name)
    keys = ("on", "change", *_keys(change), "reason", *VOID_KEYS)
    table.only(*keys, of=f"a change of the kind {change}")
    revision = _read(change, table, named)
    return replace(revision, void=read_void(table), void_on=table.perhaps("void_on", DAY))


def _keys(change: RevisionKind) -> tuple[str, ...]:
    """A kind's own keys; every one also has on, change and reason."""
    match change:
        case RevisionKind.EXTEND:
            return ("phase", "weeks", "days")
        case RevisionKind.ADVANCE:
            return ("to", "from")
        case RevisionKind.PAUSE:
            return ("from", "to", "mode")
        case RevisionKind.FLARE:
            return ("from", "to", "rescue")
        case RevisionKind.REDIRECT:
            return ("remedy", "from", "to", "take")
        case RevisionKind.STOP:
            return ("remedy", "from")
        case RevisionKind.END:
            return ("from",)
        case RevisionKind.JOIN:
            return ("remedy", "from", "to", "take")
        case RevisionKind.REFORMULATE:
            return ("remedy", "from", "with")
        case RevisionKind.STAY:
            return ()
        case _:
            assert_never(change)


def _read(change: RevisionKind, table: Table, named: Named) -> Revision:
    match change:
        case RevisionKind.EXTEND:
            return _extend(table, named)
        case RevisionKind.ADVANCE:
            return _advance(table, named)
        case RevisionKind.PAUSE:
            return _pause(table)
        case RevisionKind.FLARE:
            return _flare(table, named)
        case RevisionKind.REDIRECT:
            return _redirect(table, named)
        case RevisionKind.STOP:
            return _stop(table, named)
        case RevisionKind.END:
            return _end(table)
        case RevisionKind.JOIN:
            return _join(table, named)
        case RevisionKind.REFORMULATE:
            return _reformulate(table, named)
        case RevisionKind.STAY:
            return Stay(on=table.need("on", DAY), reason=_reason(table))
        case _:
            assert_never(change)


def _extend(table: Table, named: Named) -> Extend:
    given = [key for key in ("weeks", "days") if key in table.data]
    by = 1
    if len(given) != 1:
        number_given = "found both" if given else "found neither"
        table.report.add(table.place, f"expected exactly one of weeks and days; {number_given}")
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


def _pause(table: Table) -> Pause:
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


def _join(table: Table, named: Named) -> Join:
    return Join(
        on=table.need("on", DAY),
        reason=_reason(table),
        remedy=_reference(table, "remedy", "remedy", named.remedies),
        first=table.need("from", DAY),
        last=table.perhaps("to", DAY),
        directions=table.directions(),
    )


def _reformulate(table: Table, named: Named) -> Reformulate:
    return Reformulate(
        on=table.need("on", DAY),
        reason=_reason(table),
        remedy=_reference(table, "remedy", "remedy", named.remedies),
        first=table.need("from", DAY),
        formula=_reference(table, "with", "remedy", named.remedies),
    )


def _stop(table: Table, named: Named) -> Stop:
    return Stop(
        on=table.need("on", DAY),
        reason=table.need("reason", PROSE),
        remedy=_reference(table, "remedy", "remedy", named.remedies),
        first=table.need("from", DAY),
    )


def _end(table: Table) -> End:
    return End(on=table.need("on", DAY), reason=_reason(table), first=table.need("from", DAY))


def _reason(table: Table) -> str:
    return table.may("reason", PROSE, "")


def _reference(table: Table, key: str, what: str, known: Collection[str] | None) -> str:
    """The id of something in the file, noted where there is no such thing."""
    name = table.need(key, NAME)
    if name and known is not None and name not in known:
        table.report.add((*table.place, key), unknown(what, name, known))
    return name
