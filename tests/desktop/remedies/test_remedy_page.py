"""The editor: edits that can be undone, versions on the shelf, what a trial dose holds."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from sennight.desktop.remedies.columns import Part
from sennight.desktop.remedies.page import RemedyPage
from sennight.desktop.remedies.parts_view import HerbField
from sennight.desktop.remedies.versions import VersionsSheet
from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course
from sennight.domain.courses.protocols import Protocol
from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.portions import container_units
from sennight.domain.remedies.remedies import Ingredient, Method, Portion, Remedy
from sennight.practice.courses import course_entry
from sennight.practice.dispensary import keep_settings, settings_of
from sennight.practice.formulating import new_remedy
from sennight.practice.opening import MissingRecordError
from sennight.practice.remedies import remedy_history, shelf_remedy
from sennight.publish.course_file.reader import parse_course
from sennight.publish.course_file.writer import course_toml
from support.next_dialog import in_next_dialog
from support.sample_practice import NOW, Sample
from support.samples import line, phase


def put(page: RemedyPage, row: int, part: Part, text: str) -> None:
    page.model.setData(page.model.index(row, page.model.parts.index(part)), text)


def bars(page: RemedyPage) -> list[str]:
    return [bar.sentence for bar in page.dose_contents.bars.bars.bars]


def test_a_trial_dose_is_held_against_the_ranges(page: RemedyPage) -> None:
    """3 g a cup, 2/3 nettle leaf: 2 g in a cup, 6 g in three; the range is 8 to 12 g."""
    assert (
        page.dose_contents.one_dose.text()
        == "One dose contains 2 g of nettle leaf and 1 g of ginger."
    )
    nettle = next(said for said in bars(page) if said.startswith("Nettle leaf"))
    assert "below its range" in nettle
    assert "6 g a day; range 8 to 12 g" in nettle
    assert "Range from: " in nettle
    ginger = next(said for said in bars(page) if said.startswith("Ginger"))
    assert "No range is recorded for it as tea" in ginger


def test_a_dose_is_read_as_it_is_typed(page: RemedyPage, qtbot: QtBot) -> None:
    page.dose_contents.dose.selectAll()
    qtbot.keyClicks(page.dose_contents.dose, "2 cup tds")
    assert any("12 g a day" in said for said in bars(page))
    assert page.undo_stack is not None
    assert page.undo_stack.count() == 0
    page.dose_contents.dose.editingFinished.emit()
    assert page.undo_stack.count() == 1
    page.undo_stack.undo()
    assert page.dose_contents.dose.text() == "1 cup tds"
    assert any("6 g a day" in said for said in bars(page))


@pytest.mark.parametrize("typed", ["1 cup", "2 capsule bd", "tds", "1 cup at 07:30,breakfast"])
def test_a_dose_that_does_not_fit_is_told_and_changes_nothing(
    page: RemedyPage, qtbot: QtBot, typed: str
) -> None:
    before = bars(page)
    page.dose_contents.dose.setText("")
    qtbot.keyClicks(page.dose_contents.dose, typed)
    page.dose_contents.dose.editingFinished.emit()
    assert page.dose_contents.explained.property("role") == "alarm"
    assert page.formula is not None
    assert page.formula.tried == "1 cup tds"
    assert len(bars(page)) == len(before)


def test_edits_are_undone_and_done_again(page: RemedyPage) -> None:
    put(page, 0, Part.PARTS, "4")
    put(page, 1, Part.PARTS, "3")
    assert page.undo_stack is not None
    page.undo_stack.undo()
    page.undo_stack.undo()
    assert page.formula is not None
    assert not page.is_changed
    page.undo_stack.redo()
    assert page.formula.remedy.ingredients[0].parts == 4


def test_keeping_makes_a_version_and_courses_keep_theirs(page: RemedyPage, sample: Sample) -> None:
    put(page, 0, Part.PARTS, "4")
    assert page.keep()
    assert shelf_remedy(sample.practice, "tea").version == 2
    assert remedy_history(sample.practice, "tea")[0].remedy.ingredients[0].parts == 2
    given = course_entry(sample.practice, sample.course).course.remedy("tea")
    assert given.ingredients[0].parts == 2
    assert page.keep()
    assert shelf_remedy(sample.practice, "tea").version == 2, "nothing new, no version"


def test_an_older_version_is_brought_back_as_an_edit(page: RemedyPage, sample: Sample) -> None:
    put(page, 0, Part.PARTS, "4")
    page.keep()

    def bring_back(sheet: VersionsSheet) -> None:
        assert [sheet.model.index(row, 0).data() for row in range(2)] == ["2", "1"]
        sheet.rows.select_row(1)
        sheet.submit()

    in_next_dialog(bring_back)
    page.show_versions()
    assert page.formula is not None
    assert page.formula.remedy.ingredients[0].parts == 2
    assert page.undo_stack is not None
    page.undo_stack.undo()
    assert page.formula.remedy.ingredients[0].parts == 4
    assert shelf_remedy(sample.practice, "tea").version == 2


def test_a_copy_is_another_remedy(page: RemedyPage, sample: Sample) -> None:
    opened: list[str] = []
    page.opened.connect(opened.append)
    page.copy()
    page.open(opened[0])
    assert page.name.text() == "Copy of Joint tea"
    with pytest.raises(MissingRecordError):
        shelf_remedy(sample.practice, opened[0])
    page.keep()
    assert shelf_remedy(sample.practice, opened[0]).version == 1
    assert shelf_remedy(sample.practice, "tea").version == 1


def test_a_remedy_without_herbs_is_not_put_on_the_shelf_and_not_lost(
    page: RemedyPage, sample: Sample
) -> None:
    remedy = new_remedy("Evening drops", Form.TINCTURE)
    page.begin(remedy)
    page.open(remedy.id)
    said: list[str] = []
    page.status_message.connect(said.append)
    assert not page.keep()
    assert "no herb yet" in said[0]
    page.open("tea")
    page.open(remedy.id)
    assert page.name.text() == "Evening drops"
    put(page, 0, Part.HERB, "Valerian")
    assert page.keep()
    assert shelf_remedy(sample.practice, remedy.id).remedy.name == "Evening drops"


def test_what_no_course_file_could_tell_is_not_put_on_the_shelf(
    page: RemedyPage, sample: Sample
) -> None:
    """More than 100 percent, and drops of an oil into grams that nobody said."""
    cream = new_remedy("Hand cream", Form.CREAM)
    page.begin(cream)
    page.open(cream.id)
    said: list[str] = []
    page.status_message.connect(said.append)
    put(page, 0, Part.HERB, "Comfrey")
    put(page, 0, Part.PERCENT, "60")
    put(page, 1, Part.HERB, "St John's wort")
    put(page, 1, Part.PERCENT, "60")
    assert not page.keep()
    assert "over 100 percent" in said[-1]
    put(page, 1, Part.DROPS, "6")
    assert not page.keep()
    assert "into how many grams" in said[-1]
    put(page, 1, Part.PERCENT, "40")
    assert page.keep()
    assert len(shelf_remedy(sample.practice, cream.id).remedy.ingredients) == 2


def test_a_weak_blend_warns_of_what_falls_out(page: RemedyPage) -> None:
    """Myrrh's resin wants 90 % ethanol; half of it in water-thin tincture does not keep it."""
    remedy = new_remedy("Gargle", Form.TINCTURE)
    page.begin(remedy)
    page.open(remedy.id)
    put(page, 0, Part.HERB, "Myrrh")
    assert not page.dose_contents.warning.text()
    put(page, 1, Part.HERB, "Chamomile (German)")
    put(page, 1, Part.ETHANOL, "25")
    assert "Myrrh" in page.dose_contents.warning.text()
    assert "Too weak at 57.5 % v/v" in page.dose_contents.warning.text()
    assert "Myrrh: " in page.dose_contents.warning.toolTip()


