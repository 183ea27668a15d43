"""The dispensary in a practice file: received, prepared, handed over, traced back and recalled."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from sennight.domain.courses.clients import Client
from sennight.domain.courses.protocols import Protocol, Step
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.stock import Movement, MovementKind, StockError, material_made
from sennight.domain.remedies.remedies import Ingredient
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.supply.quantities import Quantity
from sennight.practice.clients import add_client
from sennight.practice.course_reading import read_course
from sennight.practice.courses import course_entry, start_course
from sennight.practice.dispensary import (
    Made,
    Received,
    batches,
    batches_left,
    change_stock,
    make_batch,
    plan_batch,
    put_on_shelf,
    recall,
    recall_batch,
    receive,
    shelf,
    take_stock,
)
from sennight.practice.dispensing import (
    Handing,
    HandOverError,
    LabelChoices,
    hand_over,
    handed_to,
    label_stocks,
    last_container,
    open_courses,
)
from sennight.practice.given_papers import GiveChoices
from sennight.practice.giving import give
from sennight.practice.opening import OpenPractice
from sennight.practice.papers import PaperKind, list_given, paper_content
from sennight.practice.protocols import add_protocol
from sennight.practice.recalling import give_recall_letters
from sennight.practice.writing import FolderError, Staging
from support.dispensary_cases import NETTLE, TEA, TODAY, batch_of, course_of, stock_up
from support.filled import NOW
from support.pdf_pages import page_texts
from support.pdf_ua import problems_of
from support.samples import line, phase, take

F = Fraction


def test_from_the_delivery_to_the_client_and_back(practice: OpenPractice) -> None:
    nettle, ginger = stock_up(practice)
    client, course = course_of(practice, "Ada Finch")
    batch = batch_of(practice)
    handing = Handing(batch, course, TEA.id, 2, Quantity(F(100), Unit.G), "MR")
    hand_over(practice, handing, today=TODAY, now=NOW)

    assert shelf(practice).stock == {nettle: F(320), ginger: F(470)}
    (made,) = batches(practice)
    assert (made.number, made.remedy, made.use_by) == ("270104-1", TEA, date(2027, 6, 1))
    assert [part.delivery for part in made.parts] == [nettle, ginger]
    ((handed, its_batch),) = handed_to(practice, client)
    assert (handed.amount, handed.containers, its_batch) == (Quantity(F(200), Unit.G), 2, made)
    traced = recall(practice, nettle)
    assert (traced.batches, traced.handed) == ((made,), (handed,))

    other = replace(made, remedy=replace(TEA, name="Another"))
    assert last_container(practice, made) == Quantity(F(100), Unit.G)
    assert last_container(practice, other) is None
    with pytest.raises(HandOverError, match="10 g are left of batch 270104-1"):
        hand_over(practice, handing, today=TODAY, now=NOW)
    with pytest.raises(HandOverError, match="in date"):
        hand_over(practice, handing, today=date(2027, 6, 2), now=NOW)
    assert len(handed_to(practice, client)) == 1


def test_a_batch_of_another_formula_is_not_handed_over(practice: OpenPractice) -> None:
    """What was checked for the client is the course's formula, whatever the batch is called."""
    stock_up(practice)
    client, course = course_of(practice, "Ada Finch")
    more_ginger = replace(TEA, ingredients=tuple(reversed(TEA.ingredients)))
    amount, made = Quantity(F(90), Unit.G), Made("M. Reed")
    other = make_batch(practice, more_ginger, amount, made, today=TODAY, now=NOW)
    handing = Handing(other.id, course, TEA.id, 1, Quantity(F(45), Unit.G), "MR")
    with pytest.raises(HandOverError, match="made by another formula"):
        hand_over(practice, handing, today=TODAY, now=NOW)
    assert open_courses(practice, client, other, TODAY) == ()
    renamed = replace(TEA, id="x", name="The same under another name")
    same = make_batch(practice, renamed, amount, made, today=TODAY, now=NOW)
    hand_over(practice, replace(handing, batch=same.id), today=TODAY, now=NOW)
    assert len(handed_to(practice, client)) == 1
    with pytest.raises(HandOverError, match="no day left"):
        hand_over(practice, replace(handing, batch=same.id), today=date(2027, 5, 1), now=NOW)


