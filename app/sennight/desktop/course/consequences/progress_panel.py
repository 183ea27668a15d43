"""How it goes: the ratings, what their change means, and the gate of the phase that runs."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from sennight.desktop.course.consequences.panel import Panel
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.parts.score_charts import ScoreChartView
from sennight.domain.amounts import plain_number
from sennight.domain.charts.scores import ScoreChart, charts_of
from sennight.domain.follow_up.diaries import Score
from sennight.domain.follow_up.gate_words import gate_sentence
from sennight.domain.follow_up.progress import Progress
from sennight.domain.follow_up.progress_words import progress_sentence
from sennight.domain.tag_words import upper_first
from sennight.practice.course_reading import CourseReading


class _MeasureRow(QWidget):
    """One measure: a sentence, and a chart where there are two ratings."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.sentence: QLabel = text_label("", wrap=True)
        self.chart = ScoreChartView(theme)
        room = QVBoxLayout(self)
        room.setContentsMargins(0, 0, 0, 0)
        room.addWidget(self.sentence)
        room.addWidget(self.chart)

    def show_chart(self, chart: ScoreChart) -> None:
        """Say and draw how a measure went."""
        rated = chart.progress
        self.sentence.setText(progress_sentence(rated))
        self.chart.setVisible(len(rated.ratings) > 1)
        name = translate("ProgressPanel", "{measure} over time").format(measure=rated.name)
        self.chart.show_chart(chart, name)


def _last(rated: Progress) -> str:
    """`Pain 4.5`."""
    return f"{upper_first(rated.name)} {plain_number(rated.last)}"


class ProgressPanel(Panel):
    """Hidden while nothing is rated and no gate waits in the phase that runs."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.scores: tuple[Score, ...] = ()
        self._theme = theme
        self.rows: list[_MeasureRow] = []
        self.legend = text_label(
            self.tr(
                "In the charts, a dotted line separates phases and a dashed frame marks a "
                "flare-up. Inside the shaded band, the change from the first rating is too small "
                "to matter. Dashed line: a gate. Flag: a decision. Upright line: today."
            ),
            Role.QUIET,
            wrap=True,
        )
        self._column = QVBoxLayout()
        self._column.setSpacing(theme.unit * 2)
        self.room.addLayout(self._column)
        self.room.addWidget(self.legend)

    def title(self) -> str:
        """The scores."""
        return self.tr("Scores")

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        super().apply_theme(theme)
        self._theme = theme
        for row in self.rows:
            row.chart.apply_theme(theme)

    def refresh(self, reading: CourseReading) -> None:
        """Say how each measure went, and whether the gate is met."""
        read = reading.gates(self.scores)
        gates = [
            gate_sentence(gate, reading.today) for gate in read if reading.today in gate.run.span
        ]
        rated = reading.progress(self.scores)
        self.setVisible(bool(gates or rated))
        figure = (plain_number(rated[0].last),) if rated else ()
        self.say(_last(rated[0]) if rated else "", *gates, shorter=figure)
        charts = charts_of(rated, read, reading.layout, reading.today, reading.measures)
        while len(self.rows) < len(rated):
            self.rows.append(_MeasureRow(self._theme))
            self._column.addWidget(self.rows[-1])
        for n, row in enumerate(self.rows):
            row.setVisible(n < len(rated))
            if n < len(rated):
                row.show_chart(charts[n])
        self.legend.setVisible(any(len(measure.ratings) > 1 for measure in rated))