def test_ethanol_is_told_by_dose_and_by_day(page: RemedyPage) -> None:
    """5 mL of 60 %: 5 × 0.6 × 0.78924 = 2.37 g (OIML R 22), three times 7.1 g."""
    page.open("drops")
    assert page.dose_contents.ethanol.text() == "Ethanol: 2.37 g in one dose, up to 7.1 g a day."
    assert "60 % v/v" in page.dose_contents.strength.text()


def test_making_is_edited_and_bad_input_told_at_the_field(page: RemedyPage) -> None:
    making = page.making
    making.grams.setText("4.5")
    making.grams.editingFinished.emit()
    assert page.formula is not None
    assert page.formula.remedy.tea is not None
    assert page.formula.remedy.tea.grams_per_cup == Fraction(9, 2)
    making.minutes.setText("2.5")
    making.minutes.editingFinished.emit()
    assert making.minutes.property("wrong")
    assert page.formula.remedy.tea.minutes == 10
    making.method.setCurrentIndex(1)
    making.method.activated.emit(1)
    assert page.formula.remedy.tea.method is Method.DECOCTION


def test_a_name_is_never_empty(page: RemedyPage) -> None:
    page.name.setText("  ")
    page.name.editingFinished.emit()
    assert page.name.text() == "Joint tea"