def test_what_is_missing_is_said_and_nothing_falls_below_zero(practice: OpenPractice) -> None:
    nettle, _ = stock_up(practice)
    planned = plan_batch(practice, TEA, Quantity(F(1050), Unit.G), today=TODAY)
    assert [part.draw.missing for part in planned.missing] == [F(400)]
    batch_of(practice, 1050)
    assert shelf(practice).stock[nettle] == 0
    assert [part.delivery for part in batches(practice)[0].parts][:2] == [nettle, None]


def test_corrections_need_a_reason_and_a_stocktake_tells_its_differences(
    practice: OpenPractice,
) -> None:
    nettle, ginger = stock_up(practice)
    with pytest.raises(StockError, match="no reason is given"):
        change_stock(practice, Movement(nettle, TODAY, MovementKind.CORRECTED, F(-1)), now=NOW)
    too_much = Movement(nettle, TODAY, MovementKind.DISCARDED, F(-501), "mould")
    with pytest.raises(StockError, match="at most what is held"):
        change_stock(practice, too_much, now=NOW)
    change_stock(
        practice, Movement(nettle, TODAY, MovementKind.DISCARDED, F(-20), "mould"), now=NOW
    )
    found = take_stock(practice, {nettle: F(478), ginger: F(500)}, day=TODAY, now=NOW)
    assert [(movement.delivery, movement.amount) for movement in found] == [(nettle, F(-2))]
    assert shelf(practice).stock == {nettle: F(478), ginger: F(500)}
    with pytest.raises(StockError, match="above 0"):
        receive(practice, Received(NETTLE, F(0), "S", "b"), day=TODAY, now=NOW)
    assert len(shelf(practice).deliveries) == 2


def test_labels_are_written_kept_and_all_or_nothing(
    practice: OpenPractice, tmp_path: Path
) -> None:
    stock_up(practice)
    client, course = course_of(practice, "Ada Finch")
    handing = Handing(batch_of(practice), course, TEA.id, 2, Quantity(F(100), Unit.G), "MR")
    target = tmp_path / "labels.pdf"
    wrong = LabelChoices(target, label_stocks()[0], start=9)
    with pytest.raises(ValueError, match="expected 1 to 8"):
        hand_over(practice, handing, wrong, today=TODAY, now=NOW)
    assert (handed_to(practice, client), list_given(practice, client)) == ((), ())
    assert not target.exists()
    hand_over(practice, handing, LabelChoices(target, label_stocks()[0]), today=TODAY, now=NOW)
    (kept,) = list_given(practice, client)
    assert (kept.kind, paper_content(practice, kept.id)) == ("labels", target.read_bytes())
    page = page_texts(target.read_bytes())[0].replace("\u00a0", " ")
    assert page.count("Batch 270104-1") == 2
    assert "1 cup twice a day" in page
    (wanting,) = open_courses(practice, client, batches(practice)[0], TODAY)
    assert (wanting.entry.id, wanting.remedy, wanting.plan) == (course, TEA.id, "")
    assert open_courses(practice, client, batches(practice)[0], date(2028, 1, 1)) == ()


