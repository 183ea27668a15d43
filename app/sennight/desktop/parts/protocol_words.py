"""A protocol in words, for choosing one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sennight.desktop.kit.translating import translate
from sennight.domain.courses.phase_names import phase_title, plan_title
from sennight.domain.courses.phase_words import phase_remarks
from sennight.domain.courses.protocols import Line, Phase, Protocol
from sennight.domain.day import ClientDay
from sennight.domain.directions.plain_words import plain_directions, plain_from, plain_length
from sennight.domain.tag_words import upper_first
from sennight.practice.protocols import ShelfProtocol


@dataclass(frozen=True, slots=True)
class PhaseWords:
    """A phase: its name and length, and a sentence for each of its lines."""

    heading: str
    lines: tuple[str, ...]


def protocol_words(
    protocol: Protocol, names: Mapping[str, str], day: ClientDay
) -> tuple[PhaseWords, ...]:
    """The phases in order, rescue phases last; `names` has the remedies' names by id."""
    rescues = tuple(phase for phase in protocol.phases if phase.is_rescue)
    return tuple(
        PhaseWords(_heading(phase), _lines(phase, names, day))
        for phase in (*protocol.sequence, *rescues)
    )


def shelf_words(shelf: ShelfProtocol) -> tuple[PhaseWords, ...]:
    """The phases of a protocol on the shelf, said for the usual day."""
    names = {remedy.id: remedy.name for remedy in shelf.remedies}
    return protocol_words(shelf.protocol, names, ClientDay.at())


def phases_summary(protocol: Protocol) -> str:
    """Every phase with its length: `Loading 12 weeks · Maintenance · Flare-up 1 week`."""
    rescues = tuple(phase for phase in protocol.phases if phase.is_rescue)
    return " · ".join(_short(phase) for phase in (*protocol.sequence, *rescues))


def _short(phase: Phase) -> str:
    name = phase_title(phase.id)
    return name if phase.length is None else f"{name} {plain_length(phase.length)}"


def _heading(phase: Phase) -> str:
    name = phase_title(phase.id)
    if phase.length is None:
        return translate("Protocols", "{name}, to the course's last day").format(name=name)
    length = plain_length(phase.length)
    if phase.is_rescue:
        return f"{upper_first(plan_title(phase.id))}, {length}"
    return f"{name}, {length}"


def _lines(phase: Phase, names: Mapping[str, str], day: ClientDay) -> tuple[str, ...]:
    nothing = translate("Protocols", "no remedy")
    lines = tuple(_line(line, names, day) for line in phase.lines) or (nothing,)
    return (*lines, *phase_remarks(phase, names, day))


def _line(line: Line, names: Mapping[str, str], day: ClientDay) -> str:
    parts = [plain_directions(line.directions, day)]
    for step in line.steps:
        text = translate("Protocols", "{start} of it {directions}")
        parts.append(
            text.format(
                start=plain_from(step.after), directions=plain_directions(step.directions, day)
            )
        )
    return f"{names.get(line.remedy, line.remedy)}: {'; '.join(parts)}"
