"""The supplied materia medica: nothing lost, nothing undefined, and a reader that takes no less.

The counts are those of the facts that were gathered from the published texts, each kind on its
own, so that a fact that is lost or written twice shows.
"""

from __future__ import annotations

import re
import shutil
import tomllib
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest

from sennight.domain.herbs.doses import DoseUnit, TakenAs
from sennight.domain.herbs.general_rules import Topic
from sennight.domain.herbs.herbs import Caution, Herb
from sennight.domain.herbs.ranges import working_range
from sennight.domain.herbs.sources import Basis, Origin, Source, SourceKind
from sennight.knowledge.materia_medica import MateriaMedicaError, read_materia_medica
from sennight.knowledge.vocabulary import vocabulary
from sennight.places import own_folder
from sennight.practice.materia_medica import supplied_materia_medica
from support.every import for_every

FOLDER = own_folder("resources") / "materia_medica"
HERBS = tuple(supplied_materia_medica().herbs.values())
PLANTS = tuple(herb for herb in HERBS if not herb.is_substance)


def origins(herb: Herb) -> Iterator[Origin]:
    """The origin of every fact of a herb that has one."""
    for row in herb.doses:
        yield row.made_from
        yield row.dose_from
        if row.times_from:
            yield row.times_from
    yield from (one.origin for one in herb.all_cautions)
    yield from (one.origin for one in herb.durations)
    yield from (one.origin for one in herb.constituents)
    yield from (one.origin for one in (herb.min_age, herb.min_age_skin, herb.min_ethanol) if one)
    yield from (one.origin for one in herb.law)
    yield from (one.origin for one in herb.not_as)
    yield from (herb.actions.origin, herb.official.origin)
    if herb.usual:
        yield herb.usual.origin


def of_each_basis(bases: Iterator[Basis | None]) -> tuple[int, int]:
    found = Counter(bases)
    return found[Basis.READ], found[Basis.MEMORY]


def test_every_fact_that_was_gathered_is_held() -> None:
    count = {
        "herbs": len(PLANTS),
        "preparations": sum(len(herb.doses) for herb in PLANTS),
        "daily doses": sum(1 for herb in PLANTS for row in herb.doses if row.daily),
        "single doses": sum(1 for herb in PLANTS for row in herb.doses if row.dose),
        "ratios": sum(1 for herb in PLANTS for row in herb.doses if row.ratio),
        "strengths": sum(1 for herb in PLANTS for row in herb.doses if row.ethanol),
        "notes": sum(1 for herb in PLANTS for row in herb.doses if row.note),
        "cautions": sum(len(herb.cautions) for herb in PLANTS),
        "interactions": sum(len(herb.interactions) for herb in PLANTS),
        "durations": sum(len(herb.durations) for herb in PLANTS),
        "constituents": sum(len(herb.constituents) for herb in PLANTS),
        "figures": sum(1 for herb in PLANTS for one in herb.constituents if one.figure),
        "actions": sum(len(herb.actions.tags) for herb in PLANTS),
        "daily ranges": sum(1 for herb in PLANTS if herb.usual),
        "sources": sum(len(herb.sources) for herb in PLANTS),
        "remarks": sum(1 for herb in PLANTS if herb.remark),
    }
    assert count == {
        "herbs": 156,
        "preparations": 961,
        "daily doses": 757,
        "single doses": 618,
        "ratios": 380,
        "strengths": 292,
        "notes": 535,
        "cautions": 1253,
        "interactions": 702,
        "durations": 271,
        "constituents": 367,
        "figures": 104,
        "actions": 860,
        "daily ranges": 149,
        "sources": 1350,
        "remarks": 99,
    }


def test_what_was_read_and_what_was_remembered_is_kept_apart() -> None:
    rows = [row for herb in PLANTS for row in herb.doses]
    read_and_remembered = {
        "doses": of_each_basis(row.dose_from.basis for row in rows),
        "times": of_each_basis(row.times_from.basis if row.times_from else None for row in rows),
        "daily": of_each_basis(row.daily_basis for row in rows),
        "forms": of_each_basis(row.made_from.basis for row in rows),
        "cautions": of_each_basis(one.origin.basis for herb in PLANTS for one in herb.cautions),
        "interactions": of_each_basis(
            one.origin.basis for herb in PLANTS for one in herb.interactions
        ),
        "durations": of_each_basis(one.origin.basis for herb in PLANTS for one in herb.durations),
        "constituents": of_each_basis(
            one.origin.basis for herb in PLANTS for one in herb.constituents
        ),
    }
    assert read_and_remembered == {
        "doses": (640, 321),
        "times": (306, 276),
        "daily": (455, 302),
        "forms": (726, 235),
        "cautions": (631, 622),
        "interactions": (293, 409),
        "durations": (130, 141),
        "constituents": (271, 96),
    }


