"""The materia medica's pages: search, what is said of a herb, the practice's own beside it."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import partial

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from sennight.desktop.kit.theme import Theme
from sennight.desktop.materia_medica.herb_document import herb_document
from sennight.desktop.materia_medica.herb_page import HerbPage
from sennight.desktop.materia_medica.list_page import HerbsPage
from sennight.desktop.materia_medica.own_herb_dialog import OwnHerbDialog
from sennight.desktop.materia_medica.own_range_dialog import OwnRangeDialog
from sennight.desktop.materia_medica.search import Facet, search, texts_of
from sennight.desktop.materia_medica.words import range_rows, row_cells
from sennight.desktop.parts.range_bar import bars_of, reservations_text
from sennight.domain.day import ClientDay
from sennight.domain.directions.parser import parse_directions
from sennight.domain.exposure.exposure import remedy_exposures
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import Herb, Level
from sennight.domain.herbs.own_herbs import OwnHerb, OwnRange
from sennight.domain.herbs.ranges import Reservation
from sennight.domain.herbs.sources import Basis
from sennight.practice.materia_medica import supplied_materia_medica
from sennight.practice.opening import MissingRecordError
from sennight.practice.own_herbs import (
    herb_notes,
    known_herbs,
    list_own_herbs,
    list_own_ranges,
    new_own_herb,
    save_own_herb,
    save_own_range,
)
from support.every import for_every, try_every
from support.next_dialog import in_next_dialog
from support.sample_practice import TEA, Sample

HERBS = tuple(supplied_materia_medica().herbs.values())


@pytest.fixture
def page(qtbot: QtBot, sample: Sample, theme: Theme) -> Iterator[HerbPage]:
    made = HerbPage(sample.practice, theme)
    qtbot.addWidget(made)
    made.resize(1180, 700)
    made.open("meadowsweet")
    made.show()
    yield made
    made.hide()


@pytest.mark.parametrize(
    ("typed", "facet", "herb"),
    [
        ("meadow", Facet.NAME, "meadowsweet"),
        ("filipendula", Facet.NAME, "meadowsweet"),
        ("rosac", Facet.NAME, "meadowsweet"),
        ("salicis", Facet.NAME, "willow-bark"),
        ("astring", Facet.ACTION, "meadowsweet"),
        ("anticoag", Facet.CAUTION, "meadowsweet"),
        ("pregnancy", Facet.CAUTION, "juniper"),
        ("tannin", Facet.CONSTITUENT, "meadowsweet"),
        ("commission e", Facet.SOURCE, "meadowsweet"),
        ("tannin", Facet.ANYTHING, "meadowsweet"),
    ],
)
def test_a_herb_is_found_by_anything_that_is_held_of_it(
    typed: str, facet: Facet, herb: str
) -> None:
    assert herb in {found.herb.id for found in search(HERBS, typed, facet)}


def test_a_facet_keeps_to_itself() -> None:
    assert not search(HERBS, "anticoagulant", Facet.ACTION)
    assert len(search(HERBS, "", Facet.SOURCE)) == len(HERBS)
    assert not search(HERBS, "xyzzy", Facet.ANYTHING)


@for_every(HERBS, lambda herb: herb.id)
def test_every_text_of_every_herb_finds_it(herb: Herb) -> None:
    for facet in Facet:
        for text in texts_of(herb, facet):
            if any(sign.isalnum() for sign in text):
                assert herb in {found.herb for found in search((herb,), text, facet)}


def test_a_page_says_all_that_is_held(theme: Theme) -> None:
    try_every(partial(a_page_says_it, theme), HERBS, lambda herb: herb.id)


def a_page_says_it(theme: Theme, herb: Herb) -> None:
    said = herb_document(herb, theme)
    for source in herb.sources:
        assert html.escape(source.title) in said
    assert said.count("<td") > len(herb.doses) * 6
    for one in herb.conflicts:
        assert html.escape(one) in said
    for note in herb.law:
        assert html.escape(note.text) in said
    assert "not therefore safe" in said
    assert "In pregnancy: " in said
    assert not re.search(r"\bNone\b(?! is used)", said)


def test_a_figure_from_memory_is_marked_wherever_it_is_shown() -> None:
    for herb in HERBS:
        for row in herb.doses:
            form, strength, dose, times, daily, source = row_cells(replace(row, note=""))
            whole = "not yet checked" in source
            assert whole == (row.dose_from.basis is Basis.MEMORY)
            assert "not yet checked" not in form + dose
            for cell, basis in (
                (strength, row.made_from.basis),
                (times, row.times_from.basis if row.times_from else None),
                (daily, row.daily_basis),
            ):
                marked = whole or "not yet checked" in cell
                assert marked == (whole or bool(cell and basis is Basis.MEMORY))


def test_the_list_shows_own_herbs_marked_and_retired_ones_not(
    qtbot: QtBot, sample: Sample, theme: Theme
) -> None:
    save_own_herb(sample.practice, OwnHerb("own-1", "Testwort"))
    save_own_herb(sample.practice, OwnHerb("own-2", "Oldwort", retired=True))
    made = HerbsPage(sample.practice, theme)
    qtbot.addWidget(made)
    made.load()
    names = [made.list.model.index(row, 0).data() for row in range(made.list.model.rowCount())]
    assert "Testwort (this practice's own)" in names
    assert not any("Oldwort" in name for name in names)
    made.list.narrow.setText("testw")
    assert made.list.model.rowCount() == 1
    assert made.list.count.text() == f"1 of {len(HERBS) + 1}"
    opened: list[str] = []
    made.opened.connect(opened.append)
    qtbot.keyClick(made.list.narrow, Qt.Key.Key_Return)
    qtbot.keyClick(made.list.rows, Qt.Key.Key_Return)
    assert opened == ["own-1"]


def test_a_herb_that_is_not_held_is_missing(page: HerbPage) -> None:
    with pytest.raises(MissingRecordError):
        page.open("no-such-herb")


def test_a_note_is_kept_and_can_be_undone(page: HerbPage, sample: Sample) -> None:
    page.note.setPlainText("with lime flower")
    page.keep_note()
    assert herb_notes(sample.practice) == {"meadowsweet": "with lime flower"}
    assert page.undo_stack is not None
    page.undo_stack.undo()
    assert herb_notes(sample.practice) == {}
    assert page.note.toPlainText() == ""


def test_an_own_range_is_entered_shown_as_own_and_taken_back(
    page: HerbPage, sample: Sample
) -> None:
    def enter(dialog: OwnRangeDialog) -> None:
        dialog.low.setText("4")
        dialog.high.setText("20")
        assert "exceeds the published maximum of 18 g" in dialog.message.text()
        dialog.submit()

    in_next_dialog(enter)
    page.ask_range()
    (one,) = list_own_ranges(sample.practice)
    assert one == OwnRange("meadowsweet", TakenAs.TEA, Fraction(4), Fraction(20))
    assert page.ranges.text() == "Tea: 4 to 20 g a day; exceeds the published maximum of 18 g."
    assert "This practice's own" in page.document.toPlainText()
    in_next_dialog(lambda dialog: dialog.drop.click())
    page.ask_range()
    assert list_own_ranges(sample.practice) == ()
    assert "This practice's own" not in page.document.toPlainText()


@pytest.mark.parametrize(
    ("low", "high", "ratio"), [("", "3", ""), ("4", "3", ""), ("x", "3", ""), ("0", "0", "")]
)
def test_what_is_no_range_is_told_at_the_field(
    page: HerbPage, sample: Sample, low: str, high: str, ratio: str
) -> None:
    def enter(dialog: OwnRangeDialog) -> None:
        for field, text in ((dialog.low, low), (dialog.high, high), (dialog.ratio, ratio)):
            field.setText(text)
        dialog.submit()
        assert dialog.answer is None
        assert any(row.is_wrong for row in dialog._fields.rows)
        dialog.reject()

    in_next_dialog(enter)
    page.ask_range()
    assert list_own_ranges(sample.practice) == ()


def test_a_liquid_wants_its_ratio(page: HerbPage, sample: Sample) -> None:
    def enter(dialog: OwnRangeDialog) -> None:
        dialog.form.setCurrentIndex(1)
        dialog.low.setText("5")
        dialog.high.setText("10")
        dialog.submit()
        assert dialog.answer is None
        dialog.ratio.setText("1:5")
        dialog.submit()

    in_next_dialog(enter)
    page.ask_range()
    (one,) = list_own_ranges(sample.practice)
    assert one.form is TakenAs.LIQUID
    assert one.ratio == 5


def test_an_own_herb_is_entered_whole(qtbot: QtBot, sample: Sample) -> None:
    dialog = OwnHerbDialog(None, new_own_herb(""), is_new=True)
    qtbot.addWidget(dialog)
    dialog.submit()
    assert dialog.answer is None, "it needs a name"
    dialog._texts["name"].setText("Testwort")
    dialog._texts["other"].setText("Sampleweed, , Trialroot")
    dialog.age.setText("12")
    dialog.acts.add("bitter")
    dialog.cautions.add("peptic-ulcer", Level.CONTRAINDICATED)
    dialog.submit()
    assert dialog.answer is not None
    save_own_herb(sample.practice, dialog.answer)
    (own,) = list_own_herbs(sample.practice)
    assert own.other_names == ("Sampleweed", "Trialroot")
    assert own.min_age == 12
    assert own.cautions[0].level is Level.CONTRAINDICATED
    assert own.pregnancy is Level.AVOID


def test_an_own_herb_is_offered_no_more_and_again(page: HerbPage, sample: Sample) -> None:
    save_own_herb(sample.practice, OwnHerb("own-1", "Testwort"))
    page.open("own-1")
    assert page.retire_button.isVisible()
    in_next_dialog(lambda dialog: dialog.accept())
    page.retire()
    assert list_own_herbs(sample.practice) == ()
    page.open("own-1")
    page.retire()
    assert len(list_own_herbs(sample.practice)) == 1
    page.open("meadowsweet")
    assert not page.retire_button.isVisible()


def test_an_own_range_is_marked_on_the_bars_of_a_remedy(sample: Sample) -> None:
    save_own_range(sample.practice, OwnRange("ginger", TakenAs.TEA, Fraction(1), Fraction(4)))
    materia_medica = known_herbs(sample.practice)
    rows = remedy_exposures(TEA, parse_directions("1 cup tds"), ClientDay.at(), materia_medica)
    ginger = next(bar for bar in bars_of(rows, materia_medica.names) if bar.row.herb == "ginger")
    assert "this practice's own" in ginger.quiet


def test_extracts_are_told_by_their_strength_and_ceilings_as_such() -> None:
    """Turmeric: 80 to 160 mg of 13-25:1, 200 to 400 mg of 5.5-6.5:1; sage tea at most 12 g."""
    herbs = supplied_materia_medica().herbs
    rows = list(range_rows(herbs["turmeric"]))
    extracts = {name: amount for name, amount, _ in rows if name.startswith("extract")}
    assert extracts == {
        "extract 13 to 25:1": "0.08 to 0.16 g a day",
        "extract 5.5 to 6.5:1": "0.2 to 0.4 g a day",
    }
    sage = {name: amount for name, amount, _ in range_rows(herbs["sage"])}
    assert sage["tea"] == "up to 12 g a day"


def test_what_is_to_be_looked_at_before_an_amount_is_applied() -> None:
    assert not reservations_text(())
    said = reservations_text((Reservation.NOT_CHECKED, Reservation.MORE_MILLILITRES))
    assert said == (
        "Check before you apply it: the range is not yet checked; "
        "it is more mL a day than the source gives. "
    )