def test_the_keyboard_alone_adds_a_herb_and_changes_its_parts(
    page: RemedyPage, qtbot: QtBot
) -> None:
    page.table.setFocus()
    qtbot.keyClick(page.table, Qt.Key.Key_Return)
    field = QApplication.focusWidget()
    assert isinstance(field, QLineEdit)
    qtbot.keyClicks(field, "Meadowsweet")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: len(page.model.remedy.ingredients) == 3)
    qtbot.waitUntil(lambda: page.table.findChild(HerbField) not in (None, field))
    following = page.table.findChild(HerbField)  # Enter goes on to the next herb
    qtbot.keyClicks(following, "sage 1, yarrow 2")
    qtbot.keyClick(following, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: len(page.model.remedy.ingredients) == 5)
    assert page.model.remedy.ingredients[4].parts == 2
    qtbot.waitUntil(lambda: page.table.findChild(HerbField) not in (None, following))
    qtbot.keyClick(page.table.findChild(HerbField), Qt.Key.Key_Escape)
    assert len(page.model.remedy.ingredients) == 5
    page.activateWindow()
    page.table.setFocus()
    page.table.setCurrentIndex(page.model.index(2, 1))
    qtbot.keyClicks(page.table, "3")
    field = page.table.findChildren(QLineEdit)[-1]
    qtbot.keyClick(field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: page.model.remedy.ingredients[2].parts == 3)
    qtbot.keyClick(page.table, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert page.model.remedy.ingredients[1].herb == "meadowsweet"
    qtbot.keyClick(page.table, Qt.Key.Key_Delete)
    assert len(page.model.remedy.ingredients) == 4


@pytest.mark.parametrize("form", Form)
def test_a_formula_of_every_form_is_made_by_keyboard(page: RemedyPage, form: Form) -> None:
    remedy = new_remedy("Any", form)
    page.begin(remedy)
    page.open(remedy.id)
    put(page, 0, Part.HERB, "Yarrow, sage")
    made = page.model.remedy
    assert [part.herb for part in made.ingredients] == ["yarrow", "sage"]
    assert not page.model.first_wrong()
    making, facts = page.making, form.facts
    assert making.grams.isVisibleTo(page) == bool(facts.making)
    assert making.spoon.isVisibleTo(page) == facts.has_spoon
    assert making.sugar.isVisibleTo(page) == facts.has_sugar
    for field, text in ((making.base, "plain"), (making.base_parts, "2"), (making.batch, "60")):
        if field.isVisibleTo(page):
            field.setText(text)
            field.editingFinished.emit()
    _measure(page)
    assert page.dose_contents.dose.wrong is None
    assert page.keep()
    assert shelf_remedy(page._practice, remedy.id).remedy == page.model.remedy
    text = course_toml(course_of_one(page.model.remedy))
    assert parse_course(text, ("yarrow", "sage")).course.remedies == (page.model.remedy,)


def _measure(page: RemedyPage) -> None:
    """Say what a dropperful and the packet hold; an amount without its kind is told."""
    making, dose = page.making, page.dose_contents.dose
    if making.packet.isVisibleTo(page):
        making.packet.setText("2 capsules")
        making.packet.editingFinished.emit()
    for text, wrong in (("1 cup", True), ("0.5", True), ("250", False)):
        making.container.setText(text)
        making.container.editingFinished.emit()
        assert bool(making.container.property("wrong")) == wrong
    unit = container_units(page.model.remedy.form)[0]
    assert page.model.remedy.container == Portion(Fraction(250), unit)
    if not making.dropperful.isVisibleTo(page):
        return
    dose.setText("2 droppers bd")
    assert "how much one dropperful holds" in page.dose_contents.explained.text()
    for text, wrong in (("1 cup", True), ("", False), ("30 drops", False)):
        making.dropperful.setText(text)
        making.dropperful.editingFinished.emit()
        assert bool(making.dropperful.property("wrong")) == wrong
    assert str(page.model.remedy.dropperful) == "30 drop"
    assert dose.wrong is None


def course_of_one(remedy: Remedy) -> Course:
    only = phase("only", "1 w", line(remedy.id, remedy.form.facts.usual_dose))
    return Course("c", Client("Una"), (remedy,), Protocol("P", (only,)), date(2027, 1, 4))


def test_one_click_on_the_empty_row_adds_a_herb(page: RemedyPage, qtbot: QtBot) -> None:
    """And typing its name and Enter takes it, ready for the next one."""
    table, row = page.table, page.model.rowCount() - 1
    index = page.model.index(row, 0)
    assert index.data() == "Add a herb"
    where = table.visualRect(index).center()
    qtbot.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=where)
    field = table.findChild(HerbField)
    assert field is not None
    qtbot.keyClicks(field, "Meadowsweet")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: page.model.remedy.ingredients[-1].herb == "meadowsweet")
    qtbot.waitUntil(lambda: table.findChild(HerbField) not in (None, field))
    assert table.currentIndex().row() == row + 1, "on to the next herb"


