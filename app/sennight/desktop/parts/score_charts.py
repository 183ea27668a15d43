"""The chart of one measure, as a widget."""

from __future__ import annotations

from sennight.desktop.kit.theme import Theme
from sennight.desktop.parts.charts import ChartView
from sennight.domain.charts.drawing import Drawing
from sennight.domain.charts.scores import ScoreChart, score_drawing
from sennight.domain.charts.time_axis import TimeAxis, axis_days

LEFT = 2.2
"""The room for the scale's figures, in sizes of text."""
HEIGHT = 6.5
"""Of a chart between its names and numbers, in sizes of text."""


class ScoreChartView(ChartView):
    """One measure over time; by itself it has the phases' names and the weeks' numbers."""

    def __init__(self, theme: Theme) -> None:
        self.chart: ScoreChart | None = None
        super().__init__(theme)

    def show_chart(self, chart: ScoreChart, name: str) -> None:
        """Show a chart under a name."""
        self.chart = chart
        self.setAccessibleName(name)
        self.refresh()

    def height_wanted(self) -> float:
        """The chart, its names and its numbers."""
        return self.text * (HEIGHT + 3)

    def make_drawing(self, width: float) -> Drawing | None:
        """The chart in so many pixels."""
        chart = self.chart
        if chart is None:
            return None
        ratings = chart.progress.ratings
        days = axis_days(chart.layout, ratings[0].day, ratings[-1].day, chart.today)
        axis = TimeAxis(days, self.text * LEFT, width - self.text, self.text)
        return score_drawing(chart, axis, self.height_wanted(), is_named=True, is_numbered=True)
