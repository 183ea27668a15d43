"""How the course that runs goes: what is rated most, and beneath it what was taken."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QVBoxLayout, QWidget

from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.parts.charts import ChartView
from sennight.desktop.parts.score_charts import LEFT
from sennight.domain.charts.diary import DiaryChart, diary_drawing
from sennight.domain.charts.drawing import Drawing
from sennight.domain.charts.scores import ScoreChart, charts_of, score_drawing
from sennight.domain.charts.time_axis import TimeAxis, axis_days
from sennight.domain.courses.plan import LayoutError
from sennight.domain.directions.directions import SameTimeError
from sennight.domain.follow_up.fullness import fullness_by_week
from sennight.domain.follow_up.gate_words import gate_sentence
from sennight.domain.follow_up.progress_words import progress_sentence
from sennight.practice.course_reading import CourseReading, read_course
from sennight.practice.courses import CourseEntry
from sennight.practice.diaries import diary, measures, scores
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs

SCORES_HIGH = 8
"""The height of the chart of scores, in sizes of text."""


class _SharedAxis(ChartView):
    """A chart on the days that both share."""

    def __init__(self, theme: Theme) -> None:
        self.score: ScoreChart | None = None
        self.diary: DiaryChart | None = None
        super().__init__(theme)

    def put(self, score: ScoreChart | None, told: DiaryChart | None, name: str) -> None:
        """Show other charts."""
        self.score, self.diary = score, told
        self.setAccessibleName(name)
        self.refresh()

    def axis(self, width: float) -> TimeAxis | None:
        """From the first day of either to beyond today."""
        chart = self.score or self.diary
        if chart is None:
            return None
        ratings = self.score.progress.ratings if self.score else ()
        today = self.score.today if self.score else self.diary.until if self.diary else date.min
        first, last = (ratings[0].day, ratings[-1].day) if ratings else (None, today)
        days = axis_days(chart.layout, first, last, today)
        return TimeAxis(days, self.text * LEFT, width - self.text, self.text)

    def minimumSizeHint(self) -> QSize:
        """As high as it is drawn."""
        return QSize(self.theme.unit * 30, round(self.height_wanted()))


class _ScoreView(_SharedAxis):
    def height_wanted(self) -> float:
        """The chart with the names of the phases."""
        return self.text * SCORES_HIGH if self.score else 0

    def make_drawing(self, width: float) -> Drawing | None:
        """The ratings; the weeks are numbered beneath the diary where there is one."""
        axis = self.axis(width)
        if self.score is None or axis is None:
            return None
        is_numbered = self.diary is None
        height = self.height_wanted()
        return score_drawing(self.score, axis, height, is_named=True, is_numbered=is_numbered)


class _DiaryView(_SharedAxis):
    def height_wanted(self) -> float:
        """A lane a remedy."""
        return self.diary.height(self.text) if self.diary else 0

    def make_drawing(self, width: float) -> Drawing | None:
        """The lanes."""
        axis = self.axis(width)
        return None if self.diary is None or axis is None else diary_drawing(self.diary, axis)


class HowItGoes(QWidget):
    """Hidden while nothing of a course is rated or in its diary."""

    def __init__(self, practice: OpenPractice, theme: Theme) -> None:
        super().__init__()
        self._practice = practice
        self.heading = text_label(self.tr("How it goes"), Role.HEADING)
        self.sentence = text_label("", wrap=True)
        self.others = text_label("", Role.QUIET, wrap=True)
        self.scores, self.diary = _ScoreView(theme), _DiaryView(theme)
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        for part in (self.heading, self.sentence, self.others, self.scores, self.diary):
            self._layout.addWidget(part)
        self.apply_theme(theme)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another theme."""
        self._layout.setSpacing(theme.unit)
        for chart in (self.scores, self.diary):
            chart.apply_theme(theme)

    def show_courses(self, courses: tuple[CourseEntry, ...], today: date) -> None:
        """Show the course that runs, else the one that began last."""
        readings = [reading for entry in courses if (reading := self._read(entry, today))]
        ids = [entry.id for entry in courses if self._read(entry, today)]
        runs = [n for n, reading in enumerate(readings) if today in reading.layout.days]
        place = next(iter(runs), 0)
        if readings:
            self._show(readings[place], ids[place])
        else:
            self.hide()

    def _read(self, entry: CourseEntry, today: date) -> CourseReading | None:
        if entry.course.is_void or entry.course.start > today:
            return None
        try:
            reading = read_course(
                entry.course, today=today, materia_medica=known_herbs(self._practice)
            )
        except (LayoutError, SameTimeError):
            return None
        return replace(reading, measures=measures(self._practice, entry.id))

    def _show(self, reading: CourseReading, course_id: str) -> None:
        rated = scores(self._practice, course_id)
        charts = charts_of(
            reading.progress(rated),
            reading.gates(rated),
            reading.layout,
            reading.today,
            reading.measures,
        )
        chart = max(charts, key=_importance, default=None)
        told = self._diary_chart(reading, course_id)
        gates = [
            gate_sentence(gate, reading.today)
            for gate in reading.gates(rated)
            if reading.today in gate.run.span
        ]
        rest = [progress_sentence(each.progress) for each in charts if each is not chart]
        first = [progress_sentence(chart.progress)] if chart and not gates else gates
        self.sentence.setText(" ".join(first))
        self.others.setText(" ".join(rest))
        is_drawn = chart is not None and len(chart.progress.ratings) > 1
        drawn = chart if is_drawn else None
        self.scores.put(drawn, told, self.tr("Scores over time"))
        self.diary.put(drawn, told, self.tr("Taken, of what was due"))
        self.sentence.setVisible(bool(first))
        self.others.setVisible(bool(rest))
        self.scores.setVisible(is_drawn)
        self.diary.setVisible(told is not None)
        self.setVisible(bool(charts or gates or told))

    def _diary_chart(self, reading: CourseReading, course_id: str) -> DiaryChart | None:
        report = reading.adherence(diary(self._practice, course_id))
        if report is None:
            return None
        weeks = fullness_by_week(reading.layout, report.days, reading.today)
        return DiaryChart(reading.layout, weeks, reading.today) if weeks else None


def _importance(chart: ScoreChart) -> tuple[bool, int]:
    """The measure that a gate waits for comes first, then the one rated most."""
    return bool(chart.gates), len(chart.progress.ratings)
