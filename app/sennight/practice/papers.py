"""Papers that are given: kept in the practice file as they are, then written.

What a client got can be opened again years later, and a second writing gives the same bytes. No
file is ever written over another: a name that is taken gets a number.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from secrets import token_hex

from sennight.domain.papers import NameParts, PaperKind, kind_words, paper_name
from sennight.practice.opening import OpenPractice
from sennight.practice.work_folder import reading_folder, work_folder
from sennight.practice.writing import FolderError, Staging, free_path, write_paths
from sennight.store.entries import GivenPaper, NewPaper
from sennight.store.private import FOLDER_MODE
from sennight.store.unit import UnitOfWork

__all__ = [
    "About",
    "GivenPaper",
    "NameParts",
    "Paper",
    "PaperKind",
    "UnwrittenError",
    "copy_to_read",
    "finish",
    "free_paths",
    "give_paper_as",
    "give_papers",
    "keep",
    "list_given",
    "next_number",
    "paper_content",
    "paper_to_read",
    "paper_words",
    "save_paper",
    "write_again",
]


@dataclass(frozen=True, slots=True)
class About:
    """Whose papers they are, for which course if for one, and what their names begin with."""

    client_id: str
    names: NameParts
    course_id: str | None = None


@dataclass(frozen=True, slots=True)
class Paper:
    """Something to be given.

    `label` stands in its file's name, in place of its kind. The name of one that is `anonymous`
    says neither client nor protocol.
    """

    kind: PaperKind
    content: bytes
    label: str = ""
    suffix: str = ".pdf"
    anonymous: bool = False

    def name(self, names: NameParts, *, day: date, number: int) -> str:
        """The name of its file, as part of the so-manieth giving of the practice."""
        parts = NameParts("") if self.anonymous else names
        label = self.label or self.kind.value
        return paper_name(parts, label, day=day, number=number, suffix=self.suffix)


class UnwrittenError(FolderError):
    """The papers are on record, as the giving of this number, but not all of them were written."""

    def __init__(self, number: int, why: str) -> None:
        self.number = number
        super().__init__(f"{why}. They are on record under Given, and can be saved from there")


@dataclass(frozen=True, slots=True)
class Kept:
    """Papers that are on record: the number of the giving, and the files by name."""

    number: int
    files: Mapping[str, bytes]


def keep(
    unit: UnitOfWork, about: About, papers: Sequence[Paper], *, now: datetime, today: date
) -> Kept:
    """Keep papers that are given together; `today` is the day in their names.

    Raises ValueError where two of them would have one name.
    """
    number = unit.papers.next_number()
    new = [
        NewPaper(
            paper.kind.value, paper.name(about.names, day=today, number=number), paper.content
        )
        for paper in papers
    ]
    files = {paper.name: paper.content for paper in new}
    if len(files) < len(new):
        raise ValueError("two papers of one giving have the same name; give each its own label")
    if new:
        unit.papers.add(about.client_id, new, course_id=about.course_id, given=now)
    return Kept(number, files)


def give_papers(
    practice: OpenPractice,
    about: About,
    papers: Sequence[Paper],
    folder: Path,
    *,
    now: datetime,
    today: date,
) -> tuple[Path, ...]:
    """Keep papers and write them into a folder, all or none.

    Raises FolderError, and then nothing was kept, or UnwrittenError; MissingRecordError.
    """
    with Staging(work_folder(practice.path)) as staging:
        with practice.file.writing() as unit:
            unit.clients.get(about.client_id)
            kept = keep(unit, about, papers, now=now, today=today)
            staging.put(free_paths(folder, kept.files))
        return finish(staging, kept.number)


def give_paper_as(
    practice: OpenPractice, about: About, paper: Paper, path: Path, *, now: datetime
) -> Path:
    """Keep a paper and write it where the practitioner said; what is there was asked about.

    Raises as `give_papers`.
    """
    with Staging(work_folder(practice.path)) as staging:
        with practice.file.writing() as unit:
            unit.clients.get(about.client_id)
            new = NewPaper(paper.kind.value, path.name, paper.content)
            number = unit.papers.add(about.client_id, [new], course_id=about.course_id, given=now)
            staging.put({path: paper.content})
        (written,) = finish(staging, number)
    return written


def record_paper(
    practice: OpenPractice, about: About, paper: Paper, *, now: datetime, today: date
) -> None:
    """Keep a paper on record that goes to a printer; raises MissingRecordError."""
    with practice.file.writing() as unit:
        unit.clients.get(about.client_id)
        keep(unit, about, [paper], now=now, today=today)


def free_paths(folder: Path, files: Mapping[str, bytes]) -> dict[Path, bytes]:
    """The files by paths in a folder that nothing else has."""
    return {free_path(folder / name, data): data for name, data in files.items()}


def finish(staging: Staging, number: int) -> tuple[Path, ...]:
    """Give files their names whose giving is on record; raises UnwrittenError."""
    try:
        return staging.finish()
    except FolderError as error:
        raise UnwrittenError(number, str(error)) from error


def next_number(practice: OpenPractice) -> int:
    """The number that the next giving will have, for a preview of names."""
    with practice.file.reading() as unit:
        return unit.papers.next_number()


def list_given(practice: OpenPractice, client_id: str) -> tuple[GivenPaper, ...]:
    """All that a client was given, the newest first; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.clients.get(client_id)
        return unit.papers.of_client(client_id)


def paper_words(paper: GivenPaper) -> str:
    """What a paper is, in words; one of a newer program by its file's name."""
    try:
        return kind_words(PaperKind(paper.kind))
    except ValueError:
        return paper.name


def paper_content(practice: OpenPractice, paper_id: int) -> bytes:
    """A paper as it was given; raises MissingRecordError, and DamagedFileError if it changed."""
    with practice.file.reading() as unit:
        return unit.papers.content(paper_id)


def write_again(practice: OpenPractice, number: int, folder: Path) -> tuple[Path, ...]:
    """Write the papers of a giving once more, the same bytes; raises FolderError as well."""
    with practice.file.reading() as unit:
        papers = unit.papers.of_giving(number)
        files = {_file_name(paper): unit.papers.content(paper.id) for paper in papers}
    return write_paths(free_paths(folder, files), plans=work_folder(practice.path))


def save_paper(practice: OpenPractice, paper_id: int, path: Path) -> Path:
    """Write a paper once more where the practitioner said; raises FolderError as well."""
    content = paper_content(practice, paper_id)
    (written,) = write_paths({path: content}, plans=work_folder(practice.path))
    return written


def paper_to_read(practice: OpenPractice, paper_id: int) -> Path:
    """A copy of a paper for another program to show, in a private folder; raises FolderError.

    It goes when the practice is closed, and after a kill when it is opened again.
    """
    with practice.file.reading() as unit:
        paper, content = unit.papers.get(paper_id), unit.papers.content(paper_id)
    return copy_to_read(practice, _file_name(paper), content)


def copy_to_read(practice: OpenPractice, name: str, content: bytes) -> Path:
    """A file of that name in a private folder, for another program to show; as above."""
    work = work_folder(practice.path)
    folder = reading_folder(practice.path) / token_hex(4)
    work.mkdir(FOLDER_MODE, exist_ok=True)
    (written,) = write_paths({folder / name: content}, plans=work)
    return written


def _file_name(paper: GivenPaper) -> str:
    """The name of its file; a practice file may come from elsewhere, so no folder is in it."""
    return Path(paper.name).name or str(paper.id)
