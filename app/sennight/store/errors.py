"""What can go wrong with a practice file; each message says what to do.

No message carries anything about a client: paths and versions only.
"""

from __future__ import annotations


class PracticeFileError(Exception):
    """The practice file cannot be opened, read or saved; the message says what to do."""


class NewerFileError(PracticeFileError):
    """The file was saved by a newer version of the program."""


class DamagedFileError(PracticeFileError):
    """The file is damaged, or is no practice file."""


class DamagedCourseError(DamagedFileError):
    """One course is damaged; the others and the clients can be read."""

    def __init__(self, course_id: str, message: str) -> None:
        self.course_id = course_id
        super().__init__(message)


class UnreadableError(Exception):
    """A value in the file cannot be what this program wrote; the message says what it is of.

    It stays within the store, which says where and what to do (DamagedFileError).
    """


class UnreadableCourseError(UnreadableError):
    """The same of a course."""

    def __init__(self, course_id: str, why: str) -> None:
        self.course_id = course_id
        super().__init__(why)


class UnreadablePaperError(UnreadableError):
    """The same of a paper that was given."""


class MissingFileError(PracticeFileError):
    """There is no practice file, or an empty one, but something of an earlier one is there."""


class LostFileError(PracticeFileError):
    """The open file was moved, replaced, emptied or deleted, or its lock was."""


class FileInUseError(PracticeFileError):
    """Another window or program has the file open."""


class BackupError(PracticeFileError):
    """The backup could not be made or is not a true copy."""


class MissingRecordError(LookupError):
    """No record with that id is in the practice file."""

    def __init__(self, kind: str, record_id: str) -> None:
        self.kind, self.record_id = kind, record_id
        super().__init__(
            f"no {kind} with the id “{record_id}” is in this practice file; "
            f"expected the id of a {kind} from its list"
        )
