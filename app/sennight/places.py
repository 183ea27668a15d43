"""Where the program's own folders are. Nothing else may compute such a path."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def own_folder(name: str) -> Path:
    """`migrations` or `resources`: two folders up in a checkout, else beside the package.

    The checkout goes first, since an editable install leaves a stale copy beside the package.
    """
    checkout = _PACKAGE.parent.parent
    if (checkout / "pyproject.toml").is_file() and (checkout / name).is_dir():
        return checkout / name
    return _PACKAGE / name
