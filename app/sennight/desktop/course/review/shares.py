"""What was taken, by remedy, phase, moment and weekday, as a table of figures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from PySide6.QtCore import QObject

from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.translating import translate
from sennight.domain.charts.review import Review
from sennight.domain.charts.review_words import Cut, ShareRow, share_rows


def cut_words(cut: Cut) -> str:
    """By what the diary is counted, in words."""
    words = {
        Cut.ALL: translate("Review", "All"),
        Cut.REMEDY: translate("Review", "By remedy"),
        Cut.PHASE: translate("Review", "By phase"),
        Cut.MOMENT: translate("Review", "By time of day"),
        Cut.WEEKDAY: translate("Review", "By weekday"),
    }
    return words[cut]


class SharesTable(RowsView):
    """A row for each remedy, phase, moment and weekday."""

    def __init__(self, parent: QObject | None = None) -> None:
        headings = ("", translate("Review", "Taken"))
        self.texts = TextTable(headings, parent)
        super().__init__(self.texts, shares=(2, 3))
        self.is_calm = True
        self.has_ranges = False
        self.setAccessibleName(translate("Review", "Taken, by remedy, phase, moment and weekday"))

    def apply_theme(self, theme: Theme) -> None:
        """Room for all rows, in the size of text."""
        self.verticalHeader().setDefaultSectionSize(theme.line + theme.unit)
        rows = self.texts.row_count() + 1
        head = self.horizontalHeader().sizeHint().height()
        self.setFixedHeight(rows * self.verticalHeader().defaultSectionSize() + head)

    def fit_rows(self) -> None:
        """Rows are as high as `apply_theme` says."""

    def show_review(self, review: Review, theme: Theme) -> None:
        """Show the diary's figures."""
        rows = share_rows(review)
        cells = [cell for cut in Cut for cell in _cut(cut, rows)]
        self.texts.show_rows(len(cells), cells.__getitem__)
        self.setVisible(bool(rows))
        self.has_ranges = any(row.remark for row in rows if row.cut is Cut.MOMENT)
        self.apply_theme(theme)


def _cut(cut: Cut, rows: Sequence[ShareRow]) -> Iterator[tuple[str, str]]:
    """The rows of a cut under its heading; over all there is one, which needs none."""
    told = [_figures(row) for row in rows if row.cut is cut]
    if told and cut is not Cut.ALL:
        yield cut_words(cut), ""
    yield from told


def _figures(row: ShareRow) -> tuple[str, str]:
    """`88 % (74 of 84)`, then what stands beside it."""
    taken = f"{row.percent} ({row.doses})" if row.percent else row.doses
    is_said_once = row.cut is Cut.MOMENT  # beneath the table
    return row.name, f"{taken}, {row.remark}" if row.remark and not is_said_once else taken