def test_the_hint_for_a_container_is_what_the_practice_uses(
    page: RemedyPage, sample: Sample
) -> None:
    assert page.making.container.placeholderText() == "100 g"
    settings = settings_of(sample.practice)
    supply = replace(settings.supply, grams=Fraction(250), capsules=Fraction(90))
    keep_settings(sample.practice, replace(settings, supply=supply), now=NOW)
    page.open("tea")
    assert page.making.container.placeholderText() == "250 g"
    capsules = replace(new_remedy("Resin", Form.CAPSULE), id="resin")
    page.begin(capsules)
    page.open("resin")
    assert page.making.container.placeholderText() == "90 capsules"
    page.making.container.setText("60 capsules")
    page.making.container.editingFinished.emit()
    assert page.formula is not None
    assert page.formula.remedy.container == Portion(Fraction(60), Unit.CAPSULE)
    assert page.making.container.text() == "60 capsules"


def test_what_a_herb_is_in_an_ointment_is_said_in_words(page: RemedyPage) -> None:
    ingredient = Ingredient("calendula", filling=Filling.INFUSED_OIL, percent=Fraction(60))
    page.begin(replace(new_remedy("Salve", Form.OINTMENT), id="salve", ingredients=(ingredient,)))
    page.open("salve")
    column = page.model.parts.index(Part.FILLING)
    index = page.model.index(0, column)
    assert index.data() == "infused oil"
    page.model.setData(index, "essential oil")
    assert page.formula is not None
    assert page.formula.remedy.ingredients[0].filling is Filling.ESSENTIAL_OIL
