"""What findings are about: themes, by which they are told together, and what a client is told."""

from __future__ import annotations

from dataclasses import dataclass

from sennight.domain.safety.for_client import Place


@dataclass(frozen=True, slots=True)
class Theme:
    """What several herbs may do alike, and what follows from it.

    `may` follows the herbs' names, `does` is what the practitioner does, `client` what the client
    is told, at `place`; it is empty where there is nothing to do. `tags` are the client's facts
    that belong to it where no rule says otherwise, `adds_up` what adds up over herbs (a
    constituent, sedatives). `decided_once` where one decision holds for all herbs. Where none of
    the client's facts is one of `only_for`, it is another theme's, `otherwise`.
    """

    id: str
    may: str
    does: str
    client: str
    place: Place
    tags: tuple[str, ...]
    adds_up: tuple[str, ...] = ()
    decided_once: bool = False
    only_for: tuple[str, ...] = ()
    otherwise: str = ""
