"""Where the system asks for less motion, it is heard; where it says nothing, things may move."""

from __future__ import annotations

import plistlib
from pathlib import Path

import pytest
from PySide6.QtCore import QObject
from PySide6.QtDBus import QDBusVariant

from sennight.desktop.kit.motion import allow_motion, may_move
from sennight.desktop.shell.motion_wish import MotionWish, file_asks, innermost, mac_asks


@pytest.mark.parametrize(
    ("name", "text", "asks"),
    [
        ("gtk-3.0/settings.ini", "[Settings]\ngtk-enable-animations=0\n", True),
        ("gtk-4.0/settings.ini", "[Settings]\ngtk-enable-animations = FALSE\n", True),
        ("gtk-3.0/settings.ini", "[Settings]\ngtk-enable-animations=1\n", False),
        ("kdeglobals", "[KDE]\nAnimationDurationFactor=0\n", True),
        ("kdeglobals", "[KDE]\nAnimationDurationFactor=0.5\n", False),
        ("kdeglobals", "no section\n", False),
        ("elsewhere", "", False),
    ],
)
def test_files_of_settings(tmp_path: Path, name: str, text: str, asks: bool) -> None:
    kept = tmp_path / name
    kept.parent.mkdir(exist_ok=True)
    kept.write_text(text)
    assert any(file_asks(tmp_path)) is asks


def test_settings_of_macos(tmp_path: Path) -> None:
    assert not mac_asks(tmp_path)
    kept = tmp_path / "Library" / "Preferences" / "com.apple.universalaccess.plist"
    kept.parent.mkdir(parents=True)
    kept.write_bytes(plistlib.dumps({"reduceMotion": True}))
    assert mac_asks(tmp_path)
    kept.write_bytes(b"not a list of settings")
    assert not mac_asks(tmp_path)


def test_the_portal_wraps_its_answer_once_or_twice() -> None:
    assert innermost([]) is None
    assert innermost([QDBusVariant(False)]) is False  # noqa: FBT003
    assert innermost([QDBusVariant(QDBusVariant(1))]) == 1


def test_without_a_wish_things_may_move(
    qapp: QObject, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setattr("sennight.desktop.shell.motion_wish.PORTAL_ASKS", ())
    try:
        MotionWish(qapp).read()
        assert may_move()
        (tmp_path / "kdeglobals").write_text("[KDE]\nAnimationDurationFactor=0\n")
        allow_motion(is_allowed=False)
        MotionWish(qapp).read()
        assert not may_move()
    finally:
        allow_motion(is_allowed=False)
