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
