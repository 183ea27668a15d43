"""The findings on the course page: what they say, how keys walk through them, going ahead."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from time import process_time

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.course.controller import CourseController
from sennight.desktop.course.safety.accept_dialog import AcceptDialog
from sennight.desktop.course.safety.panel import SafetyPanel
from sennight.desktop.course.safety.rows import (
    CHECKED,
    NOTES,
    days_words,
    finding_rows,
    summary,
    told_at_head,
    without_finding,
)
from sennight.desktop.kit.theme import Theme
from sennight.desktop.parts.severity_marks import mark_icon
from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Client, Fact
from sennight.domain.courses.courses import Course
from sennight.domain.courses.editing import with_directions
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.safety.decisions import Decision
from sennight.practice.course_reading import read_course
from sennight.practice.courses import course_entry
from sennight.practice.publications import list_publications
from sennight.practice.safety import SafetyReport, Severity, WordedFinding, check
from support import course_cases, samples
from support.next_dialog import in_next_dialog
from support.willow_practice import MET, Willow

Key = Qt.Key


def finding(name: str, severity: Severity) -> WordedFinding:
    return WordedFinding(
        severity=severity,
        id=name,
        fact="gout",
        herbs=("ginger",),
        remedies=("tea",),
        days=(Span(date(2027, 1, 4), date(2027, 1, 11)),),
        heading="Ginger with gout",
        text=f"Text of {name}.",
        under_heading=f"Text of {name}.",
        source="A source (not yet checked)",
        instead=("Leave it out.",),
        accepted_as=(name,),
    )


def course(*accepts: Accept) -> Course:
    plain = Course(
        "c",
        Client("Una Example"),
        (replace(samples.remedy("tea"), name="Joint tea"),),
        course_cases.protocol(),
        date(2027, 1, 4),
    )
    return replace(plain, accepts=accepts)


WORST, CAUTION, NOTE = (finding(str(one), one) for one in Severity)
EVERY = (WORST, CAUTION, NOTE)
ALL = SafetyReport(EVERY, (WORST,), "Checked: all.", lines=EVERY)


def test_rows_are_worst_first_and_notes_are_folded() -> None:
    rows = finding_rows(ALL, course(), ())
    assert [row.id for row in rows] == ["avoid", "caution", NOTES]
    assert [row.head for row in rows] == ["Avoid", "Caution", "1 note"]
    assert [row.unfolded for row in rows] == [True, False, False]
    opened = finding_rows(ALL, course(), {NOTES, "note"})
    assert [row.id for row in opened] == ["avoid", "caution", NOTES, "note", CHECKED]
    assert opened[3].unfolded


def test_a_row_says_all_that_is_known_of_a_finding() -> None:
    row = finding_rows(ALL, course(), ())[0]
    assert row.more == (
        ("In", "Joint tea"),
        ("Days", "4 to 10 January 2027"),
        ("What you can do", "Leave it out."),
        ("Source", "A source (not yet checked)"),
    )
    assert row.sentence == (
        "Avoid. Text of avoid.\nIn: Joint tea\nDays: 4 to 10 January 2027\n"
        "What you can do: Leave it out.\nSource: A source (not yet checked)"
    )
    assert row.asks


def test_a_finding_that_was_decided_stays_with_its_reason() -> None:
    accept = Accept("avoid", "agreed with the doctor", on=date(2027, 1, 4))
    decided = replace(ALL, unaccepted=(), decided={"avoid": Decision(accept)})
    row = finding_rows(decided, course(accept), ())[0]
    assert row.head == "Avoid, accepted"
    assert row.more[0] == ("Decided", "4 January 2027: agreed with the doctor")
    assert not row.asks
    assert not row.unfolded


def test_without_a_finding_it_is_told_what_was_checked_and_that_it_proves_nothing() -> None:
    none = SafetyReport((), (), "Checked: 2 herbs against no conditions.")
    (row,) = finding_rows(none, course(), ())
    assert row.unfolded
    assert row.more == (("What was checked", "Checked: 2 herbs against no conditions."),)
    assert summary(none) == "No finding. That does not mean it is safe."
    assert summary(ALL) == "1 to avoid, 1 caution, 1 note"


def test_no_finding_tells_how_much_nobody_asked_about() -> None:
    told = [without_finding(unasked) for unasked in (0, 1, 3)]
    assert told == [
        ("no finding", ""),
        ("no finding; 1 thing not asked", "1 not asked"),
        ("no finding; 3 things not asked", "3 not asked"),
    ]


def test_findings_do_not_hide_what_nobody_asked_about() -> None:
    """Where room is short the notes are left out first, then all but the gravest."""
    assert told_at_head(ALL, 2) == (
        "1 to avoid, 1 caution, 1 note; 2 not asked",
        "1 to avoid, 1 caution; 2 not asked",
        "1 to avoid; 2 not asked",
        "1 to avoid, 1 caution, 1 note",
        "1 to avoid, 1 caution",
        "1 to avoid",
    )
    assert told_at_head(ALL, 0)[-1] == "1 to avoid"
    notes = replace(ALL, lines=(NOTE,))
    assert told_at_head(notes, 1) == ("1 note; 1 not asked", "1 note")
    assert told_at_head(replace(ALL, lines=()), 4) == ("",)


def test_many_runs_of_days_are_told_in_short() -> None:
    runs = tuple(Span(date(2027, 1, n), date(2027, 1, n + 1)) for n in (1, 3, 5, 7, 9))
    assert days_words(runs) == (
        "1 January 2027; 3 January 2027; 5 January 2027; 2 further runs up to 9 January 2027"
    )
    assert days_words(runs[:1]) == "1 January 2027"


def test_each_severity_has_a_shape_of_its_own(theme: Theme) -> None:
    """In one colour the marks still differ, so colour is not the only sign."""

    def shape(severity: Severity, *, hollow: bool = False) -> tuple[bool, ...]:
        image = mark_icon(theme, severity, 16, hollow=hollow).pixmap(32, 32).toImage()
        image.convertTo(QImage.Format.Format_ARGB32)
        paper = theme.paper.rgb()
        points = [(x, y) for x in range(image.width()) for y in range(image.height())]
        return tuple(
            QColor.fromRgba(image.pixel(x, y)).alpha() > 128 and image.pixel(x, y) != paper
            for x, y in points
        )

    shapes = {shape(one) for one in Severity}
    shapes.add(shape(Severity.AVOID, hollow=True))
    assert len(shapes) == 4


def test_the_panel_shows_the_finding_and_its_source(controller: CourseController) -> None:
    panel = controller.view.consequences.safety
    assert panel.head.verdict.startswith("1 to avoid")
    first = panel.view.findings.rows[0]
    assert first.id == MET
    assert first.text.startswith("Willow bark")
    assert ("In", "Willow tea") in first.more
    assert any(label == "Source" and "USP" in text for label, text in first.more)


def test_an_edit_is_checked_when_it_is_drawn(qtbot: QtBot, controller: CourseController) -> None:
    panel = controller.view.consequences.safety
    now = controller.session.course
    kept = replace(now.protocol.phases[0], lines=now.protocol.phases[0].lines[1:])
    controller.session.edit("Remove", replace(now, protocol=replace(now.protocol, phases=(kept,))))
    qtbot.waitUntil(lambda: MET not in [row.id for row in panel.view.findings.rows])
    assert not panel.ahead.isVisibleTo(panel)
    controller.session.undo_stack.undo()
    qtbot.waitUntil(lambda: panel.view.findings.rows[0].id == MET)
    assert panel.ahead.isVisibleTo(panel)


def test_keys_walk_unfold_and_fold(controller: CourseController, qtbot: QtBot) -> None:
    panel = controller.view.consequences.safety
    qtbot.keyClick(panel.head, Key.Key_Space)
    assert panel.body.isHidden()
    panel.go_to(MET)
    assert panel.view.hasFocus()
    assert panel.view.current_id() == MET
    ids = [row.id for row in panel.view.findings.rows]
    for _ in range(ids.index(NOTES)):
        qtbot.keyClick(panel.view, Key.Key_Down)
    assert panel.view.current_id() == NOTES
    qtbot.keyClick(panel.view, Key.Key_Return)
    opened = [row.id for row in panel.view.findings.rows]
    assert len(opened) > len(ids)
    assert panel.view.current_id() == NOTES
    qtbot.keyClick(panel.view, Key.Key_Down)
    high = panel.view.height()
    qtbot.keyClick(panel.view, Key.Key_Right)
    assert panel.view.height() > high
    qtbot.keyClick(panel.view, Key.Key_Right)
    qtbot.keyClick(panel.view, Key.Key_Left)
    assert panel.view.height() == high


def test_rows_are_as_high_as_their_words(controller: CourseController) -> None:
    """No row ends before its last word: a narrower list is a higher one."""
    view = controller.view.consequences.safety.view
    row = view.findings.rows[0]
    assert view.drawer.height(row, 200) > view.drawer.height(row, 400)
    assert view.height() >= sum(view.visualRect(view.model().index(n, 0)).height() for n in (0, 1))


def test_going_ahead_needs_a_reason_and_is_kept(
    controller: CourseController, willow: Willow, qtbot: QtBot
) -> None:
    panel = controller.view.consequences.safety
    now = controller.session.course
    other = with_directions(now.protocol, "loading", "quiet", samples.take("1 cup od"))
    controller.session.edit("Directions", replace(now, protocol=other))
    assert controller.session.undo_stack.canUndo()

    def decide(sheet: AcceptDialog) -> None:
        assert sheet.focusWidget() is sheet.reason
        qtbot.keyClick(sheet.reason, Key.Key_Return)
        assert sheet.reason_row.is_wrong
        assert sheet.isVisible()
        qtbot.keyClicks(sheet.reason, "INR watched weekly, agreed with the doctor")
        qtbot.keyClick(sheet.reason, Key.Key_Return)

    panel.go_to(MET)
    in_next_dialog(decide)
    qtbot.keyClick(panel.view, Key.Key_Return)
    stored = course_entry(willow.practice, willow.course).course
    (accept,) = stored.accepts
    assert (accept.finding, accept.reason, accept.on, accept.facts) == (
        MET,
        "INR watched weekly, agreed with the doctor",
        controller.session.reading.today,
        ("anticoagulant",),
    )
    assert [(then.remedy, str(then.unit)) for then in accept.taken or ()]
    assert not controller.session.undo_stack.canUndo()
    assert panel.checked.unaccepted == ()
    assert panel.view.findings.rows[0].head == "Avoid, accepted"
    assert panel.view.current_id() == MET


def test_leaving_the_sheet_keeps_nothing(
    controller: CourseController, willow: Willow, qtbot: QtBot
) -> None:
    in_next_dialog(lambda sheet: qtbot.keyClick(sheet.reason, Key.Key_Escape))
    controller.view.consequences.safety.ahead.click()
    assert course_entry(willow.practice, willow.course).course.accepts == ()


def test_giving_is_refused_and_leads_to_the_finding(
    controller: CourseController, willow: Willow, qtbot: QtBot, tmp_path: Path
) -> None:
    seen: list[str] = []

    def lead(dialog: QWidget) -> None:
        seen.append(f"{dialog.accessibleName()}: {dialog.accessibleDescription()}")
        qtbot.keyClick(dialog, Key.Key_Return)

    in_next_dialog(lead)
    controller.give()
    (said,) = seen
    assert said.startswith("This course has not been given yet: – Willow bark")
    assert controller.window().focusWidget() is controller.view.consequences.safety.view
    assert list_publications(willow.practice, willow.course) == ()
    assert list(tmp_path.glob("*.pdf")) == []


def test_facts_recorded_at_a_follow_up_are_met_when_the_course_is_opened_again(
    controller: CourseController,
) -> None:
    """What the engine is given is the client's record as it now is."""
    shown = controller.session.reading
    pregnant = replace(
        shown.course,
        client=replace(shown.course.client, conditions=(Fact("pregnancy", date(2027, 2, 8)),)),
    )
    new = {one.id for one in check(lay_out(pregnant)).findings}
    old = {one.id for one in controller.view.consequences.safety.checked.findings}
    assert old < new


FRAME = 0.016
SLOW = 2


@pytest.mark.no_cover  # counting lines takes time of its own
def test_checking_and_showing_a_year_fits_in_a_frame(qtbot: QtBot, theme: Theme) -> None:
    """A year's course of five remedies; the processor's time, the least of several runs."""
    plain = course_cases.full_course(weeks=52)
    client = Client("Una Example", medicines=(Fact("anticoagulant"), Fact("iron")))
    both = [
        read_course(replace(plain, client=client, until=until), today=course_cases.TODAY)
        for until in (date(2027, 12, 30), date(2027, 12, 31))
    ]
    panel = SafetyPanel(theme)
    qtbot.addWidget(panel)
    panel.resize(240, 600)
    panel.show()
    times = []
    for n in range(8):
        begin = process_time()
        panel.refresh(replace(both[n % 2]))
        times.append(process_time() - begin)
    assert min(times) < FRAME * SLOW


@pytest.mark.parametrize("width", [200, 320])
def test_a_list_of_findings_is_drawn_without_a_warning(
    controller: CourseController, width: int
) -> None:
    view = controller.view.consequences.safety.view
    view.resize(width, view.height())
    assert not view.grab().isNull()
