"""What can be done on the clients' pages beside their buttons, as data."""

from __future__ import annotations

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.translating import translate


def list_specs() -> tuple[ActionSpec, ...]:
    """The menu of the list of clients."""
    return (
        ActionSpec(
            "bring-in",
            translate("Clients", "Bring in a course file…"),
            translate("Clients", "Put a protocol from a course file onto the shelf"),
            ("Ctrl+Shift+O",),
        ),
        ActionSpec(
            "archived",
            translate("Clients", "Show the archive"),
            translate("Clients", "Clients: show those in the archive, or the others"),
            ("Ctrl+Shift+H",),
        ),
    )


def folder_specs() -> tuple[ActionSpec, ...]:
    """The menu of a client's folder; Ctrl+Shift+G asks for red flags on a course's page too."""
    return (
        ActionSpec(
            "flags",
            translate("Clients", "Check for red flags…"),
            translate("Clients", "Ask for signs that call for a doctor"),
            ("Ctrl+Shift+G",),
        ),
        ActionSpec(
            "archive",
            translate("Clients", "Put into the archive"),
            translate("Clients", "Keep the folder out of the list, or bring it back"),
        ),
    )


def archive_words(*, archived: bool) -> str:
    """What the archive's action does to a folder that is in it, or not."""
    if archived:
        return translate("Clients", "Bring back from the archive")
    return translate("Clients", "Put into the archive")
