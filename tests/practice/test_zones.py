from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
import tzdata

from sennight.practice import zones
from sennight.practice.zones import machine_zone, zone_data_notice


def test_the_environment_goes_first(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TZ", ":Asia/Kolkata")
    assert machine_zone() == "Asia/Kolkata"
    monkeypatch.setenv("TZ", "EST5EDT,M3.2.0,M11.1.0")
    assert machine_zone() is None


@pytest.mark.parametrize(
    ("target", "zone"),
    [
        ("usr/share/zoneinfo/America/St_Johns", "America/St_Johns"),
        ("var/db/timezone/zoneinfo/Europe/Paris", "Europe/Paris"),
        ("usr/share/zoneinfo/Nowhere", None),
        ("etc/localtime.real", None),
    ],
)
def test_else_what_the_machine_points_to(
    target: str, zone: str | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("TZ", raising=False)
    file = tmp_path / target
    file.parent.mkdir(parents=True)
    file.touch()
    link = tmp_path / "localtime"
    link.symlink_to(file)
    monkeypatch.setattr(zones, "_LOCALTIME", link)
    assert machine_zone() == zone


def test_zone_rules_that_are_surely_older_than_a_year_are_told() -> None:
    assert zone_data_notice(date(2027, 12, 31), "2026f") == ""
    assert zone_data_notice(date(2028, 1, 1), "2026f").startswith(
        "the time zone rules are of 2026"
    )
    assert int(tzdata.IANA_VERSION[:4]) >= 2026
