"""What can be done with a remedy, as data."""

from __future__ import annotations

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.translating import translate


def remedies_specs() -> tuple[ActionSpec, ...]:
    """All that has keys on the remedies' pages, for the list of keys."""
    return (*remedy_specs(), *calculator_specs(), *_place_specs())


def remedy_specs() -> tuple[ActionSpec, ...]:
    """The buttons at the head of the editor, the main one last."""
    return (
        ActionSpec(
            "versions",
            translate("Remedies", "Versions"),
            translate("Remedies", "Earlier versions of this remedy"),
        ),
        ActionSpec(
            "copy",
            translate("Remedies", "Copy"),
            translate("Remedies", "Create another remedy with the same formula"),
        ),
        ActionSpec(
            "keep",
            translate("Remedies", "Save"),
            translate("Remedies", "Save the formula as a new version"),
            ("Ctrl+S",),
        ),
    )


def calculator_specs() -> tuple[ActionSpec, ...]:
    """The questions that a formula can be asked."""
    return tuple(
        ActionSpec(name, text, tip, (keys,))
        for name, text, tip, keys in (
            (
                "top-up",
                translate("Remedies", "Top up a herb…"),
                translate(
                    "Remedies", "The smallest amount that brings a herb to a point in its range"
                ),
                "Ctrl+Shift+1",
            ),
            (
                "balance",
                translate("Remedies", "Balance the parts…"),
                translate("Remedies", "The parts that fit what you ask, with the least change"),
                "Ctrl+Shift+2",
            ),
            (
                "scale",
                translate("Remedies", "Scale to an amount…"),
                translate("Remedies", "How much of each herb makes so much of the formula"),
                "Ctrl+Shift+3",
            ),
            (
                "strength",
                translate("Remedies", "Strength and ratio…"),
                translate("Remedies", "Mix a strength, or change a herb's ratio"),
                "Ctrl+Shift+4",
            ),
            (
                "young",
                translate("Remedies", "Doses by age and weight…"),
                translate("Remedies", "The old rules side by side; none is applied automatically"),
                "Ctrl+Shift+5",
            ),
        )
    )


def _place_specs() -> tuple[ActionSpec, ...]:
    return tuple(
        ActionSpec(f"remedy-{keys}", text, text, (keys,))
        for keys, text in (
            ("Alt+Up", translate("Remedies", "Formula: move the herb up; Alt+Down moves it down")),
        )
    )
