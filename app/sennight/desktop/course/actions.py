"""What can be done on the course page, as data, and the menus made of it."""

from __future__ import annotations

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.translating import translate


def course_specs() -> tuple[ActionSpec, ...]:
    """All that has keys on the course page, for the list of keys."""
    return (
        *page_specs(),
        review_spec(),
        *decision_specs(),
        gate_spec(),
        *phase_specs(),
        *place_specs(),
    )


def found_specs() -> tuple[ActionSpec, ...]:
    """What is found by its name while a course is in front."""
    return (*decision_specs(), *page_specs(), review_spec(), gate_spec())


def page_specs() -> tuple[ActionSpec, ...]:
    """The buttons at the head of the page, the main one last."""
    return (
        ActionSpec(
            "diary",
            translate("Course", "Enter diary"),
            translate("Course", "Enter what the client took"),
            ("Ctrl+E",),
        ),
        ActionSpec(
            "scores",
            translate("Course", "Enter scores"),
            translate("Course", "Enter how the client rated pain, stiffness, sleep and the like"),
            ("Ctrl+R",),
        ),
        ActionSpec(
            "left",
            translate("Course", "Enter what is left…"),
            translate(
                "Course", "Enter how much of each remedy the client brought back or still has"
            ),
            ("Ctrl+B",),
        ),
        ActionSpec(
            "table",
            translate("Course", "Save the diary as a table…"),
            translate("Course", "A CSV file with what the client took, did, rated and said"),
            ("Alt+Shift+W",),
        ),
        ActionSpec(
            "give",
            translate("Course", "Handout and reminders…"),
            translate("Course", "Save the handout and the reminders"),
            ("Ctrl+P",),
        ),
    )


def decision_specs() -> tuple[ActionSpec, ...]:
    """The decisions on a course, and the look back on them."""
    return tuple(
        ActionSpec(name, text, text, (keys,))
        for name, text, keys in (
            ("flare", translate("Course", "Record a flare-up"), "Ctrl+Shift+F"),
            ("pause", translate("Course", "Pause"), "Ctrl+Shift+P"),
            ("advance", translate("Course", "Start a later phase early"), "Ctrl+Shift+M"),
            ("extend", translate("Course", "Lengthen or shorten a phase"), "Ctrl+Shift+L"),
            ("redirect", translate("Course", "Change a remedy’s directions"), "Ctrl+Shift+D"),
            ("stop", translate("Course", "Stop a remedy"), "Ctrl+Shift+X"),
            ("end", translate("Course", "End the course"), "Ctrl+Shift+E"),
            ("stay", translate("Course", "The course stays as it is"), "Alt+Shift+K"),
            ("join", translate("Course", "Add a remedy to a phase under way"), "Alt+Shift+J"),
            ("formula", translate("Course", "Another formula in a remedy’s place"), "Alt+Shift+F"),
            ("strike", translate("Course", "Strike out an entry made in error"), "Alt+Shift+S"),
            ("aims", translate("Course", "Wanted actions…"), "Ctrl+Shift+I"),
            ("reaction", translate("Course", "Record a reaction…"), "Ctrl+Shift+N"),
            ("flags", translate("Course", "Check for red flags…"), "Ctrl+Shift+G"),
            ("stood", translate("Course", "View the course on a past date"), "Ctrl+Shift+B"),
            ("versions", translate("Course", "Compare versions"), "Ctrl+Shift+V"),
            ("keep", translate("Course", "Save as protocol…"), "Ctrl+Shift+K"),
            ("file", translate("Course", "Save a course file…"), "Ctrl+Shift+W"),
        )
    )


def review_spec() -> ActionSpec:
    """Opens the review."""
    return ActionSpec(
        "review",
        translate("Course", "Review"),
        translate("Course", "How it goes, what was taken, and the decision"),
        ("Ctrl+D",),
    )


def review_specs() -> tuple[ActionSpec, ...]:
    """What can be decided at a review, by the keys that the decision has."""
    return tuple(
        ActionSpec(name, text, text, ())
        for name, text in (
            ("stay", translate("Course", "Stay")),
            ("advance", translate("Course", "Move on")),
            ("extend", translate("Course", "Extend")),
            ("redirect", translate("Course", "Directions")),
            ("formula", translate("Course", "Reformulate")),
            ("flare", translate("Course", "Flare-up")),
            ("pause", translate("Course", "Pause")),
            ("stop", translate("Course", "Stop")),
            ("end", translate("Course", "End")),
        )
    )


def gate_spec() -> ActionSpec:
    """The gate of the phase that runs."""
    return ActionSpec(
        "gate",
        translate("Course", "Gate…"),
        translate("Course", "Set or change what moving on waits for"),
        ("Alt+Shift+G",),
    )


def phase_specs() -> tuple[ActionSpec, ...]:
    """What can be done to the phase in hand."""
    return tuple(
        ActionSpec(
            name,
            text,
            translate("Course", "Phase: {decision}").format(decision=text.lower()),
            keys,
        )
        for name, text, keys in (
            ("line", translate("Course", "Add a line"), ()),
            ("more", translate("Course", "The line: where, how, steps…"), ("Ctrl+Shift+J",)),
            ("holds", translate("Course", "Advice and limits…"), ("Ctrl+Shift+T",)),
            ("add", translate("Course", "Add a phase"), ("Ctrl+Shift+A",)),
            ("add-rescue", translate("Course", "Add a flare-up plan"), ("Ctrl+Shift+U",)),
            ("split", translate("Course", "Split at the selected day"), ("Ctrl+Shift+S",)),
            ("rename", translate("Course", "Rename…"), ("Ctrl+Shift+R",)),
            ("copy", translate("Course", "Copy"), ("Ctrl+Shift+C",)),
            ("earlier", translate("Course", "Move earlier"), ("Alt+Shift+Left",)),
            ("later", translate("Course", "Move later"), ("Alt+Shift+Right",)),
            ("remove", translate("Course", "Remove"), ("Ctrl+Shift+Delete",)),
        )
    )


def place_specs() -> tuple[ActionSpec, ...]:
    """Keys that belong to a place of the page, for the list of keys alone."""
    return tuple(
        ActionSpec(f"key-{keys}", text, text, (keys,))
        for keys, text in (
            ("1", translate("Course", "Calendar: the whole course")),
            ("2", translate("Course", "Calendar: a month in words")),
            ("3", translate("Course", "Calendar: one day")),
            ("4", translate("Course", "Calendar: go to the lines of the phase")),
            ("T", translate("Course", "Calendar: today")),
            ("PgDown", translate("Course", "Calendar: next month; Page Up: the month before")),
            ("Ctrl+Right", translate("Course", "Timeline: move the selected edge by a day")),
            (
                "Ctrl+Shift+Right",
                translate("Course", "Timeline: move the selected edge by a week"),
            ),
            ("Return", translate("Course", "Lines: add a line; Timeline: apply the move")),
            ("Del", translate("Course", "Lines: remove the selected line")),
        )
    )
