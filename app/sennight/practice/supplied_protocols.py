"""The protocols that come with the program."""

from __future__ import annotations

from functools import cache

from sennight.places import own_folder
from sennight.practice.materia_medica import herb_finder
from sennight.store.entries import ShelfProtocol

SUPPLIED = "supplied:"
"""What the id of a supplied protocol begins with; it is on no practice's shelf."""


@cache
def supplied_protocols() -> tuple[ShelfProtocol, ...]:
    """The protocols that come with the program, by their names: starting points, to be copied."""
    from sennight.publish.course_file.reader import read_protocol_file

    found = []
    for path in (own_folder("resources") / "protocols").glob("*.toml"):
        course = read_protocol_file(path, herb_finder()).course
        found.append(ShelfProtocol(f"{SUPPLIED}{path.stem}", course.protocol, course.remedies))
    return tuple(sorted(found, key=lambda shelf: shelf.protocol.name))


def supplied_protocol(protocol_id: str) -> ShelfProtocol | None:
    """The supplied protocol of an id; None where it is none of theirs."""
    return next((shelf for shelf in supplied_protocols() if shelf.id == protocol_id), None)