@for_every(HERBS, lambda herb: herb.id)
def test_every_tag_is_in_the_vocabulary(herb: Herb) -> None:
    words = vocabulary()
    assert set(herb.systems) <= {system for plant in PLANTS for system in plant.systems}
    assert {one.tag for one in herb.cautions} <= set(words.conditions)
    assert {one.tag for one in herb.interactions} <= set(words.medicines)
    assert {one.tag for one in herb.constituents} <= set(words.constituents)
    assert set(herb.actions.tags) <= set(words.actions)
    assert len(set(herb.actions.tags)) == len(herb.actions.tags)


_WIDER = {"act against germs in the bladder"}
"""What is for one place of several: a remedy that is for both is said to be for both."""


def test_every_action_says_to_a_client_what_it_is_for() -> None:
    """Verb phrases that follow “Used to”, in small letters, none of them a claim to cure."""
    words = vocabulary()
    assert set(words.purposes) == set(words.actions)
    phrases = {phrase for said in words.purposes.values() for phrase in said}
    for phrase in phrases:
        assert phrase[0].islower()
        assert not {"cure", "heal.", "safe", "treat"} & set(phrase.split())
        assert not any(phrase in other for other in phrases - {phrase} - _WIDER), phrase


def test_burdens_are_of_constituents_in_the_vocabulary() -> None:
    burdens = supplied_materia_medica().burdens
    assert set(burdens) <= set(vocabulary().constituents)
    assert sum(len(one.limits) for one in burdens.values()) == 15
    assert {limit.constituent for one in burdens.values() for limit in one.limits} == {
        *("thujone", "pyrrolizidine-alkaloids", "glycyrrhizin", "salicylates", "hypericins"),
        *("anthraquinones", "arbutin", "berberine", "iodine", "kavalactones"),
    }


def test_general_rules_are_about_herbs_that_are_held() -> None:
    rules = supplied_materia_medica().rules
    assert len({rule.id for rule in rules}) == len(rules) == 56
    assert {name for rule in rules for name in rule.herbs} <= set(supplied_materia_medica().herbs)
    for rule in rules:
        assert (rule.urgency is not None) == (rule.topic is Topic.RED_FLAG), rule.id


@for_every(HERBS, lambda herb: herb.id)
def test_every_fact_has_a_source_of_its_herb_and_every_source_a_fact(herb: Herb) -> None:
    used = {origin.source.id for origin in origins(herb)}
    assert used == {source.id for source in herb.sources}


@for_every(HERBS, lambda herb: herb.id)
def test_nothing_read_comes_from_a_text_that_was_not_seen(herb: Herb) -> None:
    for origin in origins(herb):
        if origin.basis is Basis.READ:
            assert origin.source.basis is Basis.READ
    assert all(source.kind is not SourceKind.PRACTICE for source in read_sources(herb))


def read_sources(herb: Herb) -> Iterator[Source]:
    return (source for source in herb.sources if source.basis is Basis.READ)


@for_every(HERBS, lambda herb: herb.id)
def test_a_daily_dose_that_was_worked_out_is_dose_times_times(herb: Herb) -> None:
    for row in herb.doses:
        if row.worked_out and row.dose and row.times and row.daily:
            least, most = row.dose.low * row.times[0], row.dose.high * row.times[1]
            assert (row.daily.low, row.daily.high) == (least, most), row.id


@pytest.mark.parametrize(
    ("herb", "form", "low", "high", "unit", "grams"),
    [
        ("cramp-bark", "tincture", "15", "30", "mL", ("3", "6")),  # 5-10 mL x 3, 1:5
        ("prickly-ash", "tincture", "6", "15", "mL", ("1.2", "3")),  # 2-5 mL x 3, 1:5
        ("black-cohosh", "liquid-extract", "0.6", "0.6", "mL", ("0.6", "0.6")),  # 0.2 mL x 3, 1:1
        ("lemon-balm", "infusion", "1.5", "13.5", "g", None),  # 1.5-4.5 g, 1-3 times
        ("golden-rod", "infusion", "6", "20", "g", None),  # 3-5 g, 2-4 times
        ("willow-bark", "decoction", "3", "9", "g", None),  # Health Canada
    ],
)
def test_published_daily_doses(
    herb: str, form: str, low: str, high: str, unit: str, grams: tuple[str, str] | None
) -> None:
    """Daily doses that the texts print or that follow from what they print."""
    rows = [
        row
        for row in supplied_materia_medica().herbs[herb].doses
        if row.form == form and row.daily
    ]
    found = {(row.daily.low, row.daily.high, row.daily.unit): row for row in rows if row.daily}
    row = found[Fraction(low), Fraction(high), DoseUnit(unit)]
    if grams:
        assert row.ratio
        ratio = row.ratio.made_per_herb
        assert (Fraction(low) / ratio, Fraction(high) / ratio) == tuple(map(Fraction, grams))


