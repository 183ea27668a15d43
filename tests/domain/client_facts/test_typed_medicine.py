"""A medicine as it is typed, taken apart into name, dose and times."""

from __future__ import annotations

from collections import Counter
from datetime import time

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sennight.domain.client_facts.typed_medicine import TypedMedicine, typed_medicine
from sennight.domain.day import Moment


@pytest.mark.parametrize(
    ("text", "name", "dose", "at"),
    [
        ("ramipril", "ramipril", "", ()),
        ("ramipril 5 mg", "ramipril", "5 mg", ()),
        ("Ramipril 2.5mg", "Ramipril", "2.5mg", ()),
        ("5 mg ramipril", "ramipril", "5 mg", ()),
        ("5 mg ramipril daily", "ramipril", "5 mg daily", ()),
        ("levothyroxine, 100 micrograms", "levothyroxine", "100 micrograms", ()),
        ("levothyroxine 50 µg", "levothyroxine", "50 µg", ()),
        ("digoxin 62.5mcg mane", "digoxin", "62.5mcg", (Moment.RISING,)),
        ("co-codamol 8/500", "co-codamol", "8/500", ()),
        ("co-codamol 30/500 two tablets qds", "co-codamol", "30/500 two tablets qds", ()),
        ("salbutamol inhaler 2 puffs as needed", "salbutamol inhaler", "2 puffs as needed", ()),
        ("metformin 500 mg twice a day", "metformin", "500 mg twice a day", ()),
        (
            "apixaban 5 mg 08:00, 20:00",
            "apixaban",
            "5 mg",
            (time(8), time(20)),
        ),
        ("apixaban 5 mg 8 am and 8 pm", "apixaban", "5 mg", (time(8), time(20))),
        ("amitriptyline 10 mg nocte", "amitriptyline", "10 mg", (Moment.BEDTIME,)),
        ("simvastatin at night", "simvastatin", "", (Moment.BEDTIME,)),
        ("iron 08:00 with juice", "iron 08:00 with juice", "", ()),
        ("iron 1 tablet 08:00 with juice", "iron", "1 tablet 08:00 with juice", (time(8),)),
        ("methotrexate once weekly", "methotrexate", "once weekly", ()),
        ("methotrexate 10mg weekly", "methotrexate", "10mg weekly", ()),
        ("ibuprofen when needed", "ibuprofen", "when needed", ()),
        ("insulin glargine 20 units", "insulin glargine", "20 units", ()),
        # numbers that belong to names
        ("vitamin B12", "vitamin B12", "", ()),
        ("vitamin D3 1000 IU", "vitamin D3", "1000 IU", ()),
        ("5-HTP", "5-HTP", "", ()),
        ("5-fluorouracil", "5-fluorouracil", "", ()),
        ("omega-3", "omega-3", "", ()),
        ("interferon beta-1a", "interferon beta-1a", "", ()),
        ("polyethylene glycol 3350", "polyethylene glycol 3350", "", ()),
        # what is not understood stays as typed
        ("ramipril 5 mg for my heart", "ramipril", "5 mg for my heart", ()),
        ("something blue", "something blue", "", ()),
        ("20 mg", "20 mg", "", ()),
        ("", "", "", ()),
    ],
)
def test_a_typed_medicine_is_taken_apart(
    text: str, name: str, dose: str, at: tuple[Moment | time, ...]
) -> None:
    assert typed_medicine(text) == TypedMedicine(name, dose, at)


def letters(text: str) -> list[str]:
    return sorted(sign for sign in "".join(text.split()) if sign not in ",;:")


@given(st.text(alphabet=st.characters(codec="ascii"), max_size=40))
@example("8:00 5 mg ramipril 2 puffs, 9 pm")
def test_no_letter_is_lost(text: str) -> None:
    """But for those of the times that are read."""
    parts = typed_medicine(text)
    kept, typed = letters(parts.name + parts.dose), letters(text)
    assert kept == typed or (parts.at and not Counter(kept) - Counter(typed))
