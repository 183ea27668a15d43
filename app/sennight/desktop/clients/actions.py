"""What can be done on the clients' pages beside their buttons, as data."""

from __future__ import annotations

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.translating import translate


def list_specs() -> tuple[ActionSpec, ...]:
    """The menu of the list of clients."""
    return (
        ActionSpec(
            "bring-in",
            translate("Clients", "Import a course file…"),
            translate("Clients", "Save the protocol of a course file to Protocols"),
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
            "write",
            translate("Clients", "Write a consultation"),
            translate("Clients", "Client: write about today"),
            ("Ctrl+T",),
        ),
        ActionSpec(
            "change",
            translate("Clients", "Change client…"),
            translate("Clients", "Name, contact, time zone and the client’s day"),
        ),
        ActionSpec(
            "print",
            translate("Clients", "Record as a PDF…"),
            translate("Clients", "Client: the whole story, to print"),
        ),
        ActionSpec(
            "headings",
            translate("Clients", "Headings of consultations…"),
            translate("Clients", "The headings that consultations are written under"),
        ),
        ActionSpec(
            "flags",
            translate("Clients", "Check for red flags…"),
            translate("Clients", "Ask about signs that need a doctor"),
            ("Ctrl+Shift+G",),
        ),
        ActionSpec(
            "archive",
            translate("Clients", "Archive"),
            translate("Clients", "Take the client off the list, or restore from the archive"),
        ),
    )


def archive_words(*, archived: bool) -> str:
    """What the archive's action does to a folder that is in it, or not."""
    if archived:
        return translate("Clients", "Restore from the archive")
    return translate("Clients", "Archive")
