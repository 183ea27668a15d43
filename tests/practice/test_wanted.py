"""To prepare, to order, prices and receipts, in a practice file."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from pathlib import Path

import pytest

from sennight.domain.courses.stretches import lay_out
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.pricing import PriceRule, Prices, price_of
from sennight.domain.supply.containers import phase_supplies
from sennight.domain.supply.quantities import Quantity
from sennight.practice.courses import course_entry
from sennight.practice.dispensing import Handing, hand_over
from sennight.practice.opening import OpenPractice
from sennight.practice.pricing import (
    costing_of,
    keep_prices,
    price_list,
    prices_of,
    receipt,
    write_price_list,
)
from sennight.practice.wanted import (
    keep_minimum,
    minimums,
    order_list,
    order_sheet,
    planned,
    wanted,
    worksheet,
    write_orders,
)
from support.dispensary_cases import GINGER, NETTLE, TEA, TODAY, batch_of, course_of, stock_up
from support.filled import NOW
from support.pdf_pages import page_texts
from support.pdf_ua import problems_of

F = Fraction
RULE = PriceRule(markup=F(1, 2), fee=F(1), tax=F(1, 5), step=F(1, 20))


def test_what_begins_is_wanted_until_enough_was_handed_over(practice: OpenPractice) -> None:
    stock_up(practice)
    _, course = course_of(practice, "Ada Finch")
    (row,) = wanted(practice, TODAY)
    assert (row.client, row.what.course, row.what.by) == ("Ada Finch", course, TODAY)
    ((_, made),) = planned(practice, [row], TODAY)
    assert made.amount.amount == (row.what.containers or 0) * 100
    batch = batch_of(practice, 700)
    containers = row.what.containers or 0
    hand_over(
        practice,
        Handing(batch, course, TEA.id, containers, Quantity(F(100), Unit.G), "MR"),
        today=TODAY,
        now=NOW,
    )
    assert wanted(practice, TODAY) == ()


def test_what_is_made_is_neither_prepared_nor_ordered_again(practice: OpenPractice) -> None:
    """One batch is enough for the first of two clients; the second is still to be prepared."""
    stock_up(practice)
    course_of(practice, "Ada Finch")
    course_of(practice, "Bo Lark")
    batch_of(practice, 300)
    batch_of(practice, 90)
    first, second = wanted(practice, TODAY)
    assert (first.client, second.client, second.made) == ("Ada Finch", "Bo Lark", None)
    assert first.made is not None
    assert first.made.amount.amount == 300
    assert [row for row, _ in planned(practice, (first, second), TODAY)] == [second]
    late = first.made.use_by + timedelta(days=1)
    assert all(row.made is None for row in wanted(practice, late))


def test_a_worksheet_goes_along_the_shelf_and_then_by_remedy(practice: OpenPractice) -> None:
    stock_up(practice)
    course_of(practice, "Ada Finch")
    rows = wanted(practice, TODAY)
    pdf = worksheet(practice, rows, TODAY)
    text = " ".join(" ".join(page_texts(pdf)).split())
    for said in ("From the shelf", "Nettle leaf, dried herb", "For Ada Finch", "Batch number"):
        assert said in text
    assert "of Hedgerow Supplies N-17" in text
    assert not problems_of(pdf)
    assert "Nothing to prepare." in " ".join(page_texts(worksheet(practice, (), TODAY)))


def test_orders_are_what_is_missing_by_supplier(practice: OpenPractice, tmp_path: Path) -> None:
    stock_up(practice)
    assert order_list(practice, TODAY, wanted(practice, TODAY)) == ()
    keep_minimum(practice, GINGER, F(600), now=NOW)
    keep_minimum(practice, NETTLE, F(10), now=NOW)
    keep_minimum(practice, NETTLE, F(0), now=NOW)
    assert minimums(practice) == {GINGER: 600}
    (order,) = order_list(practice, TODAY, wanted(practice, TODAY))
    assert (order.material, order.supplier) == (GINGER, "Hedgerow Supplies")
    assert order.amount == 100
    path = write_orders(practice, [order], tmp_path / "orders.csv")
    assert path.read_text("utf-8").splitlines() == [
        "supplier,material,held as,ratio,ethanol,amount,unit",
        "Hedgerow Supplies,Ginger,dried,,,100,g",
    ]
    other = replace(order, supplier="", material=NETTLE)
    pdf = order_sheet(practice, [other, order], TODAY)
    text = " ".join(" ".join(page_texts(pdf)).split())
    assert text.index("Hedgerow Supplies") < text.index("Ginger, dried herb")
    assert text.index("Supplier not known") < text.index("Nettle leaf, dried herb")
    assert not problems_of(pdf)
    assert "Nothing to order." in " ".join(page_texts(order_sheet(practice, [], TODAY)))


def test_prices_follow_the_rules_of_the_practice(practice: OpenPractice, tmp_path: Path) -> None:
    """12 for 500 g of each herb is 2.40 for 100 g: half as much again, 1 a container, and tax."""
    stock_up(practice)
    assert prices_of(practice) == Prices()
    prices = Prices(RULE, {"tea": replace(RULE, fee=F(2))}, "€")
    keep_prices(practice, prices, now=NOW)
    keep_prices(practice, prices, now=NOW)
    assert prices_of(practice) == prices
    course_of(practice, "Ada Finch")
    (tea,) = price_list(practice)
    assert (tea.cost, tea.container) == (F(12, 5), Quantity(F(100), Unit.G))
    assert tea.price == price_of(F(12, 5), 1, replace(RULE, fee=F(2)))
    assert tea.price is not None
    assert prices.words(tea.price.total) == "€6.75"
    rows = write_price_list(practice, tmp_path / "prices.csv").read_text("utf-8").splitlines()
    assert rows[1].endswith("100 g,2.4,6.75,1.13")


def test_a_receipt_has_what_was_handed_over_that_day(practice: OpenPractice) -> None:
    stock_up(practice)
    keep_prices(practice, Prices(RULE), now=NOW)
    client, course = course_of(practice, "Ada Finch")
    handing = Handing(batch_of(practice), course, TEA.id, 2, Quantity(F(100), Unit.G), "MR")
    hand_over(practice, handing, today=TODAY, now=NOW)
    pdf = receipt(practice, client, TODAY)
    text = " ".join(" ".join(page_texts(pdf)).split())
    for said in ("Receipt", "Ada Finch, 4 January 2027", "200 g", "270104-1", "Tax included"):
        assert said in text
    assert "£11.05" in text  # 4.80 for 200 g, by 1.5, and 2 for two bags, by 1.2, up to 0.05
    assert not problems_of(pdf)
    empty = " ".join(page_texts(receipt(practice, client, TODAY + timedelta(days=1))))
    assert "270104-1" not in empty


def test_a_course_costs_what_its_containers_do(practice: OpenPractice) -> None:
    _, course = course_of(practice, "Ada Finch")
    made = course_entry(practice, course).course
    supplies = phase_supplies(lay_out(made))
    assert costing_of(practice).of_course(made, supplies) is None
    stock_up(practice)
    keep_prices(practice, Prices(), now=NOW)
    costed = costing_of(practice).of_course(made, supplies)
    assert costed is not None
    containers = sum(supply.containers or 0 for supply in supplies)
    assert costed.cost == containers * F(12, 5)
    assert costed.price >= costed.cost


@pytest.mark.parametrize(
    ("amount", "words"),
    [(F(0), "£0.00"), (F(5, 1000), "£0.01"), (F(1999, 1000), "£2.00"), (F(123456), "£123456.00")],
)
def test_sums_have_two_places(amount: Fraction, words: str) -> None:
    assert Prices().words(amount) == words
