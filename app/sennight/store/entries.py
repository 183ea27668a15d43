"""What the practice file gives beside domain values: the same with id, version and notes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:  # so that no course is imported before one is read
    from sennight.domain.courses.clients import Client
    from sennight.domain.courses.courses import Course
    from sennight.domain.courses.protocols import Protocol
    from sennight.domain.follow_up.consultations import Consultation
    from sennight.domain.remedies.remedies import Remedy


@dataclass(frozen=True, slots=True)
class ClientEntry:
    """A client with the practice's own words about them; `contact` is free text."""

    id: str
    client: Client
    contact: str = ""
    note: str = ""
    archived: bool = False


class ClientTitle(NamedTuple):
    """What a list shows of a client."""

    id: str
    name: str
    born: date | None


class ShelfTitle(NamedTuple):
    """What a list shows of a remedy or protocol on the shelf; protocols have no form."""

    id: str
    name: str
    form: str = ""


@dataclass(frozen=True, slots=True)
class ShelfRemedy:
    """A remedy on the shelf; `version` counts from 1, `id` is the remedy's own."""

    id: str
    version: int
    remedy: Remedy
    note: str = ""


@dataclass(frozen=True, slots=True)
class ShelfProtocol:
    """A protocol on the shelf, with its remedies as they now stand there."""

    id: str
    protocol: Protocol
    remedies: tuple[Remedy, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class CourseEntry:
    """A course as last saved, with the client's current record; `version` counts from 1."""

    id: str
    client_id: str
    client_name: str
    course: Course
    created: datetime
    changed: datetime
    version: int


class CourseTitle(NamedTuple):
    """What a list shows of a course as last saved, without the course itself."""

    id: str
    client_id: str
    client_name: str
    protocol_name: str
    start: date
    until: date | None
    is_void: bool = False


class CourseVersion(NamedTuple):
    """A course as it was saved at one time, with the client's record as it stood then."""

    version: int
    when: datetime
    course: Course


@dataclass(frozen=True, slots=True)
class Publication:
    """What was given to a client once: `kind` is `reminders`, `handout` …"""

    id: str
    course_id: str
    when: datetime
    kind: str
    content: bytes


class NewPaper(NamedTuple):
    """A paper to be kept: its kind, its file's name, and its bytes."""

    kind: str
    name: str
    content: bytes


class GivenPaper(NamedTuple):
    """A paper that was given, of `size` bytes; `number` is that of the giving."""

    id: int
    number: int
    when: datetime
    course_id: str | None
    kind: str
    name: str
    size: int


@dataclass(frozen=True, slots=True)
class Draft:
    """What was typed into a form and is not saved yet.

    `kind` is the form's own word, `subject` the id of the record that it is about, empty for a
    new one. `title` names it in a list, `content` is JSON that the form alone understands.
    """

    kind: str
    subject: str
    title: str
    typed: datetime
    content: str


class ConsultationVersion(NamedTuple):
    """A consultation as it was saved at one time.

    One that is not `is_whole` does not fit the checksum that was kept with it.
    """

    when: datetime
    consultation: Consultation
    is_whole: bool


class Attachment(NamedTuple):
    """A file that belongs to a consultation, of `size` bytes; `void` says why it does not."""

    id: int
    name: str
    size: int
    when: datetime
    void: str = ""
    void_on: date | None = None


@dataclass(frozen=True, slots=True)
class ConsultationEntry:
    """A consultation with every wording it had, oldest first, and its files.

    `void` says why it was struck out, on the day `void_on`; nothing where it stands.
    """

    id: int
    client_id: str
    versions: tuple[ConsultationVersion, ...]
    attachments: tuple[Attachment, ...] = ()
    void: str = ""
    void_on: date | None = None

    @property
    def consultation(self) -> Consultation:
        """As it now reads."""
        return self.versions[-1].consultation

    @property
    def is_whole(self) -> bool:
        """Whether what it now says fits its checksum."""
        return self.versions[-1].is_whole

    @property
    def is_void(self) -> bool:
        """Whether it was struck out."""
        return bool(self.void)


class DayNoteFound(NamedTuple):
    """A note of a day that a search found: its day as `2027-03-01`, and the words around."""

    course_id: str
    client_id: str
    day: str
    words: str


class ConsultationFound(NamedTuple):
    """A consultation that a search found, and the words around what was looked for."""

    id: int
    client_id: str
    words: str
