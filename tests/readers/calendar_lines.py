"""A calendar file as lines of text, looked into without any library."""

from __future__ import annotations

import re

Lines = list[str]


def unfolded(data: bytes) -> Lines:
    """RFC 5545 section 3.1: CRLF and one white space are taken out."""
    return re.sub(r"\r\n[ \t]", "", data.decode()).removesuffix("\r\n").split("\r\n")


def components(lines: Lines, name: str) -> list[Lines]:
    found: list[Lines] = []
    inside = False
    for text in lines:
        if text == f"BEGIN:{name}":
            inside = True
            found.append([])
        elif text == f"END:{name}":
            inside = False
        elif inside:
            found[-1].append(text)
    return found


def own(component: Lines) -> Lines:
    """A VEVENT's own lines, without its alarm's."""
    return (
        component[: component.index("BEGIN:VALARM")] if "BEGIN:VALARM" in component else component
    )


def values(component: Lines, name: str) -> list[str]:
    return [text.partition(":")[2] for text in own(component) if re.split("[:;]", text)[0] == name]


def starts(event: Lines) -> str:
    (found,) = (text for text in own(event) if text.startswith("DTSTART"))
    return found


def rule(event: Lines) -> dict[str, str]:
    found = values(event, "RRULE")
    return dict(part.split("=") for part in found[0].split(";")) if found else {}
