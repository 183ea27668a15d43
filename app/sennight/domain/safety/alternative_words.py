"""Herbs that could take the place of another, in words."""

from __future__ import annotations

from collections.abc import Sequence

from sennight.domain.directions.plain_words import listed
from sennight.domain.safety.alternatives import Alternative
from sennight.domain.safety.names import (
    Names,
)
from sennight.domain.tag_words import lower_first


def alternatives_text(proposed: Sequence[Alternative], names: Names) -> str:
    """What could be given instead and what it was checked for; empty where there is nothing."""
    if not proposed:
        return ""
    herbs = [names.herb(alternative.herb) for alternative in proposed]
    listed_herbs = listed([herbs[0], *map(lower_first, herbs[1:])])
    aims = dict.fromkeys(names.label(aim) for alternative in proposed for aim in alternative.aims)
    known = [lower_first(names.label(fact)) for fact in proposed[0].checked_for]
    against = f"for {listed(known)}" if known else "with nothing recorded about the client"
    its = "Each has its" if len(herbs) > 1 else "It has its"
    return (
        f"For the same action ({listed(list(map(lower_first, aims)))}): {listed_herbs}. Checked "
        f"{against}: nothing found, which does not mean it is safe. {its} own dose."
    )