def test_what_is_made_here_is_drawn_from_and_recalled_through(practice: OpenPractice) -> None:
    """Nettle prepared here, on the shelf, into a tea that Ada got: one step back to the nettle."""
    nettle, _ = stock_up(practice)
    client, course = course_of(practice, "Ada Finch")
    plain = replace(TEA, id="n", name="Nettle", ingredients=(Ingredient("nettle-leaf", F(1)),))
    by = Made("M. Reed")
    batch = make_batch(practice, plain, Quantity(F(400), Unit.G), by, today=TODAY, now=NOW)
    assert material_made(plain) == NETTLE
    came = Received(NETTLE, F(150), "Made here", batch.number, date(2027, 2, 1), F(4))
    for wrong, why in (
        (replace(came, amount=F(401)), "400 g are left"),
        (replace(came, best_before=date(2028, 1, 1)), "no longer than its batch"),
        (replace(came, material=replace(NETTLE, unit=Unit.ML)), "expected no more"),
        (replace(came, amount=F(0)), "above 0"),
    ):
        with pytest.raises(StockError, match=why):
            put_on_shelf(practice, batch.id, wrong, day=TODAY, now=NOW)
    late = date(2029, 1, 1)
    with pytest.raises(StockError, match="expected one in date"):
        put_on_shelf(practice, batch.id, came, day=late, now=NOW)
    own = put_on_shelf(practice, batch.id, came, day=TODAY, now=NOW)
    assert {made.id: left for made, left in batches_left(practice)} == {batch.id: F(250)}
    tea = batch_of(practice, 210)
    parts = {made.id: made.parts for made in batches(practice)}[tea]
    assert own.id in {part.delivery for part in parts}
    handing = Handing(tea, course, TEA.id, 1, Quantity(F(100), Unit.G), "MR")
    hand_over(practice, handing, today=TODAY, now=NOW)
    traced = recall(practice, nettle)
    assert {made.id for made in traced.batches} == {batch.id, tea}
    assert [handed.client for handed in traced.handed] == [client]
    too_much = replace(handing, batch=batch.id, each=Quantity(F(251), Unit.G))
    with pytest.raises(HandOverError, match="250 g are left"):
        hand_over(practice, too_much, today=TODAY, now=NOW)


def test_a_remedy_of_a_flare_up_plan_is_kept_at_home(
    practice: OpenPractice, tmp_path: Path
) -> None:
    """Before any flare: by the plan's own formula, with its trigger and directions in order."""
    stock_up(practice)
    client = add_client(practice, Client("Ada Finch"))
    drops = replace(TEA, id="d", name="Other tea", ingredients=TEA.ingredients[:1])
    steps = (Step(2, take("1 cup bd")), Step(5, take("1 cup od")))
    usual = replace(line(TEA.id, "1 cup qds"), steps=steps)
    plan = phase("rescue", "5 d", usual)
    calm = phase("steady", "4 w", line("d", "1 cup bd"))
    protocol = Protocol("Knees", (calm, replace(plan, trigger="The knee is hot")))
    shelved = add_protocol(practice, protocol, remedies=(drops, TEA))
    course = start_course(practice, client, shelved, TODAY, now=NOW)
    batch = batch_of(practice)
    (wanting,) = open_courses(practice, client, batches(practice)[0], TODAY)
    assert (wanting.remedy, wanting.plan) == (TEA.id, "rescue")
    handing = Handing(batch, course, TEA.id, 1, Quantity(F(100), Unit.G), "MR")
    labels = LabelChoices(tmp_path / "labels.pdf", label_stocks()[0])
    hand_over(practice, handing, labels, today=TODAY, now=NOW)
    page = page_texts(labels.path.read_bytes())[0].replace("\u00a0", " ")
    assert "For the flare-up plan: start when the knee is hot. 1 cup four times a day" in page
    assert "for 5 days. After 2 days: 1 cup twice a day" in page
    assert "After 5 days" not in page
    reading = read_course(course_entry(practice, course).course, today=TODAY)
    assert [row.phase for row in reading.supplies] == ["steady"]
    (kept,) = reading.all_supplies[1:]
    assert (kept.phase, kept.amount, kept.containers) == ("rescue", F(60), 1)
    assert (kept.first_needed, kept.lasts_until, kept.order_by) == (None, None, None)
    over = date(2027, 5, 1)
    assert open_courses(practice, client, batches(practice)[0], over) == ()


