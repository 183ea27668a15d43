"""Where the demo's own practice file lies, by which it is known again."""

from __future__ import annotations

from pathlib import Path

FOLDER_PREFIX, FILE = "sennight-demo-", "demo.sennight"


def is_demo(path: Path) -> bool:
    """Whether a practice file is the demo, which is thrown away when it is closed."""
    return path.name == FILE and path.parent.name.startswith(FOLDER_PREFIX)
