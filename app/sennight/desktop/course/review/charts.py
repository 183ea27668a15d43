"""The charts of a review, beneath each other on one axis: each measure, then what was taken."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import Empty, text_label
from sennight.desktop.parts.charts import ChartView
from sennight.desktop.parts.score_charts import HEIGHT, LEFT
from sennight.domain.charts.diary import diary_drawing
from sennight.domain.charts.drawing import Drawing
from sennight.domain.charts.ghost import ghost_drawing, ghost_height
from sennight.domain.charts.review import Review
from sennight.domain.charts.review_words import taken_sentence
from sennight.domain.charts.scores import score_drawing
from sennight.domain.charts.time_axis import TimeAxis
from sennight.domain.courses.stretches import Layout
from sennight.domain.follow_up.progress_words import progress_sentence, thresholds_told
from sennight.practice.course_reading import CourseReading

MOST_AIR = 2.0
"""So many times as high as it has to be a chart becomes where there is room."""


class _OnAxis(ChartView):
    """A chart of the review on the axis that all of them share."""

    def __init__(self, theme: Theme) -> None:
        self.review: Review | None = None
        super().__init__(theme)

    def axis(self, review: Review, width: float) -> TimeAxis:
        """The axis in so many pixels."""
        return TimeAxis(review.axis, self.text * LEFT, width - self.text, self.text)


class MeasureChart(_OnAxis):
    """One measure; the first of them names the phases."""

    def __init__(self, theme: Theme, place: int) -> None:
        self.place, self.air = place, 1.0
        super().__init__(theme)

    def show_review(self, review: Review) -> None:
        """Show the measure at this chart's place."""
        self.review = review
        name = translate("Review", "{measure} over time")
        self.setAccessibleName(name.format(measure=review.progress[self.place].name))
        self.refresh()

    def height_wanted(self) -> float:
        """A little higher where the phases are named."""
        return self.text * (HEIGHT * self.air + (1.2 if self.place == 0 else 0))

    def breathe(self, air: float) -> None:
        """Be so many times as high."""
        if air != self.air:
            self.air = air
            self.refresh()

    def make_drawing(self, width: float) -> Drawing | None:
        """The measure's chart."""
        if self.review is None or self.place >= len(self.review.progress):
            return None
        return score_drawing(
            self.review.charts[self.place],
            self.axis(self.review, width),
            self.height_wanted(),
            is_named=self.place == 0,
            is_numbered=False,
        )


class GhostChart(_OnAxis):
    """The phases as they are and as a decision would leave them, while one is being made."""

    def __init__(self, theme: Theme) -> None:
        self.then: Layout | None = None
        super().__init__(theme)
        self.setAccessibleName(translate("Review", "Phases now, and as they would be"))
        self.hide()

    def show_ghost(self, review: Review | None, then: Layout | None) -> None:
        """Show another layout beneath the review's; None for none."""
        self.review, self.then = review, then
        self.refresh()
        self.setVisible(self.make_drawing(1) is not None)

    def height_wanted(self) -> float:
        """Two bands."""
        return ghost_height(self.text)

    def make_drawing(self, width: float) -> Drawing | None:
        """The two bands."""
        if self.review is None or self.then is None:
            return None
        return ghost_drawing(self.review.layout, self.then, self.axis(self.review, width))


class LanesChart(_OnAxis):
    """What was taken of what was due, a lane a remedy, with the weeks' numbers."""

    def show_review(self, review: Review) -> None:
        """Show the diary's weeks."""
        self.review = review
        self.setAccessibleName(translate("Review", "Taken, of what was due, by week"))
        self.refresh()

    def height_wanted(self) -> float:
        """By the number of remedies."""
        return self.review.diary.height(self.text) if self.review else 0

    def make_drawing(self, width: float) -> Drawing | None:
        """The lanes."""
        if self.review is None:
            return None
        return diary_drawing(self.review.diary, self.axis(self.review, width))


class ReviewCharts(QWidget):
    """A sentence and a chart for each measure, then the diary by week."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.theme = theme
        self.sentences: list[QLabel] = []
        self.measures: list[MeasureChart] = []
        self.taken = text_label("", wrap=True)
        self.lanes = LanesChart(theme)
        self.ghost = GhostChart(theme)
        self._review: Review | None = None
        self.legend = text_label("", Role.QUIET, wrap=True)
        self.nothing = Empty(
            translate("Review", "Nothing to look back on yet"),
            translate(
                "Review",
                "Scores and the diary are drawn here, over the phases, once they are entered.",
            ),
            drawing="course",
        )
        self._room = QVBoxLayout(self)
        self._room.setContentsMargins(0, 0, 0, 0)
        self._column = QVBoxLayout()
        self._room.addWidget(self.ghost)
        self._room.addLayout(self._column)
        for part in (self.taken, self.lanes, self.legend, self.nothing):
            self._room.addWidget(part)
        self._room.addStretch(1)
        self.apply_theme(theme)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.theme = theme
        self._room.setSpacing(theme.unit)
        self._column.setSpacing(theme.unit // 2)
        for chart in (self.ghost, *self.measures, self.lanes):
            chart.apply_theme(theme)

    def fit(self, height: int) -> None:
        """Let the measures' charts take up a height in pixels, within reason."""
        shown = [chart for chart in self.measures if not chart.isHidden()]
        plain = sum(chart.text * HEIGHT for chart in shown)
        if not plain:
            return
        grown = sum(chart.text * HEIGHT * (chart.air - 1) for chart in shown)
        spare = height - self._room.totalHeightForWidth(self.width()) + grown
        air = min(MOST_AIR, max(1.0, 1 + spare / plain))
        for chart in shown:
            chart.breathe(round(air, 2))

    def show_ghost(self, tried: CourseReading | None) -> None:
        """Draw the course as it would be beneath the one that is; None for none."""
        self.ghost.show_ghost(self._review, tried.layout if tried else None)

    def show_review(self, review: Review) -> None:
        """Say and draw how each measure went, and what was taken."""
        self._review = review
        while len(self.measures) < len(review.progress):
            self.sentences.append(text_label("", wrap=True))
            self.measures.append(MeasureChart(self.theme, len(self.measures)))
            self._column.addWidget(self.sentences[-1])
            self._column.addWidget(self.measures[-1])
        for n, (sentence, chart) in enumerate(zip(self.sentences, self.measures, strict=True)):
            is_shown = n < len(review.progress)
            sentence.setVisible(is_shown)
            chart.setVisible(is_shown)
            if is_shown:
                sentence.setText(progress_sentence(review.progress[n]))
                chart.show_review(review)
        self.taken.setText(taken_sentence(review))
        self.lanes.setVisible(bool(review.diary.weeks))
        self.lanes.show_review(review)
        self.legend.setText(f"{_legend()} {thresholds_told(review.progress)}".rstrip())
        is_told = bool(review.progress or review.diary.weeks)
        self.legend.setVisible(is_told)
        self.taken.setVisible(is_told)
        self.nothing.setVisible(not is_told)


def _legend() -> str:
    return translate(
        "Review",
        "Dotted line: a new phase. Dashed frame: a flare-up. Blank: a break. Flag: a decision. "
        "Upright line: today. Inside the shaded band, the change from the first rating is too "
        "small to matter. Dashed line: a gate. Beneath: taken is filled, missed blank, no entry "
        "has a line through it.",
    )
