"""Clients, and the facts about them that a course is planned around."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, time
from enum import StrEnum
from fractions import Fraction
from typing import assert_never

from sennight.domain.day import ClientDay, Moment
from sennight.domain.tag_words import TagWords


class Topic(StrEnum):
    """What a client is asked about; the words of course files."""

    CONDITIONS = "conditions"
    MEDICINES = "medicines"
    ALLERGIES = "allergies"
    REACTIONS = "reactions"


class Sex(StrEnum):
    """A client's sex, for the questions and findings that it concerns."""

    FEMALE = "female"
    MALE = "male"


@dataclass(frozen=True, slots=True)
class Fact:
    """A condition, medicine or allergy, and what the program takes it for.

    `tag` is the record that the name was taken for: a medicine, a class of medicines, a
    condition, for an allergy also a herb or a class of constituents; empty where none is known.
    `name` is as it was typed, empty where the tag itself was chosen. `since` and `until` are the
    first and last day on which it holds; None leaves that side open. Of medicines: `at` are the
    times of day at which it is taken, where they are known, `dose` its dose in the words of the
    label; `classes` are those that the practitioner put in place of the record's own, None where
    nobody did; `not_for` are conditions that it is not given for, as the answer was.
    """

    tag: str
    since: date | None = None
    until: date | None = None
    at: tuple[Moment | time, ...] = ()
    name: str = ""
    dose: str = ""
    classes: tuple[str, ...] | None = None
    not_for: tuple[str, ...] = ()

    @property
    def is_known(self) -> bool:
        """Whether there is anything that the fact can be checked by."""
        return bool(self.tag or self.classes)

    def label(self, words: TagWords) -> str:
        """The fact as people read it: its name as typed, else its tag in words, and the dose."""
        name = self.name or words.label(self.tag)
        return f"{name} {self.dose}" if self.dose else name


class Harm(StrEnum):
    """How bad a reaction was."""

    MILD = "mild"
    MODERATE = "moderate"
    SEVERE = "severe"


class Outcome(StrEnum):
    """What was done about a remedy after a reaction."""

    GOES_ON = "goes on"
    LESS = "less"
    STOPPED = "stopped"


@dataclass(frozen=True, slots=True)
class Reaction:
    """What happened to a client on a day after a remedy, and the herbs that are suspected.

    `remedy` is the remedy's name as it was then. How bad it was, and what was done, are None
    where nobody wrote it down. A reaction is never forgotten; one that was written down in error
    stays on record with `void`, the reason, and `void_on`, and nothing follows from it.
    """

    day: date
    remedy: str
    herbs: tuple[str, ...]
    what: str
    harm: Harm | None = None
    outcome: Outcome | None = None
    void: str = ""
    void_on: date | None = None

    @property
    def is_void(self) -> bool:
        """Whether it was struck out."""
        return bool(self.void)


@dataclass(frozen=True, slots=True)
class Client:
    """A client as a course needs them; the folder around them is the store's.

    `asked` are the topics that the client was asked about, so that what is recorded under them
    is all that there is; of the others nothing is known.
    """

    name: str
    born: date | None = None
    zone: str | None = None
    weight_kg: Fraction | None = None
    conditions: tuple[Fact, ...] = ()
    medicines: tuple[Fact, ...] = ()
    allergies: tuple[Fact, ...] = ()
    reactions: tuple[Reaction, ...] = ()
    day: ClientDay = field(default_factory=ClientDay.at)
    asked: tuple[Topic, ...] = ()
    sex: Sex | None = None

    @property
    def standing_reactions(self) -> tuple[Reaction, ...]:
        """The reactions that were not struck out."""
        return tuple(reaction for reaction in self.reactions if not reaction.is_void)

    def facts(self, topic: Topic) -> tuple[Fact, ...]:
        """The facts under a topic; of reactions, which are no facts, none."""
        match topic:
            case Topic.CONDITIONS:
                return self.conditions
            case Topic.MEDICINES:
                return self.medicines
            case Topic.ALLERGIES:
                return self.allergies
            case Topic.REACTIONS:
                return ()
            case _:
                assert_never(topic)

    @property
    def unasked(self) -> tuple[Topic, ...]:
        """The topics under which nothing is recorded and nobody asked, which proves nothing."""
        there = {topic for topic in Topic if self.facts(topic)}
        if self.reactions:
            there.add(Topic.REACTIONS)
        return tuple(topic for topic in Topic if topic not in there and topic not in self.asked)
