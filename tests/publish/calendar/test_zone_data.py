"""Zone rules come with the program: the machine's own make no difference to a file."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from readers.calendar_lines import components, unfolded, values

EXPORT = """
import sys
from datetime import date
from readers.calendar_exports import exported
from sennight.domain.reminders.events import ReminderChoices
from support.samples import course, line, phase

plan = course(
    phase("a", "52 w", line("t1", "1 cup od"), line("t2", "2 mL at 02:30 alternate days")),
    start=date(2027, 1, 4),
)
sys.stdout.buffer.write(exported(plan, ReminderChoices(zone="America/Vancouver")))
"""


def exported_with(zone_data: Path) -> bytes:
    """The file of a new process whose operating system keeps its zone data there."""
    tests = Path(__file__).parents[2]
    path = os.pathsep.join((str(tests), str(tests.parent / "app")))
    done = subprocess.run(
        [sys.executable, "-c", EXPORT],
        env=os.environ | {"PYTHONTZPATH": str(zone_data), "PYTHONPATH": path},
        capture_output=True,
        check=False,
        timeout=60,
    )
    assert done.returncode == 0, done.stderr.decode()
    return done.stdout


def test_another_machine_s_zone_data_give_the_same_bytes(tmp_path: Path) -> None:
    strange = tmp_path / "strange" / "America"
    strange.mkdir(parents=True)
    shipped = Path(sys.prefix).glob("**/tzdata/zoneinfo/America/New_York")
    (strange / "Vancouver").write_bytes(next(shipped).read_bytes())
    data = exported_with(tmp_path)
    assert data == exported_with(strange.parent)
    # Vancouver's last change was in 2026 (IANA data 2026f), to the summer time that it keeps.
    (zone,) = components(unfolded(data), "VTIMEZONE")
    assert max(start[:4] for start in values(zone, "DTSTART")) == "2026"