def test_labels_say_the_directions_as_far_as_what_is_at_home_lasts(
    practice: OpenPractice, tmp_path: Path
) -> None:
    """1 cup of 3 g twice a day: 60 g last ten days, 160 g past the step after two weeks."""
    stock_up(practice)
    client = add_client(practice, Client("Ada Finch"))
    usual = replace(line(TEA.id, "1 cup bd"), steps=(Step(14, take("1 cup od")),))
    shelved = add_protocol(practice, Protocol("P", (phase("a", "8 w", usual),)), remedies=(TEA,))
    course = start_course(practice, client, shelved, TODAY, now=NOW)
    batch = batch_of(practice)
    pages = []
    for number, grams in enumerate((60, 100)):
        handing = Handing(batch, course, TEA.id, 1, Quantity(F(grams), Unit.G), "MR")
        labels = LabelChoices(tmp_path / f"labels-{number}.pdf", label_stocks()[0])
        hand_over(practice, handing, labels, today=TODAY, now=NOW)
        pages.append(page_texts(labels.path.read_bytes())[0].replace("\u00a0", " "))
    first, second = pages
    assert "1 cup twice a day" in first
    assert "To " not in first
    assert "To 17 January: 1 cup twice a day" in second
    assert "From 18 January: 1 cup once a day" in second


def test_the_phone_is_told_to_ask_for_more(practice: OpenPractice, tmp_path: Path) -> None:
    """1 cup of 3 g twice a day: 100 g last to day 16, so that more is asked for on day 9."""
    stock_up(practice)
    _, course = course_of(practice, "Ada Finch")
    handing = Handing(batch_of(practice), course, TEA.id, 1, Quantity(F(100), Unit.G), "MR")
    hand_over(practice, handing, today=TODAY, now=NOW)
    choices = GiveChoices(ReminderChoices(zone="Europe/London"))
    written = give(practice, course, tmp_path, now=NOW, today=TODAY, choices=choices)
    calendar = next(path for path in written if path.suffix == ".ics").read_text()
    told = calendar.replace("\n ", "")
    _, asked = told.split("SUMMARY:Order supplies\n")
    assert asked.startswith("DTSTART;VALUE=DATE:20270112")
    assert "yours lasts until about 19 January 2027" in told


def test_who_had_a_batch_is_told_with_what_was_made_of_it(
    practice: OpenPractice, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of a tea that others were made from, too; each has a letter with all that they had."""
    stock_up(practice)
    ada, course = course_of(practice, "Ada Finch")
    _, other = course_of(practice, "Bo Lark")
    first = batch_of(practice)
    shelved = put_on_shelf(
        practice,
        first,
        Received(NETTLE, F(100), "Made here", "own", date(2027, 3, 1)),
        day=TODAY,
        now=NOW,
    )
    second = batch_of(practice, 150)
    for batch, to in ((first, course), (second, course), (second, other)):
        handing = Handing(batch, to, TEA.id, 1, Quantity(F(30), Unit.G), "MR")
        hand_over(practice, handing, today=TODAY, now=NOW)
    traced = recall_batch(practice, first)
    made = {batch.id for batch in traced.batches}
    (further,) = (batch for batch in traced.batches if batch.id == second)
    assert shelved.id in {part.delivery for part in further.parts}
    assert (made, len(traced.handed)) == ({first, second}, 3)
    assert next(part.client for part in recall_batch(practice, second).handed) == ada
    path = tmp_path / "letters.pdf"
    give_recall_letters(practice, traced, path, now=NOW, today=TODAY)
    pdf = path.read_bytes()
    pages = page_texts(pdf)
    assert len(pages) == 2
    for page, name, times in zip(pages, ("Ada Finch", "Bo Lark"), (2, 1), strict=True):
        assert name in page
        assert page.count("30 g") == times
        assert "Do not use any more of it" in " ".join(page.split())
    assert not problems_of(pdf)
    assert given_letters(practice, ada) == [page_texts(pdf)[0]], "each keeps their own, no other's"

    def full(*_: object) -> None:
        raise FolderError("the disk is full")

    monkeypatch.setattr(Staging, "put", full)
    with pytest.raises(FolderError):
        give_recall_letters(practice, traced, path, now=NOW, today=TODAY)
    assert len(given_letters(practice, ada)) == 1, "nothing is on record that was not written"


def given_letters(practice: OpenPractice, client: str) -> list[str]:
    """The pages of the recall letters that a client was given."""
    return [
        page
        for paper in list_given(practice, client)
        if paper.kind == PaperKind.RECALL
        for page in page_texts(paper_content(practice, paper.id))
    ]
