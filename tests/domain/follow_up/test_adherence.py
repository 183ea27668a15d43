from __future__ import annotations

from datetime import time
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.amounts import rounded
from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, Flare, Pause, PauseMode
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.day import ClientDay, Moment
from sennight.domain.follow_up.adherence import USUAL_CUT, adherence, by_week, by_weekday
from sennight.domain.follow_up.diaries import Taken
from sennight.domain.schedule.doses import doses
from support.draws import draws
from support.files import REFERENCES, from_yaml
from support.samples import REMEDIES, course, courses, day, line, phase

ROWS: list[dict[str, Any]] = from_yaml((REFERENCES / "adherence.yaml").read_text())


def kept(remedy: str, *doses_by_day: int, start: int = 1) -> list[Taken]:
    """A diary of one remedy, day after day."""
    return [Taken(day(start + n), remedy, taken) for n, taken in enumerate(doses_by_day)]


def spread(taken: int, due_a_day: int, days: int) -> list[Taken]:
    """Doses taken, the first days in full."""
    counts = [min(due_a_day, max(0, taken - n * due_a_day)) for n in range(days)]
    return kept("t1", *counts)


def one_phase(text: str, span: str = "20 w") -> Layout:
    return lay_out(course(phase("only", span, line("t1", text))))


@pytest.mark.parametrize("row", [r for r in ROWS if r["id"].startswith("doses")], ids=str)
def test_the_proportion_of_doses_is_that_of_the_reference(row: dict[str, Any]) -> None:
    taken, due = row["inputs"]["taken"], row["inputs"]["prescribed"]
    found = adherence(one_phase("1 cup bd"), spread(taken, 2, due // 2 + due % 2))
    if due % 2:
        found = adherence(one_phase("1 cup tds"), spread(taken, 3, due // 3))
    assert found.overall.due == due
    share = found.overall.proportion
    assert share is not None
    assert Fraction(rounded(share, 4)) == Fraction(str(row["expected"]))
    assert found.overall.reaches_usual_cut is row["adherent"]


@pytest.mark.parametrize("row", [r for r in ROWS if r["id"].startswith("volume")], ids=str)
def test_a_returned_volume_told_as_doses_gives_the_reference(row: dict[str, Any]) -> None:
    given_ = row["inputs"]
    used = (given_["dispensed_ml"] - given_["returned_ml"]) // given_["dose_ml"]
    rhythm = {2: "bd", 3: "tds"}[given_["per_day"]]
    diary = spread(used, given_["per_day"], given_["days"])
    share = adherence(one_phase(f"5 mL {rhythm}"), diary).overall.proportion
    assert share is not None
    assert Fraction(rounded(share, 4)) == Fraction(str(row["expected"]))


def test_the_usual_cut_is_the_published_one() -> None:
    (row,) = (r for r in ROWS if r["id"] == "usual_cut")
    assert Fraction(str(row["expected"])) == USUAL_CUT


def test_off_days_of_a_cycle_are_not_due() -> None:
    layout = one_phase("1 cup od 2 d on 2 d off")
    found = adherence(layout, kept("t1", 1, 1, 0, 0, 1, 0))
    assert (found.overall.days_due, found.overall.days_recorded) == (4, 4)
    assert found.overall.proportion == Fraction(3, 4)


def test_days_of_a_pause_are_not_due() -> None:
    pause = Pause(on=day(1), first=day(2), last=day(3), mode=PauseMode.SKIP)
    layout = lay_out(course(phase("only", "4 w", line("t1", "1 cup od")), revisions=(pause,)))
    found = adherence(layout, kept("t1", 1, 0, 0, 1)).overall
    assert (found.due, found.taken, found.days_due) == (2, 2, 2)


def test_days_without_an_entry_are_told_apart_and_not_as_missed() -> None:
    found = adherence(one_phase("1 cup tds"), [*kept("t1", 3), *kept("t1", 2, start=4)]).overall
    assert (found.days_due, found.days_recorded) == (4, 2)
    assert (found.due, found.taken) == (6, 5)
    assert found.proportion == Fraction(5, 6)
    assert found.bounds == (Fraction(5, 12), Fraction(11, 12))


def test_no_proportion_is_told_where_few_days_have_an_entry() -> None:
    found = adherence(one_phase("1 cup tds"), [*kept("t1", 3), *kept("t1", 2, start=5)]).overall
    assert (found.days_due, found.days_recorded, found.proportion) == (5, 2, None)
    assert found.reaches_usual_cut is None
    assert found.bounds == (Fraction(5, 15), Fraction(14, 15))


def test_who_stops_on_day_14_went_on_for_14_days_of_84() -> None:
    """Initiation, implementation and persistence, Vrijens et al. 2012: 13 of 14 were taken."""
    diary = kept("t1", *[1] * 9, 0, *[1] * 4)
    found = adherence(one_phase("1 cup od", "12 w"), diary, today=day(84)).overall
    assert (found.first, found.last) == (day(1), day(14))
    assert found.implementation == Fraction(13, 14)
    assert (found.days_kept, found.days_asked) == (14, 84)
    assert found.persistence == Fraction(14, 84)
    recorded = adherence(one_phase("1 cup od", "12 w"), [*diary, *kept("t1", *[0] * 70, start=15)])
    assert recorded.overall.proportion == Fraction(13, 84)
    assert recorded.overall.implementation == Fraction(13, 14)
    assert recorded.overall.persistence == Fraction(14, 84)


def test_nothing_taken_has_no_implementation_and_was_not_begun() -> None:
    found = adherence(one_phase("1 cup od"), kept("t1", 0, 0)).overall
    assert (found.first, found.implementation, found.persistence) == (None, None, Fraction(0))


def test_by_weekday_and_by_week() -> None:
    """1 January 2027 was a Friday; the course begins on Monday the 4th."""
    report = adherence(one_phase("1 cup bd"), kept("t1", 2, 1, 0, 2, 2, 2, 2, 1))
    assert [share.taken for share in by_weekday(report.days)] == [3, 1, 0, 2, 2, 2, 2]
    assert by_weekday(report.days)[0].proportion == Fraction(3, 4)
    weeks = by_week(report.days, day(1))
    assert [(week, share.due, share.taken) for week, share in weeks] == [(1, 14, 11), (2, 2, 1)]
    assert by_weekday(())[6].proportion is None


def test_doses_above_what_was_due_do_not_make_up_for_missed_ones() -> None:
    found = adherence(one_phase("1 cup bd"), kept("t1", 0, 4)).overall
    assert (found.due, found.taken, found.as_needed, found.extra) == (4, 2, 0, 2)
    assert found.proportion == Fraction(1, 2)


def test_as_needed_doses_stand_outside_the_proportion() -> None:
    layout = one_phase("1 cup bd and prn max 3/day")
    found = adherence(layout, kept("t1", 1, 4, 7)).overall
    assert (found.due, found.taken, found.as_needed, found.extra) == (6, 5, 5, 2)


def test_a_line_all_as_needed_has_no_proportion() -> None:
    found = adherence(one_phase("1 cup prn max 3/day"), kept("t1", 2, 0)).overall
    assert (found.due, found.as_needed, found.days_due, found.proportion) == (0, 2, 0, None)
    assert found.reaches_usual_cut is None
    assert found.bounds is None


def test_a_dose_past_midnight_belongs_to_the_clients_day() -> None:
    client_day = ClientDay.at({Moment.BEDTIME: time(0, 30)})
    client = Client("Una Example", day=client_day)
    layout = lay_out(course(phase("only", "2 d", line("t1", "1 cup nocte")), client=client))
    assert [dose.date for dose in doses(layout)] == [day(2), day(3)]
    found = adherence(layout, kept("t1", 1, 1)).overall
    assert (found.due, found.taken, found.extra) == (2, 2, 0)


def test_a_flares_doses_count_for_the_rescue_phase() -> None:
    flare = Flare(on=day(3), first=day(3), rescue="rescue")
    layout = lay_out(
        course(
            phase("base", "4 w", line("t1", "1 cup od")),
            phase("rescue", "2 d", line("t1", "1 cup tds")),
            revisions=(flare,),
        )
    )
    found = dict(adherence(layout, kept("t1", 1, 1, 3, 2, 1)).phases)
    assert (found["base"].due, found["base"].taken) == (3, 3)
    assert (found["rescue"].due, found["rescue"].taken) == (6, 5)


def test_first_and_last_day_taken_are_told() -> None:
    found = adherence(one_phase("1 cup od"), kept("t1", 0, 1, 1, 0)).overall
    assert (found.first, found.last) == (day(2), day(3))


def test_without_a_diary_nothing_is_due() -> None:
    found = adherence(one_phase("1 cup od"), [])
    assert (found.overall.days_due, found.overall.proportion) == (0, None)


entries = st.dictionaries(
    st.tuples(st.integers(1, 60).map(day), st.sampled_from(REMEDIES)), st.integers(0, 8)
).map(lambda found: [Taken(*key, taken) for key, taken in found.items()])


@settings(max_examples=draws(30))
@given(courses(), entries)
def test_remedies_add_up_to_the_whole_and_nothing_is_lost(one: Course, diary: list[Taken]) -> None:
    found = adherence(lay_out(one), diary)
    for name in ("days_due", "days_recorded", "due", "taken", "as_needed", "extra"):
        parts = [getattr(part, name) for _, part in found.remedies]
        assert sum(parts) == getattr(found.overall, name)
    told = found.overall
    assert told.taken + told.as_needed + told.extra == sum(entry.doses for entry in diary)
    assert 0 <= told.taken <= told.due
    assert told.days_recorded <= told.days_due
    assert 0 <= told.days_kept <= told.days_asked == told.days_due
    assert told.kept_taken <= told.kept_due <= told.due <= told.all_due
    for share in (told.implementation, told.persistence, *(told.bounds or ())):
        assert share is None or 0 <= share <= 1
    if told.bounds and told.proportion is not None:
        assert told.bounds[0] <= told.proportion <= told.bounds[1]
