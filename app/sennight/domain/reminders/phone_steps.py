"""How a client brings a calendar file onto a phone, in plain words: for the screen and the sheet.

What phones show is from memory, since it changes with their versions; so the words name what to
look for and not where it stands.
"""

from __future__ import annotations

from dataclasses import dataclass

from sennight.domain.tag_words import lower_first


@dataclass(frozen=True, slots=True)
class PhoneSteps:
    """A kind of phone, and what to do on it, one step a sentence."""

    phone: str
    steps: tuple[str, ...]


def old_calendar(name: str) -> str:
    """What comes before a fresh set of reminders is opened."""
    return (
        f"Remove the old calendar “{name}” from your phone first, with all its events, or you "
        "will be reminded twice."
    )


def steps_on_paper(calendar: str) -> tuple[str, ...]:
    """The steps in a few lines: what is the same on every phone is said once."""
    phones = phone_steps(calendar)
    first, last = phones[0].steps[0], phones[0].steps[-1]
    own = (f"{phone.phone}: {lower_first(' '.join(phone.steps[1:-1]))}" for phone in phones)
    return (first, *own, last)


def phone_steps(calendar: str, *, by_link: bool = False) -> tuple[PhoneSteps, ...]:
    """The steps for each kind of phone; `calendar` is what the calendar is to be called."""
    start = (
        "Point the camera at the code and tap the link that appears."
        if by_link
        else "Open the calendar file, for example from the e-mail."
    )
    check = "Look at tomorrow in the calendar: the first reminder should be there, with an alert."
    return (
        PhoneSteps(
            "iPhone",
            (
                start,
                f"Tap “Add All”; choose a new calendar if you can, and call it “{calendar}”.",
                check,
            ),
        ),
        PhoneSteps(
            "Android",
            (
                start,
                (
                    "Open the file with your calendar app. If none is offered, or only one entry "
                    "comes, tell us: some calendar apps cannot read such files."
                ),
                check,
            ),
        ),
    )