def test_published_sums_agree() -> None:
    """Aescin: 250 mg of 20 % and 312.5 mg of 16 % are both 50 mg (textbook, 100 mg a day)."""
    extract = supplied_materia_medica().herbs["horse-chestnut"].doses[0]
    assert extract.dose
    assert extract.dose.low * Fraction(20, 100) == extract.dose.high * Fraction(16, 100) == 50
    ceiling = supplied_materia_medica().burdens["salicylates"].limits[0]
    salicin = Fraction(9000) * Fraction(1, 100)  # 9 g of willow bark with 1 % salicin
    assert 60 <= salicin <= 120 < ceiling.value == 240


def test_ids_of_rows_are_unique_in_a_herb() -> None:
    for herb in HERBS:
        ids = [row.id for row in herb.doses]
        assert len(set(ids)) == len(ids), herb.id


# What the files may hold


@for_every(sorted(FOLDER.rglob("*.toml")), lambda path: path.name)
def test_no_addresses_and_no_names_of_pages(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert not re.search(r"https?:|www\.|\.(com|org|net|co\.uk|fr|de)\b", text)
    assert not re.search(
        "medscape|drugs\\.com|altmeyer|facts & comparisons|webmd|rxlist|natural standard",
        text,
        re.IGNORECASE,
    )


def test_secondary_texts_are_cited_by_their_kind_alone() -> None:
    titles = {
        source.title
        for herb in HERBS
        for source in herb.sources
        if source.kind is SourceKind.SECONDARY
    }
    assert titles
    assert all(title.startswith("Secondary text: ") for title in titles)


def remarks(herb: Herb) -> Iterator[str]:
    yield from (one.text for one in herb.all_cautions)
    yield from (one.text for one in herb.durations)
    yield from (one.text for one in herb.constituents)
    yield from (row.note for row in herb.doses)
    yield from (one.text for one in (herb.min_age, herb.min_age_skin, herb.min_ethanol) if one)
    yield from (one.text for one in herb.law)
    yield from (one.text for one in herb.not_as)
    yield herb.usual.text if herb.usual else ""


@for_every(HERBS, lambda herb: herb.id)
def test_remarks_are_plain_lines(herb: Herb) -> None:
    for text in remarks(herb):
        if text:
            assert text[0].isupper() or text[0].isdigit() or text.startswith("8-"), text
            assert not text.endswith("."), text
            assert "safe " not in text, text


def test_a_fact_is_cited_by_its_text_and_what_is_from_memory_says_so() -> None:
    cited = {str(origin) for herb in HERBS for origin in origins(herb)}
    assert "German Commission E: Liquiritiae radix" in cited  # its document is in its title
    assert "German Commission E: Betulae folium (13 Mar 1986), Commission E 1986-03-13" in cited
    assert "British Herbal Pharmacopoeia 1983, BHP 1983 (not yet checked)" in cited


def caution(herb: str, tag: str) -> list[Caution]:
    return [one for one in supplied_materia_medica().herbs[herb].all_cautions if one.tag == tag]


def test_conflicts_between_texts_keep_the_careful_side() -> None:
    """Health Canada contraindicates nettle leaf in pregnancy, British practice often allows it."""
    assert caution("nettle-leaf", "pregnancy")[0].level == "contraindicated"
    kinds = {
        (one.kind, one.count, one.unit)
        for one in supplied_materia_medica().herbs["comfrey"].durations
    }
    assert ("max-course", 10, "days") in kinds
    assert ("max-course", 4, "weeks-per-year") in kinds


# The reader


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "herbs").mkdir()
    for name in ("herbs/meadowsweet.toml", "burdens.toml", "children.toml", "general_safety.toml"):
        shutil.copy(FOLDER / name, tmp_path / name)
    return tmp_path


