"""The forms of remedies as words."""

from __future__ import annotations

from sennight.desktop.kit.translating import translate
from sennight.domain.remedies.forms import Form
from sennight.domain.tag_words import upper_first


def form_name(form: Form) -> str:
    """A form as a word."""
    return translate("Formula", upper_first(form.facts.noun))
