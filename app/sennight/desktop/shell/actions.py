"""What can be done from anywhere in the window, as data: identity, text, keys and tip.

A page adds what belongs to it alone. A test holds texts and keys apart.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QWidget

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.section import Section
from sennight.desktop.kit.translating import translate
from sennight.desktop.shell.sections import SECTIONS


def action_specs(sections: Sequence[type[Section]] = SECTIONS) -> tuple[ActionSpec, ...]:
    """All of them, in the user's language: what the sections bring, and the window's own."""
    going = (section.spec() for section in sections)
    begins = (section.new_spec() for section in sections)
    beginning = (spec for spec in begins if spec is not None)
    return (*_going(), *going, *_editing(), *beginning, *_arranging())


def _going() -> tuple[ActionSpec, ...]:
    return (
        ActionSpec(
            "back",
            translate("Actions", "Back"),
            translate("Actions", "Go back to where you were"),
            ("Alt+Left",),
        ),
        ActionSpec(
            "forward",
            translate("Actions", "Forward"),
            translate("Actions", "Go forward to where you went back from"),
            ("Alt+Right",),
        ),
        ActionSpec(
            "find",
            translate("Actions", "Find"),
            translate("Actions", "Find clients, courses, protocols, remedies and herbs by name"),
            ("Ctrl+F", "Ctrl+K"),
        ),
        ActionSpec(
            "quit",
            translate("Actions", "Quit"),
            translate("Actions", "Close the practice and quit"),
            ("Ctrl+Q",),
        ),
    )


def _editing() -> tuple[ActionSpec, ...]:
    return (
        ActionSpec(
            "undo",
            translate("Actions", "Undo"),
            translate("Actions", "Undo the last change"),
            ("Ctrl+Z",),
        ),
        ActionSpec(
            "redo",
            translate("Actions", "Redo"),
            translate("Actions", "Redo the last change"),
            ("Ctrl+Shift+Z", "Ctrl+Y"),
        ),
        ActionSpec(
            "card",
            translate("Actions", "Practice card"),
            translate("Actions", "Change the name and address printed on handouts"),
        ),
        ActionSpec(
            "practice",
            translate("Actions", "This practice"),
            translate("Actions", "See the file, its health and backups; open another"),
        ),
        ActionSpec(
            "over-clients",
            translate("Actions", "Over all clients"),
            translate("Actions", "See what became of all courses of a protocol"),
        ),
        ActionSpec(
            "unfinished",
            translate("Actions", "Unfinished work"),
            translate("Actions", "See what was typed and not saved, and continue"),
        ),
    )


def _arranging() -> tuple[ActionSpec, ...]:
    return (
        ActionSpec(
            "larger-text",
            translate("Actions", "Larger text"),
            translate("Actions", "Show everything larger"),
            ("Ctrl++", "Ctrl+="),
        ),
        ActionSpec(
            "smaller-text",
            translate("Actions", "Smaller text"),
            translate("Actions", "Show everything smaller"),
            ("Ctrl+-",),
        ),
        ActionSpec(
            "keys",
            translate("Actions", "Keys"),
            translate("Actions", "List what the keyboard can do"),
            ("F1",),
        ),
        ActionSpec(
            "changes",
            translate("Actions", "What changed"),
            translate("Actions", "Read what is new in this version"),
        ),
    )


def make_actions(
    parent: QWidget,
    doing: Mapping[str, Callable[[], object]],
    sections: Sequence[type[Section]] = SECTIONS,
) -> dict[str, QAction]:
    """The actions by id, each connected to what does it, living in `parent`."""
    actions: dict[str, QAction] = {}
    for spec in action_specs(sections):
        action = QAction(spec.text, parent)
        action.setObjectName(spec.id)
        action.setShortcuts([QKeySequence(key) for key in spec.keys])
        action.setToolTip(f"{spec.tip} ({spec.keys[0]})" if spec.keys else spec.tip)
        action.triggered.connect(doing[spec.id])
        parent.addAction(action)
        actions[spec.id] = action
    return actions
