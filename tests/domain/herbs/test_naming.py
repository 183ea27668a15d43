"""Herbs by any of their names."""

from __future__ import annotations

import pytest

from sennight.domain.herbs.naming import Heading, latin_names, name_key, names_of
from sennight.practice.materia_medica import supplied_materia_medica

NAMES = names_of(supplied_materia_medica().headings)


@pytest.mark.parametrize(
    ("typed", "herb"),
    [
        ("white willow", "willow-bark"),
        ("White-Willow", "willow-bark"),
        ("Salix alba", "willow-bark"),
        ("salix purpurea", "willow-bark"),
        ("licorice", "liquorice"),
        ("Glycyrrhiza glabra", "liquorice"),
        ("marigold", "calendula"),
        ("stinging nettle", "nettle-leaf"),
        ("devils claw", "devils-claw"),
        ("Devil’s Claw", "devils-claw"),
        ("St. Johns Wort", "st-johns-wort"),
        ("hypericum perforatum", "st-johns-wort"),
        ("ladys mantle", "ladys-mantle"),
        ("butchers broom", "butchers-broom"),
        ("uva ursi", "bearberry"),
        ("agnus castus", "chaste-tree"),
        ("goldenrod", "golden-rod"),
        ("camomile", "chamomile"),
        ("Cimicifuga racemosa", "black-cohosh"),
        ("Cynara scolymus", "artichoke"),
        ("Betula pubescens", "birch-leaf"),
        ("willow-bark", "willow-bark"),
        ("Salicis cortex", "willow-bark"),
        ("linden", "lime-flower"),
        ("flaxseed", "linseed"),
        ("psyllium husk", "ispaghula"),
        ("psyllium", "ispaghula"),
        ("buckbean", "bogbean"),
        ("tilia", "lime-flower"),
        ("chilli", "cayenne"),
    ],
)
def test_a_herb_is_found_by_what_people_call_it(typed: str, herb: str) -> None:
    assert NAMES.ids(typed) == (herb,)


def test_a_name_of_two_herbs_gives_both() -> None:
    assert NAMES.ids("nettle") == ("nettle-leaf", "nettle-root")
    assert NAMES.ids("dandelion") == ("dandelion-leaf", "dandelion-root")
    assert NAMES.ids("moonwort") == ()
    assert NAMES.ids("") == ()


def test_every_herb_is_found_by_each_of_its_names() -> None:
    for herb in supplied_materia_medica().herbs.values():
        assert herb.other_names, herb.id
        for name in herb.heading.all_names:
            assert herb.id in NAMES.ids(name), name
        assert herb.is_substance or list(latin_names(herb.latin)), herb.latin


def test_two_plants_share_no_name() -> None:
    """But for a leaf and a root of one plant, which have one Latin name."""
    herbs = supplied_materia_medica().herbs
    for herb in herbs.values():
        for name in herb.heading.all_names:
            plants = {herbs[one].latin.split()[0] for one in NAMES.ids(name)}
            assert len(plants) == 1, (name, NAMES.ids(name))


def test_species_are_told_from_a_latin_name() -> None:
    said = "Salix spp. (S. purpurea L., S. alba L.)"
    assert list(latin_names(said)) == ["Salix purpurea", "Salix alba"]
    assert list(latin_names("Birch / Betula pendula Roth")) == ["Betula pendula"]
    assert name_key("Äçé – d’Or") == "acedor"


def test_names_of_further_herbs_join_the_known() -> None:
    more = NAMES.and_of([Heading("own-1", "Moonwort"), Heading("own-2", "Yarrow")])
    assert more.ids("moonwort") == ("own-1",)
    assert more.ids("yarrow") == ("yarrow", "own-2")
    assert more.known[-2:] == ["own-1", "own-2"]
    assert NAMES.ids("moonwort") == ()


def test_the_names_of_the_same_herbs_are_made_once() -> None:
    few = (Heading("yarrow", "Yarrow"), Heading("betony", "Betony"))
    names_of.cache_clear()
    assert names_of(few) is names_of(tuple(few))
    assert names_of(few).ids("betony") == ("betony",)
