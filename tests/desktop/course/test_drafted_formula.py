"""What a course is given of a formula that has changes which are not saved."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from PySide6.QtWidgets import QDialog, QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.course.drafted_formula import with_formulas_saved
from sennight.domain.courses.courses import Course
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.practice.drafts import Typed, keep_draft
from sennight.practice.formula_drafts import FIELD, formula_drafts, formula_key, formula_to_json
from sennight.practice.opening import OpenPractice
from sennight.practice.remedies import save_remedy, shelf_remedy
from support.next_dialog import in_next_dialog
from support.safety_samples import course
from support.sample_practice import TEA, Sample

STRONGER = replace(TEA, name="Joint tea, stronger")
OIL = Ingredient("thyme", filling=Filling.ESSENTIAL_OIL, drops=Fraction(3))
CREAM = Remedy("cream", "Cream", Form.CREAM, (OIL,))
"""Drops into unstated grams: not kept."""


@pytest.fixture
def practice(sample: Sample) -> OpenPractice:
    save_remedy(sample.practice, TEA)
    return sample.practice


@pytest.fixture
def asked(qtbot: QtBot, practice: OpenPractice) -> Callable[..., tuple[Course | None, list[str]]]:
    """Brings a remedy with a draft into a course; `press` is the button's first word."""
    parent = QWidget()
    qtbot.addWidget(parent)

    def ask(remedy: Remedy, draft: Remedy, press: str) -> tuple[Course | None, list[str]]:
        typed = Typed({FIELD: formula_to_json(draft, "")}, {})
        keep_draft(practice, formula_key(draft.id), typed, title=draft.name)
        seen: list[str] = []

        def act(dialog: QDialog) -> None:
            buttons = dialog.findChildren(QPushButton)
            seen.extend(label.text() for label in dialog.findChildren(QLabel))
            seen.extend(button.text() for button in buttons)
            next(found for found in buttons if found.text().startswith(press)).click()

        in_next_dialog(act)
        after = course(remedy)
        before = replace(after, remedies=())
        return with_formulas_saved(practice, before, after, parent), seen

    return ask


def test_changes_are_saved_with_it_or_left_out(
    practice: OpenPractice, asked: Callable[..., tuple[Course | None, list[str]]]
) -> None:
    given, _ = asked(TEA, STRONGER, "Give")
    assert given is not None
    assert given.remedies == (TEA,)
    assert formula_drafts(practice)
    given, seen = asked(TEA, STRONGER, "Save")
    assert given is not None
    assert given.remedies == (STRONGER,)
    assert "A course is given a saved version." in seen
    assert shelf_remedy(practice, "tea").remedy == STRONGER
    assert not formula_drafts(practice)
    assert asked(STRONGER, TEA, "Cancel")[0] is None


def test_changes_that_cannot_be_kept_are_never_given(
    asked: Callable[..., tuple[Course | None, list[str]]],
) -> None:
    given, seen = asked(TEA, replace(TEA, ingredients=()), "Give")
    assert given is not None
    assert given.remedies == (TEA,)
    assert "It has no herb yet, so nothing was saved." in seen
    assert not any(text.startswith("Save") for text in seen)
    given, seen = asked(CREAM, CREAM, "Close")
    assert given is None
    assert "Say into how many grams the drops go. Until then nothing is saved." in seen
    assert "Cream has changes that are not saved" in seen
