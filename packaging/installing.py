"""Runs pip for the set-up: no setting of this machine leads it astray, its failures are explained.

Standard library only. pip's own words tell why it failed; they are the same in every country.
"""

from __future__ import annotations

import platform
import subprocess
import sys
from pathlib import Path

FETCHING = {
    "PIP_CACHE_DIR",
    "PIP_CERT",
    "PIP_CLIENT_CERT",
    "PIP_COMPILE",  # whether modules are compiled now, or each when it is first imported
    "PIP_CONFIG_FILE",
    "PIP_DEFAULT_TIMEOUT",
    "PIP_EXTRA_INDEX_URL",
    "PIP_FIND_LINKS",
    "PIP_INDEX_URL",
    "PIP_KEYRING_PROVIDER",
    "PIP_NO_CACHE_DIR",
    "PIP_NO_INDEX",
    "PIP_PROXY",
    "PIP_TIMEOUT",
    "PIP_TRUSTED_HOST",
    "PIP_USE_DEPRECATED",  # may say how certificates are checked, as may the next
    "PIP_USE_FEATURE",
}
"""pip's variables that say where from, through what and how trusted: these are kept.

Every other would change what is installed, or where: PIP_TARGET puts the packages into another
folder and reports success.
"""

NOT_TRUSTED = """\
The package index was reached, but its certificate is not trusted. Where a proxy reads along,
tell pip of the proxy's certificate (PIP_CERT=FILE), then run this again."""

NOT_REACHED = """\
The package index cannot be reached. Is this machine online? Where the way out is a proxy, tell
pip of it (HTTPS_PROXY=ADDRESS). Then run this again."""

OTHER_FILE = """\
A file that came is not the one that is locked here: something on the way changes files, or the
index holds another one. It was not installed. Try another network, then run this again."""

DISK_FULL = "The disk is full. Make room (about 500 MB), then run this again."

NO_WHEEL = """\
The index was reached, but holds no file of a package that fits this machine and this Python:
  {machine}
There are files for Python 3.11 to 3.14, 64 bit, as its makers or the distribution build it (not
for the free-threaded build). On Linux the C library must be glibc: 2.34 or newer on x86-64
(Debian 12, Ubuntu 22.04), 2.39 or newer on ARM (Debian 13, Ubuntu 24.04). macOS must be 13 or
newer, for the tools of development newer still. If this machine is so, then the index lacks a
file: take another (PIP_INDEX_URL=ADDRESS)."""

NO_MATCH = """\
The locked packages do not fit together. `python3 packaging/lock.py` writes the locks anew."""

ASTRAY = """\
pip has put the packages somewhere else than into .venv. Among what `pip config list` prints, take
out whatever says where to install (target, prefix, root) or not to (dry-run); then run this
again."""

SIGNS = (
    (("CERTIFICATE_VERIFY_FAILED", "confirming the ssl certificate"), NOT_TRUSTED),
    (
        (
            "Retry(total=0",  # the last try of several; one that went well again means nothing
            "Max retries exceeded",
            "urllib3.exceptions.",
            "IncompleteRead",
            "incomplete-download",
        ),
        NOT_REACHED,
    ),
    (("DO NOT MATCH THE HASHES",), OTHER_FILE),
    (("No space left on device", "There is not enough space on the disk"), DISK_FULL),
    (("which is not installed.", ", but you have "), NO_MATCH),
    (("No matching distribution found", "is not a supported wheel on this platform"), NO_WHEEL),
)
"""What pip prints, and what it means. An index that was not reached holds no version either, so
that the sentence for it must come first."""


RETRIES = 3
"""How often pip tries again to reach an index. Where it does not, it does not say that the index
was not reached, and only that it holds nothing."""


class SetUpError(Exception):
    """The environment could not be made; the message says why and what to do."""


def is_astray(name: str) -> bool:
    """Whether an environment variable would lead a child's pip astray."""
    return name.upper().startswith("PIP_") and name.upper() not in FETCHING


def pip(python: Path, folder: Path, variables: dict[str, str], arguments: list[str]) -> None:
    """Run the pip of an environment in `folder`; SetUpError, explained, where it fails."""
    start = [str(python), "-m", "pip", "--disable-pip-version-check", "--no-input"]
    start.append(f"--retries={RETRIES}")
    done = run([*start, *arguments], folder, variables)
    if done.returncode:
        raise SetUpError(f"{explanation(done.stdout)}\n\nWhat pip said:\n{done.stdout.strip()}")


def run(
    command: list[str], folder: Path, variables: dict[str, str]
) -> subprocess.CompletedProcess[str]:
    """Run a command in `folder`; what it prints, on both ways, is kept and not shown."""
    return subprocess.run(
        command,
        cwd=folder,
        env=variables,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
        check=False,
    )


def explanation(output: str) -> str:
    """Why pip failed, and what to do, by what it printed."""
    for signs, meaning in SIGNS:
        if any(sign in output for sign in signs):
            return meaning.format(machine=machine_in_words())
    return "The packages could not be installed."


def machine_in_words() -> str:
    """The system, processor, C library and Python, as wheels tell them apart."""
    library, version = platform.libc_ver()
    parts = [
        f"{platform.system()} on {platform.machine()}",
        f"{library} {version}" if library else "",
        f"{platform.python_implementation()} {platform.python_version()}",
        "64 bit" if sys.maxsize > 2**32 else "32 bit",
    ]
    return ", ".join(part for part in parts if part)
