"""Making and changing a client's record."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, time
from fractions import Fraction

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.clients.classes_dialog import ClassesDialog
from sennight.desktop.clients.client_dialog import ClientDialog
from sennight.desktop.clients.fact_line import FactLine
from sennight.desktop.clients.facts_field import FactsField
from sennight.desktop.clients.past_reaction_dialog import PastReactionDialog
from sennight.domain.courses.clients import Client, Fact, Harm, Outcome, Reaction, Sex, Topic
from sennight.domain.day import ClientDay, Moment
from sennight.practice.clients import ClientEntry, client_entry
from sennight.practice.materia_medica import herb_names
from support.next_dialog import in_next_dialog
from support.sample_practice import TODAY, Sample

Key = Qt.Key


@pytest.fixture
def dialog(qtbot: QtBot, theme: object) -> ClientDialog:
    assert theme
    made = ClientDialog(None, names=herb_names(), today=TODAY)
    qtbot.addWidget(made, before_close_func=QWidget.hide)
    made.show()
    return made


def type_into(qtbot: QtBot, field: QWidget, text: str) -> None:
    field.setFocus()
    qtbot.keyClicks(field, text)


def test_a_whole_record_is_typed_with_the_keyboard(qtbot: QtBot, dialog: ClientDialog) -> None:
    type_into(qtbot, dialog.name, "Ishbel Marr")
    type_into(qtbot, dialog.born, "1.5.1970")
    type_into(qtbot, dialog.weight, "70.5")
    type_into(qtbot, dialog.contact, "ishbel at example.org")
    type_into(qtbot, dialog.zone, "europe/london")
    type_into(qtbot, dialog.times[Moment.RISING], "6")
    type_into(qtbot, dialog.times[Moment.BEDTIME], "0:30")
    type_into(qtbot, dialog.conditions.entry, "peptic ulcer")
    qtbot.keyClick(dialog.conditions.entry, Key.Key_Return)
    assert dialog.isVisible()
    qtbot.keyClick(dialog.name, Key.Key_Return)
    assert dialog.result() == QDialog.DialogCode.Accepted
    assert dialog.answer == (
        Client(
            "Ishbel Marr",
            date(1970, 5, 1),
            "Europe/London",
            Fraction("70.5"),
            (Fact("peptic-ulcer"),),
            day=ClientDay.at({Moment.RISING: time(6), Moment.BEDTIME: time(0, 30)}),
        ),
        "ishbel at example.org",
        "",
    )


def test_a_name_is_enough(qtbot: QtBot, dialog: ClientDialog) -> None:
    type_into(qtbot, dialog.name, "  Oskar Teale ")
    dialog.submit()
    assert dialog.answer == (Client("Oskar Teale"), "", "")


def test_without_a_name_the_field_says_so_and_takes_the_keyboard(
    qtbot: QtBot, dialog: ClientDialog
) -> None:
    dialog.contact.setFocus()
    dialog.submit()
    assert dialog.answer is None
    assert dialog.isVisible()
    row = dialog._name_row
    assert row.is_wrong
    assert "Enter a name" in row.beneath.text()
    assert row.field.accessibleDescription() == row.beneath.text()
    qtbot.keyClicks(dialog.name, "O")
    assert not row.is_wrong


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("born", "31.2.1970", "no such day"),
        ("born", "soon", "Enter a date"),
        ("born", "1 May 2050", "in the past"),
        ("weight", "heavy", "kilograms"),
        ("zone", "Atlantis", "Europe/London"),
    ],
)
def test_what_is_wrong_is_told_at_its_field_and_nothing_is_lost(
    qtbot: QtBot, dialog: ClientDialog, field: str, typed: str, says: str
) -> None:
    type_into(qtbot, dialog.name, "Ishbel Marr")
    type_into(qtbot, getattr(dialog, field), typed)
    dialog.submit()
    row = getattr(dialog, f"_{field}_row")
    assert dialog.answer is None
    assert row.is_wrong
    assert says in row.beneath.text()
    assert getattr(dialog, field).text() == typed
    assert dialog.name.text() == "Ishbel Marr"


def test_moments_out_of_order_are_told_at_the_later_one(
    qtbot: QtBot, dialog: ClientDialog
) -> None:
    type_into(qtbot, dialog.name, "Ishbel Marr")
    type_into(qtbot, dialog.times[Moment.LUNCH], "6:00")
    dialog.submit()
    assert dialog.answer is None
    row = dialog._time_rows[Moment.LUNCH]
    assert row.is_wrong
    assert row.beneath.text().startswith("Lunch: ")
    dialog.times[Moment.LUNCH].setText("13:00")
    dialog.submit()
    assert dialog.answer is not None


def test_a_date_is_said_back_as_it_is_understood(qtbot: QtBot, dialog: ClientDialog) -> None:
    type_into(qtbot, dialog.born, "1/5/1970")
    assert dialog._born_row.beneath.text() == "Friday 1 May 1970, 56 years"
    qtbot.keyClicks(dialog.born, "x")
    assert not dialog._born_row.is_wrong
    dialog.name.setFocus()
    assert dialog._born_row.is_wrong


def test_zone_and_day_are_folded_until_they_are_wanted(
    qtbot: QtBot, dialog: ClientDialog, sample: Sample
) -> None:
    assert not dialog.zone.isVisible()
    dialog.unfold.setFocus()
    dialog.unfold.click()
    assert dialog.zone.hasFocus()
    assert dialog.times[Moment.BEDTIME].isVisible()
    entry = client_entry(sample.practice, sample.clients["efua"])
    other = replace(entry, client=replace(entry.client, zone="Europe/Paris"))
    made = ClientDialog(None, other, names=herb_names(), today=TODAY)
    qtbot.addWidget(made, before_close_func=QWidget.hide)
    made.show()
    assert made.zone.isVisible(), "what is not the usual is in view"


def test_enter_goes_on_from_an_empty_field_and_ctrl_enter_is_enough(
    qtbot: QtBot, dialog: ClientDialog
) -> None:
    dialog.conditions.entry.setFocus()
    qtbot.keyClick(dialog.conditions.entry, Key.Key_Return)
    assert dialog.medicines.entry.hasFocus()
    qtbot.keyClick(dialog.medicines.entry, Key.Key_Return)
    assert dialog.allergies.entry.hasFocus()
    qtbot.keyClicks(dialog.name, "Ishbel Marr")
    ctrl = Qt.KeyboardModifier.ControlModifier
    qtbot.keyClick(dialog.allergies.entry, Key.Key_Return, ctrl)
    assert dialog.answer is not None


def test_a_record_opens_as_it_was_saved(sample: Sample, qtbot: QtBot) -> None:
    entry = client_entry(sample.practice, sample.clients["efua"])
    made = ClientDialog(None, entry, names=herb_names(), today=TODAY)
    qtbot.addWidget(made, before_close_func=QWidget.hide)
    assert made.heading.text() == "Change client"
    assert not made.is_changed()
    made.submit()
    assert made.answer == (entry.client, entry.contact, entry.note)


def pressing(text: str) -> Callable[[QWidget], None]:
    """Presses the button of that text."""

    def press(dialog: QWidget) -> None:
        (found,) = (one for one in dialog.findChildren(QPushButton) if one.text() == text)
        found.click()

    return press


def test_leaving_with_something_typed_asks_first(qtbot: QtBot, dialog: ClientDialog) -> None:
    type_into(qtbot, dialog.name, "Ishbel")
    in_next_dialog(pressing("Keep editing"))
    dialog.reject()
    assert dialog.isVisible()
    in_next_dialog(pressing("Close"))
    dialog.reject()
    assert not dialog.isVisible()
    assert dialog.answer is None


def test_escape_leaves_at_once_where_nothing_was_typed(qtbot: QtBot, dialog: ClientDialog) -> None:
    qtbot.keyClick(dialog.name, Key.Key_Escape)
    assert not dialog.isVisible()


def test_tab_goes_through_the_fields_before_the_buttons(
    qtbot: QtBot, dialog: ClientDialog
) -> None:
    type_into(qtbot, dialog.conditions.entry, "gout")
    qtbot.keyClick(dialog.conditions.entry, Key.Key_Return)
    line = dialog.conditions._lines["gout"]
    qtbot.waitUntil(line.isVisible)
    seen: list[QWidget | None] = [dialog.name]
    dialog.name.setFocus()
    while dialog.focusWidget() is not dialog.main_button and len(seen) < 60:
        qtbot.keyClick(dialog.focusWidget(), Key.Key_Tab)
        seen.append(dialog.focusWidget())
    expected: list[QWidget] = [
        dialog.name,
        dialog.born,
        dialog.weight,
        dialog.sex,
        dialog.contact,
        dialog.unfold,
    ]
    expected += [dialog.conditions.entry, *dialog.conditions.often.values()]
    expected += [dialog.conditions.all_asked, *line.stops]
    for field in (dialog.medicines, dialog.allergies):
        expected += [field.entry, field.all_asked]
    expected += [dialog.reactions.add, dialog.reactions.all_asked]
    assert seen == [*expected, dialog.leave_button, dialog.main_button]


# Facts


@pytest.fixture
def facts(qtbot: QtBot, theme: object) -> FactsField:
    assert theme
    field = FactsField(Topic.CONDITIONS, "Type a name", today=TODAY)
    qtbot.addWidget(field)
    field.show()
    return field


def test_a_word_is_found_by_its_beginning_where_only_one_fits(
    qtbot: QtBot, facts: FactsField
) -> None:
    qtbot.keyClicks(facts.entry, "haemophil")
    qtbot.keyClick(facts.entry, Key.Key_Return)
    assert facts.facts() == (Fact("haemophilia"),)
    assert facts.entry.text() == ""


def test_a_slip_is_offered_and_not_taken(qtbot: QtBot, facts: FactsField) -> None:
    qtbot.keyClicks(facts.entry, "diabtes")
    (row,) = facts.entry._offers
    assert row.startswith("Diabetes – did you mean this?")
    qtbot.keyClick(facts.entry, Key.Key_Return)
    assert facts.facts() is None
    facts.entry._choose(next(iter(facts.entry._offers)))
    assert facts.facts() == (Fact("diabetes"),)


def test_words_that_nothing_is_called_by_are_kept_by_a_second_enter(
    qtbot: QtBot, facts: FactsField
) -> None:
    qtbot.keyClicks(facts.entry, "dancing fever of 1518")
    qtbot.keyClick(facts.entry, Key.Key_Return)
    assert "No match for “dancing fever of 1518”" in facts.beneath.text()
    assert facts.facts() is None
    assert facts.entry.text() == "dancing fever of 1518"
    qtbot.keyClick(facts.entry, Key.Key_Return)
    assert facts.facts() == (Fact("", name="dancing fever of 1518"),)
    (line,) = facts._lines.values()
    assert line.counting is not None
    assert line.counting.text() == "Not checked: look it up."


def test_a_name_of_several_things_is_asked_about(qtbot: QtBot, facts: FactsField) -> None:
    qtbot.keyClicks(facts.entry, "hepatitis")
    qtbot.keyClick(facts.entry, Key.Key_Return)
    (line,) = facts._lines.values()
    assert [one.text() for one in line.answers][1] == "Hepatitis B"
    qtbot.mouseClick(line.answers[1], Qt.MouseButton.LeftButton)
    (fact,) = facts.facts() or ()
    assert fact.tag == "hepatitis-b"


def test_a_fact_can_be_dated_and_taken_out(qtbot: QtBot, facts: FactsField) -> None:
    facts.add(Fact("gout"))
    facts.add(Fact("diabetes", date(2020, 1, 1)))
    facts.add(Fact("gout"))
    assert facts.tags == ("gout", "diabetes")
    qtbot.keyClicks(facts._lines["gout"].first, "1.2.2027")
    qtbot.keyClicks(facts._lines["gout"].last, "1.3.2027")
    assert facts.facts() == (
        Fact("gout", date(2027, 2, 1), date(2027, 3, 1)),
        Fact("diabetes", date(2020, 1, 1)),
    )
    qtbot.mouseClick(facts._lines["gout"].remove, Qt.MouseButton.LeftButton)
    assert facts.facts() == (Fact("diabetes", date(2020, 1, 1)),)


@pytest.mark.parametrize(("first", "last"), [("2.2.2027", "1.2.2027"), ("soon", "")])
def test_days_of_a_fact_that_make_no_sense_are_told(
    qtbot: QtBot, facts: FactsField, first: str, last: str
) -> None:
    facts.add(Fact("gout"))
    line = facts._lines["gout"]
    qtbot.keyClicks(line.first, first)
    qtbot.keyClicks(line.last, last)
    assert facts.facts() is None
    assert not line.beneath.isHidden()
    assert line.beneath.text()


def test_t_takes_today_where_a_day_is_empty(qtbot: QtBot, facts: FactsField) -> None:
    facts.add(Fact("gout"))
    line = facts._lines["gout"]
    qtbot.keyClicks(line.first, "t")
    assert facts.facts() == (Fact("gout", TODAY),)
    qtbot.keyClicks(line.last, "3 oct 2027")
    assert facts.facts() == (Fact("gout", TODAY, date(2027, 10, 3)),)


@pytest.mark.parametrize("tag", ["pregnancy", "lactation", "planned-surgery"])
def test_what_is_often_asked_is_taken_by_a_button_and_dated(
    qtbot: QtBot, dialog: ClientDialog, tag: str
) -> None:
    dialog.activateWindow()
    qtbot.mouseClick(dialog.conditions.often[tag], Qt.MouseButton.LeftButton)
    line = dialog.conditions._lines[tag]
    qtbot.waitUntil(line.first.hasFocus)
    qtbot.keyClicks(line.first, "t")
    assert dialog.conditions.facts() == (Fact(tag, TODAY),)


def test_a_medicine_has_times(qtbot: QtBot, dialog: ClientDialog) -> None:
    type_into(qtbot, dialog.medicines.entry, "iron")
    qtbot.keyClick(dialog.medicines.entry, Key.Key_Return)
    line = dialog.medicines._lines["iron"]
    assert line.times is not None
    qtbot.keyClicks(line.times, "8:00, bedtime")
    assert dialog.medicines.facts() == (Fact("iron", at=(time(8), Moment.BEDTIME)),)
    line.times.setText("after tea")
    assert dialog.medicines.facts() is None
    assert "“after” is not a time" in line.beneath.text()


def test_a_medicine_is_typed_with_its_dose_and_says_what_it_counts_as(
    qtbot: QtBot, dialog: ClientDialog
) -> None:
    type_into(qtbot, dialog.medicines.entry, "ramipril 5 mg 8:00")
    assert next(iter(dialog.medicines.entry._offers)) == "Ramipril – ACE inhibitors"
    qtbot.keyClick(dialog.medicines.entry, Key.Key_Return)
    line = dialog.medicines._lines["ramipril"]
    assert line.dose is not None
    assert line.dose.text() == "5 mg"
    assert line.counting is not None
    assert line.counting.text() == "Counts as: ACE inhibitors, medicines for high blood pressure"
    assert dialog.medicines.facts() == (Fact("ramipril", at=(time(8),), dose="5 mg"),)


def test_what_a_medicine_is_for_is_asked_once(qtbot: QtBot, dialog: ClientDialog) -> None:
    dialog.medicines.add(Fact("ramipril"))
    yes, no = dialog.medicines._lines["ramipril"].answers
    assert yes.accessibleName() == "ramipril for high blood pressure: Yes"
    qtbot.mouseClick(no, Qt.MouseButton.LeftButton)
    assert dialog.medicines.facts() == (Fact("ramipril", not_for=("hypertension",)),)
    assert not dialog.medicines._lines["ramipril"].answers
    dialog.medicines.add(Fact("metformin"))
    qtbot.mouseClick(dialog.medicines._lines["metformin"].answers[0], Qt.MouseButton.LeftButton)
    assert dialog.conditions.facts() == (Fact("diabetes"),)
    assert not dialog.medicines._lines["metformin"].answers
    dialog.medicines.add(Fact("gliclazide"))
    assert not dialog.medicines._lines["gliclazide"].answers, "diabetes is there already"


def test_what_a_medicine_counts_as_can_be_changed(qtbot: QtBot, dialog: ClientDialog) -> None:
    dialog.medicines.add(Fact("", name="something blue"))
    line = dialog.medicines._lines["something blue"]
    assert line.change is not None

    def choose(sheet: QWidget) -> None:
        assert isinstance(sheet, ClassesDialog)
        type_into(qtbot, sheet.field.entry, "statins")
        qtbot.keyClick(sheet.field.entry, Key.Key_Return)
        sheet.submit()

    in_next_dialog(choose)
    line.choose_classes()
    (fact,) = dialog.medicines.facts() or ()
    assert fact == Fact("", name="something blue", classes=("statin",))
    changed = dialog.medicines._lines["something blue"].counting
    assert changed is not None
    assert changed.text().startswith("Counts as: statins")


def test_that_there_is_none_is_recorded(qtbot: QtBot, dialog: ClientDialog) -> None:
    type_into(qtbot, dialog.name, "Oskar Teale")
    assert dialog.medicines.all_asked.text() == "Asked: none"
    dialog.medicines.all_asked.click()
    dialog.conditions.add(Fact("gout"))
    assert dialog.conditions.all_asked.text() == "Asked: no others"
    dialog.reactions.all_asked.click()
    dialog.sex.setCurrentIndex(1)
    dialog.submit()
    assert dialog.answer is not None
    client = dialog.answer[0]
    assert client.asked == (Topic.MEDICINES, Topic.REACTIONS)
    assert client.sex is Sex.FEMALE
    made = ClientDialog(None, ClientEntry("", client), names=herb_names(), today=TODAY)
    qtbot.addWidget(made)
    assert not made.is_changed()
    made.medicines.all_asked.click()
    assert made.is_changed()


@pytest.mark.parametrize(
    ("typed", "tag"),
    [
        ("fennel", "fennel"),
        ("white willow", "willow-bark"),
        ("penicillin", "penicillin-allergy"),
        ("daisy family allergy", "asteraceae-allergy"),
    ],
)
def test_an_allergy_can_be_to_one_herb(
    qtbot: QtBot, dialog: ClientDialog, typed: str, tag: str
) -> None:
    type_into(qtbot, dialog.allergies.entry, typed)
    qtbot.keyClick(dialog.allergies.entry, Key.Key_Return)
    (fact,) = dialog.allergies.facts() or ()
    assert fact.tag == tag


def test_times_of_a_medicine_open_as_they_were_saved(qtbot: QtBot, theme: object) -> None:
    assert theme
    at = (Moment.BREAKFAST, time(20, 15))
    client = Client("Una Example", medicines=(Fact("iron", at=at),))
    made = ClientDialog(None, ClientEntry("", client), names=herb_names(), today=TODAY)
    qtbot.addWidget(made)
    assert not made.is_changed()
    made.submit()
    assert made.answer is not None
    assert made.answer[0] == client


@pytest.mark.parametrize("tag", ["hand-washing", "patch-test", "internal-use", "lactation-milk"])
def test_advice_and_what_herbs_do_cannot_be_recorded_of_a_client(
    dialog: ClientDialog, tag: str
) -> None:
    for field in (dialog.conditions, dialog.allergies):
        field.entry.setText(tag)
        field.entry.enter()
        assert field.tags == ()


def test_driving_is_that_of_someone_who_drives_for_work(dialog: ClientDialog) -> None:
    """Everyone is told about driving; it is a finding for whoever lives by it."""
    dialog.conditions.entry.setText("driving")
    dialog.conditions.entry.enter()
    assert dialog.conditions.tags == ("drives-for-work",)


def test_a_reaction_of_the_past_is_told_of_at_intake(qtbot: QtBot, dialog: ClientDialog) -> None:
    def fill(sheet: QWidget) -> None:
        assert isinstance(sheet, PastReactionDialog)
        sheet.submit()
        assert sheet.answer is None
        assert sheet.herbs_row.is_wrong
        assert sheet.what_row.is_wrong
        assert sheet.day_row.is_wrong
        type_into(qtbot, sheet.herbs.entry, "chamomile")
        qtbot.keyClick(sheet.herbs.entry, Key.Key_Return)
        type_into(qtbot, sheet.what, "Sneezing")
        type_into(qtbot, sheet.day, "1 May 2019")
        sheet.harm.setCurrentIndex(1)
        sheet.outcome.setCurrentIndex(3)
        sheet.submit()

    type_into(qtbot, dialog.name, "Oskar Teale")
    in_next_dialog(fill)
    dialog.reactions.ask()
    assert dialog.reactions.all_asked.text() == "Asked: no others"
    dialog.submit()
    assert dialog.past_reactions == (
        Reaction(
            date(2019, 5, 1),
            "taken elsewhere",
            ("chamomile",),
            "Sneezing",
            Harm.MILD,
            Outcome.STOPPED,
        ),
    )


def test_reactions_are_kept_where_the_record_is_changed(qtbot: QtBot, theme: object) -> None:
    assert theme
    reaction = Reaction(date(2027, 1, 5), "Joint tea", ("ginger",), "A rash")
    client = Client("Una Example", reactions=(reaction,))
    made = ClientDialog(None, ClientEntry("", client), names=herb_names(), today=TODAY)
    qtbot.addWidget(made)
    type_into(qtbot, made.contact, "01632 960002")
    made.submit()
    assert made.answer is not None
    assert made.answer[0].reactions == (reaction,)


def test_reactions_to_the_practices_own_herbs_have_their_names(
    qtbot: QtBot, theme: object
) -> None:
    assert theme
    reaction = Reaction(date(2027, 1, 5), "Joint tea", ("own-1",), "A rash")
    client = Client("Una Example", reactions=(reaction,))
    names = {**herb_names(), "own-1": "Moonwort"}
    made = ClientDialog(None, ClientEntry("", client), names=names, today=TODAY)
    qtbot.addWidget(made)
    labels = [label.text() for label in made.reactions.findChildren(QLabel)]
    assert labels == ["Moonwort, 5 January 2027: A rash"]

    def suspect(asked: PastReactionDialog) -> None:
        type_into(qtbot, asked.herbs.entry, "moonwort")
        qtbot.keyClick(asked.herbs.entry, Key.Key_Return)
        assert asked.herbs.tags == ("own-1",)
        asked.done(0)

    in_next_dialog(suspect)
    made.reactions.ask()


@pytest.mark.parametrize("typed", ["9/2/66", "9 Feb 66", "09.02.1966"])
def test_a_day_of_birth_is_typed_in_any_usual_way(qtbot: QtBot, typed: str) -> None:
    dialog = ClientDialog(None, names=herb_names(), today=TODAY)
    qtbot.addWidget(dialog)
    dialog.born.setText(typed)
    assert dialog.born.value() == date(1966, 2, 9)


def test_a_long_name_stands_above_its_days(qtbot: QtBot, theme: object) -> None:
    assert theme
    lines = {
        name: FactLine(Fact("gout", name=name), Topic.CONDITIONS, today=date(2027, 3, 3))
        for name in ("gout", "breast cancer in the past")
    }
    for line in lines.values():
        qtbot.addWidget(line)
        line.resize(380, line.heightForWidth(380) if line.hasHeightForWidth() else 80)
        line.show()
    short, long = (line.findChildren(QLabel)[0] for line in lines.values())
    lines_of_text = long.height() // long.fontMetrics().lineSpacing()
    assert lines_of_text <= 2
    assert long.width() > 2 * short.width()
