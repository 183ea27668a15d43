"""What is said where pip fails: pip really runs and really fails, each time without a network."""

from __future__ import annotations

import hashlib
import os
import sys
import zipfile
from pathlib import Path

import pytest

import environment
import installing

NOBODY = "http://127.0.0.1:9/simple"
"""An index on a port of this machine at which nobody listens."""

METADATA = "Metadata-Version: 2.1\nName: willow\nVersion: 1.0\n"
NOT_TRUSTED = """\
Could not fetch URL https://localhost:8443/simple/willow/: There was a problem confirming the ssl
certificate: HTTPSConnectionPool(host='localhost', port=8443): Max retries exceeded with url:
/simple/willow/ (Caused by SSLError(SSLCertVerificationError(1, '[SSL: CERTIFICATE_VERIFY_FAILED]
certificate verify failed: self-signed certificate (_ssl.c:1006)'))) - skipping
ERROR: Could not find a version that satisfies the requirement willow==1.0 (from versions: none)
ERROR: No matching distribution found for willow==1.0
"""
"""What pip 22.3, 23.2.1, 24.2, 25.2 and 26.0 printed of an index with a certificate of its own."""

DRY_RUN = ["install", "--no-user", "--no-deps", "--dry-run", "--only-binary=:all:"]


@pytest.fixture
def no_settings(monkeypatch: pytest.MonkeyPatch) -> None:
    """pip as on a machine where nothing is set for it."""
    for name in [name for name in os.environ if name.startswith("PIP_")]:
        monkeypatch.delenv(name)
    monkeypatch.setenv("PIP_CONFIG_FILE", os.devnull)


def why(*arguments: str, **variables: str) -> str:
    """What set-up says where pip fails with these arguments."""
    given = environment.child_environment(**variables)
    with pytest.raises(installing.SetUpError) as raised:
        installing.pip(Path(sys.executable), environment.ROOT, given, [*DRY_RUN, *arguments])
    said, _, pip_said = str(raised.value).partition("\n\nWhat pip said:\n")
    assert pip_said
    return said


def wheel(folder: Path, tag: str) -> Path:
    """A wheel of `willow` without anything in it but what pip asks of every wheel."""
    path = folder / f"willow-1.0-{tag}.whl"
    with zipfile.ZipFile(path, "w") as held:
        held.writestr("willow-1.0.dist-info/METADATA", METADATA)
        held.writestr("willow-1.0.dist-info/WHEEL", f"Wheel-Version: 1.0\nTag: {tag}\n")
        held.writestr("willow-1.0.dist-info/RECORD", "")
    return path


@pytest.mark.usefixtures("no_settings")
def test_a_machine_without_a_network_is_told_so() -> None:
    assert why("willow==1.0", PIP_INDEX_URL=NOBODY) == installing.NOT_REACHED


def test_an_index_that_is_not_trusted_is_told_from_one_that_is_not_there() -> None:
    assert installing.explanation(NOT_TRUSTED) == installing.NOT_TRUSTED


@pytest.mark.usefixtures("no_settings")
@pytest.mark.parametrize("tag", ["py3-none-manylinux_2_99_s390x", "cp27-cp27m-win32"])
def test_a_machine_that_no_wheel_fits_is_told_so(tmp_path: Path, tag: str) -> None:
    found = wheel(tmp_path, tag)
    expected = installing.NO_WHEEL.format(machine=installing.machine_in_words())
    assert why("--no-index", "--find-links", str(tmp_path), "willow==1.0") == expected
    assert why(str(found)) == expected
    assert f"Python {sys.version_info[0]}.{sys.version_info[1]}" in expected


@pytest.mark.usefixtures("no_settings")
def test_a_file_that_is_not_the_locked_one_is_told(tmp_path: Path) -> None:
    found = wheel(tmp_path, "py3-none-any")
    lock = tmp_path / "requirements.lock"
    other = hashlib.sha256(b"another file").hexdigest()
    lock.write_text(f"willow==1.0 --hash=sha256:{other}\n", "utf-8")
    offline = ["--no-index", "--find-links", str(tmp_path), "--require-hashes"]
    assert why(*offline, "--requirement", str(lock)) == installing.OTHER_FILE
    right = hashlib.sha256(found.read_bytes()).hexdigest()
    lock.write_text(f"willow==1.0 --hash=sha256:{right}\n", "utf-8")
    given = environment.child_environment()
    python = Path(sys.executable)
    installing.pip(python, tmp_path, given, [*DRY_RUN, *offline, "--requirement", str(lock)])


@pytest.mark.parametrize(
    "said",
    [
        "python-dateutil 2.9.0.post0 requires six, which is not installed.",
        "pytest-cov 7.1.0 has requirement coverage>=7.10.6, but you have coverage 7.2.0.",
    ],
)
def test_a_lock_with_a_gap_is_told(said: str) -> None:
    assert installing.explanation(said) == installing.NO_MATCH


def test_what_pip_says_of_anything_else_is_shown() -> None:
    assert installing.explanation("ERROR: what nobody foresaw").startswith(
        "The packages could not"
    )


@pytest.mark.parametrize(
    "name", ["PIP_TARGET", "PIP_PREFIX", "PIP_USER", "PIP_NO_DEPS", "PIP_PYTHON", "pip_root"]
)
def test_what_leads_pip_astray_is_kept_from_it(monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    monkeypatch.setenv(name, "somewhere")
    assert name not in environment.child_environment()


@pytest.mark.parametrize(
    "name",
    ["PIP_INDEX_URL", "PIP_FIND_LINKS", "PIP_CERT", "HTTPS_PROXY", "SSL_CERT_FILE", "TZ"],
)
def test_index_certificate_and_proxy_are_kept(monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    monkeypatch.setenv(name, "somewhere")
    assert environment.child_environment()[name] == "somewhere"
