"""Protocols as files that practices share, with nothing of a client in them."""

from __future__ import annotations

from pathlib import Path

from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course
from sennight.practice.carried_herbs import herbs_of
from sennight.practice.importing import CourseFile, ImportFileError
from sennight.practice.materia_medica import herb_finder
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs
from sennight.practice.protocols import ShelfProtocol
from sennight.practice.work_folder import work_folder
from sennight.practice.writing import write_paths


def read_shared(practice: OpenPractice, path: Path) -> CourseFile:
    """The protocol in a file of herbs that the practice knows; raises ImportFileError.

    Of a course file only the protocol is read.
    """
    from sennight.publish.course_file.reader import CourseFileError, read_protocol_file

    try:
        return read_protocol_file(path, herb_finder(known_herbs(practice)))
    except CourseFileError as error:
        raise ImportFileError(path.name, tuple(map(str, error.problems))) from error


def write_protocol_file(practice: OpenPractice, shelf: ShelfProtocol, path: Path) -> Path:
    """Write a protocol with its remedies, and the practice's own herbs in them; returns where.

    Nothing of a client is in it. Raises FolderError; a file that was there is replaced whole or
    not.
    """
    from sennight.publish.course_file.writer import protocol_toml

    herbs = herbs_of(practice, as_course(shelf))
    content = protocol_toml(shelf.protocol, shelf.remedies, herbs).encode()
    (written,) = write_paths({path: content}, plans=work_folder(practice.path))
    return written


def as_course(shelf: ShelfProtocol) -> Course:
    """A protocol as the course of nobody, from a day that means nothing: to be laid out."""
    from sennight.publish.course_file.reader import ANY_MONDAY

    return Course(
        id=shelf.id,
        client=Client(""),
        remedies=shelf.remedies,
        protocol=shelf.protocol,
        start=ANY_MONDAY,
        until=None,
    )
