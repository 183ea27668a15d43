"""How a practice file is, in words: sizes, times, and the rows of “This practice”."""

from __future__ import annotations

from datetime import datetime, timedelta

from sennight.desktop.kit.translating import translate
from sennight.domain.directions.plain_words import counted, plain_date
from sennight.practice.upkeep import BackupsHeld, PracticeHealth


def moment_words(when: datetime) -> str:
    """A time on this computer's clock: `28 November 2026, 14:05`."""
    here = when.astimezone()
    return f"{plain_date(here.date())}, {here:%H:%M}"


def size_words(count: int) -> str:
    """A number of bytes: `640 kB`, `1.2 GB`."""
    size, unit = count / 1000, "kB"
    for larger in ("MB", "GB"):
        if size < 1000:
            break
        size, unit = size / 1000, larger
    return f"{size:.0f} {unit}" if unit == "kB" else f"{size:.1f} {unit}"


def age_words(age: timedelta | None) -> str:
    """How long ago a backup was made: `3 hours ago`, `none yet`."""
    if age is None:
        return translate("Health", "none yet")
    hours = int(age.total_seconds() // 3600)
    if hours < 1:
        return translate("Health", "less than an hour ago")
    words = counted(hours, "hour") if hours < 48 else counted(hours // 24, "day")
    return translate("Health", "{time} ago").format(time=words)


def health_rows(health: PracticeHealth) -> tuple[tuple[str, str], ...]:
    """What “This practice” shows: a name and a text each."""
    contents = health.contents
    waiting = translate("Health", ", and {size} of new entries beside it")
    size = size_words(contents.size)
    if health.journal:
        size += waiting.format(size=size_words(health.journal))
    held = f"{counted(contents.clients, 'client')}, {counted(contents.courses, 'course')}"
    version = translate("Health", "{program}, file version {schema}")
    rows = [
        (translate("Health", "File"), str(contents.path)),
        (translate("Health", "Size"), size),
        (translate("Health", "What is in it"), held),
        (
            translate("Health", "Sennight"),
            version.format(program=health.program, schema=contents.schema),
        ),
        (translate("Health", "Damage"), _damage_words(health)),
        (translate("Health", "Can be read"), _private_words(health)),
        (translate("Health", "Last backup"), age_words(health.age)),
        (translate("Health", "Backups"), _held_words(health.backups)),
        (translate("Health", "Second folder"), _second_words(health.second)),
    ]
    return tuple(rows)


def _damage_words(health: PracticeHealth) -> str:
    if not health.checked:
        return translate("Health", "being checked…")
    if health.sound:
        return translate("Health", "none found")
    lines = [health.contents.trouble] if health.contents.trouble else []
    for course, backup in health.whole_in:
        whole = translate("Health", "course {id}: whole in {backup}")
        none = translate("Health", "course {id}: whole in no backup")
        lines.append((whole if backup else none).format(id=course, backup=backup))
    if health.contents.damaged_givings:
        text = translate("Health", "papers that were given: {numbers}")
        numbers = ", ".join(f"no. {number}" for number in health.contents.damaged_givings)
        lines.append(text.format(numbers=numbers))
    if health.contents.damaged_consultations:
        text = translate("Health", "consultations: {numbers}")
        numbers = ", ".join(f"no. {number}" for number in health.contents.damaged_consultations)
        lines.append(text.format(numbers=numbers))
    return "\n".join(lines)


def _private_words(health: PracticeHealth) -> str:
    if health.private:
        return translate("Health", "by you alone")
    return translate("Health", "by others on this computer too")


def _held_words(held: BackupsHeld) -> str:
    text = translate("Health", "{count} in {folder}")
    return text.format(count=len(held.files), folder=held.folder)


def _second_words(held: BackupsHeld | None) -> str:
    if held is None:
        return translate("Health", "none chosen: a disk that fails takes file and backups with it")
    return _held_words(held)
