from __future__ import annotations

from datetime import date
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.papers import (
    LONGEST_PART,
    NameParts,
    PaperKind,
    initials,
    kind_words,
    paper_name,
    plain,
    protocol_file_name,
)

DAY = date(2027, 1, 4)


@pytest.mark.parametrize(
    ("client", "protocol", "name"),
    [
        ("Una Example", "Stiff knees", "ue-stiff-knees-handout-2027-01-04-no7.pdf"),
        ("Anne-Marie O'Sample", "", "amos-handout-2027-01-04-no7.pdf"),
        ("", "", "handout-2027-01-04-no7.pdf"),
        ("U", "../../a\\b:c*", "u-a-b-c-handout-2027-01-04-no7.pdf"),
        ("Ärla Прикладова", "Größe & Ωmega", "äп-größe-ωmega-handout-2027-01-04-no7.pdf"),
        ("…", "…", "handout-2027-01-04-no7.pdf"),
    ],
)
def test_a_name_says_whose_what_and_when(client: str, protocol: str, name: str) -> None:
    parts = NameParts(client, protocol)
    assert paper_name(parts, "handout", day=DAY, number=7, suffix=".pdf") == name


def test_the_whole_name_stands_only_where_it_is_asked_for() -> None:
    assert NameParts("Una Example", "Knees", named=True).stem == "una-example-knees"
    assert initials("Una  example-Muster") == ("U", "E", "M")


@given(client=st.text(max_size=200), protocol=st.text(max_size=200), named=st.booleans())
def test_any_name_fits_every_file_system(client: str, protocol: str, *, named: bool) -> None:
    """255 bytes at most (ext4, APFS in UTF-8), no separator, no sign that Windows refuses."""
    stem = NameParts(client, protocol, named).stem
    name = paper_name(NameParts(client, protocol, named), "handout", day=DAY, number=1, suffix="")
    assert len(name.encode()) <= 2 * LONGEST_PART + 40
    assert not set(stem) & set('/\\:*?"<>|. \n\0')
    assert plain(plain(protocol)) == plain(protocol)


@pytest.mark.parametrize(
    ("protocol", "name"),
    [
        ("Stiff knees", "stiff-knees.toml"),
        ("STIFF KNEES", "stiff-knees.toml"),  # a file system that minds case has one name too
        ("Knees 1.5 …", "knees-1-5.toml"),
        ("../../etc/passwd", "etc-passwd.toml"),
        ("…", "protocol.toml"),
        ("Con", "protocol-con.toml"),
        ("lpt1", "protocol-lpt1.toml"),
        ("COM³.", "protocol-com³.toml"),
        ("Console", "console.toml"),
        ("ü" * 200, "ü" * 36 + ".toml"),
    ],
)
def test_a_protocols_file_has_a_name_that_every_file_system_takes(
    protocol: str, name: str
) -> None:
    """No device of Windows' with whatever suffix, no dot or space at the end, 255 bytes at most
    (Microsoft, Naming Files, Paths, and Namespaces)."""
    assert protocol_file_name(protocol) == name


def test_papers_of_one_practice_never_have_the_same_name() -> None:
    """Whatever clients and protocols are called, their givings have other numbers."""
    names = [("Ann Bee", "Joints"), ("Al Boo", "Joints"), ("", "ab joints"), ("Ab", "joints no1")]
    made = [
        paper_name(NameParts(*parts), label, day=DAY, number=number, suffix=".pdf")
        for number, parts in enumerate(names, 1)
        for label in ("handout", "letter")
    ]
    assert all(one != other for one, other in combinations(made, 2))


def test_every_paper_has_a_name_of_its_own() -> None:
    assert len({kind_words(kind) for kind in PaperKind}) == len(PaperKind)