def refusal(folder: Path, old: str, new: str, *, file: str = "herbs/meadowsweet.toml") -> str:
    path = folder / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(MateriaMedicaError) as caught:
        read_materia_medica(folder)
    return str(caught.value)


def test_one_herb_can_be_read_alone(folder: Path) -> None:
    assert list(read_materia_medica(folder).herbs) == ["meadowsweet"]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('family = "Rosaceae"', "", "meadowsweet.toml: family: missing"),
        ('family = "Rosaceae"', 'familie = "Rosaceae"', "meadowsweet.toml: familie: unknown key"),
        ('id = "meadowsweet"', 'id = "meadow"', "id: expected the file's name, meadowsweet"),
        ('form = "infusion"', 'form = "brew"', "preparation[1].form: expected one of infusion"),
        (
            "daily = { min = 2, max = 18",
            "daily = { min = 20, max = 18",
            "preparation[1].daily: expected a span from less to more; found 20 to 18",
        ),
        ('unit = "g"', 'unit = "stone"', "unit: expected one of g, mg, mL, drop, tsp, berry"),
        ('source = "ema"', 'source = "emma"', "expected the id of a source in this file"),
        ('ratio = "1:1"', 'ratio = "1:0"', "ratio: expected a ratio in quotes such as 1:5"),
        ("ethanol = [25, 25]", "ethanol = [25]", "ethanol: expected two numbers"),
        ('level = "avoid"', 'level = "shun"', "level: expected one of contraindicated, avoid"),
        ('kind = "official"', 'kind = "good"', "kind: expected one of official, textbook"),
        ('kind = "seek-advice-after"', 'kind = "later"', "duration[1].kind: expected one of"),
        ("[official]", "[official", "expected a TOML file in UTF-8"),
    ],
)
def test_what_does_not_fit_is_told_by_file_and_place(
    folder: Path, old: str, new: str, said: str
) -> None:
    assert said in refusal(folder, old, new)


def test_burdens_are_read_as_strictly(folder: Path) -> None:
    said = refusal(folder, "value = 100", 'value = "much"', file="burdens.toml")
    assert "burdens.toml: burden[" in said
    assert "value: expected a number" in said


def test_doses_for_children_are_read_as_strictly(folder: Path) -> None:
    said = refusal(folder, "max = 4, unit", 'max = "much", unit', file="children.toml")
    assert "children.toml: dose[" in said


def test_general_rules_are_read_as_strictly(folder: Path) -> None:
    said = refusal(folder, "hours = [24, 48]", "hours = [48, 24]", file="general_safety.toml")
    assert "general_safety.toml: rule[14].hours: expected two whole numbers, least and" in said


def test_a_zero_is_a_figure(folder: Path) -> None:
    shutil.copy(FOLDER / "herbs/fennel.toml", folder / "herbs/fennel.toml")
    fennel = read_materia_medica(folder).herbs["fennel"]
    figures = [one.figure for one in fennel.constituents if one.tag == "estragole"]
    assert figures[0]
    assert figures[0].low == 0


def test_the_files_are_the_same_toml_as_any_reader_sees() -> None:
    rows = 0
    for path in (FOLDER / "herbs").glob("*.toml"):
        with path.open("rb") as file:
            rows += len(tomllib.load(file)["preparation"])
    assert rows == 961


def test_substances_of_bought_in_products_are_held() -> None:
    """Glucosamine sulfate 1.5 g a day, not with an allergy to shellfish; at most 25 mg of zinc and
    250 mg of magnesium in supplements a day (SCF); all from memory, and told so."""
    held = {herb.id: herb for herb in HERBS if herb.is_substance}
    first = ["bromelain", "calcium", "chondroitin", "fish-oil"]
    assert list(held) == [*first, "glucosamine", "magnesium", "vitamin-d", "zinc"]
    for herb in held.values():
        assert all(origin.basis is Basis.MEMORY for origin in origins(herb)), herb.id
    most = {herb: working_range(held[herb], TakenAs.SUBSTANCE) for herb in held}
    figures = {herb: found.high for herb, found in most.items() if found}
    assert figures["glucosamine"] == Fraction("1.5")
    assert figures["zinc"] == Fraction("0.025")
    assert figures["magnesium"] == Fraction("0.25")
    assert "bromelain" not in figures, "it is counted in units of activity"
    tags = {caution.tag for caution in held["glucosamine"].cautions}
    assert "shellfish-allergy" in tags
