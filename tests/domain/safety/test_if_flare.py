"""A flare-up plan is given on the first day: it is checked as if it could begin on any day."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from sennight.domain.courses.clients import Client, Reaction
from sennight.domain.courses.courses import Course, Flare, Stop
from sennight.domain.courses.protocols import Protocol
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.exposure.bands import Band
from sennight.domain.exposure.coverage import coverage
from sennight.domain.exposure.if_flare import ethanol_if_flare, exposures_if_flare
from sennight.domain.remedies.forms import Form
from sennight.domain.safety.advice import advice_sentences
from sennight.domain.safety.findings import Severity
from sennight.domain.safety.what_was_checked import scope_text
from support.safety_samples import (
    MATERIA_MEDICA,
    RULES,
    START,
    course,
    day,
    found,
    remedy,
    with_facts,
)
from support.samples import line, phase

WHOLE = (Span.of_days(START, day(28)),)
ILL = with_facts("anticoagulant", "pregnancy", "peptic-ulcer", "salicylate-allergy")


def with_rescue(*, stand_in: bool = False, client: Client = ILL) -> Course:
    """Rosehip tea every day; in a flare-up willow drops, four times a day for a fortnight."""
    tea = remedy("rosehip")
    drops = remedy("willow-bark", form=Form.TINCTURE, name="drops")
    lines = phase("base", "4 w", line("r1", "1 cup tds"))
    rescue = replace(phase("rescue", "2 w", line("drops", "10 mL qds")), stand_in=stand_in)
    made = course(tea, drops, client=client)
    return replace(made, protocol=Protocol("T", (lines, rescue), ("analgesic",)))


def test_every_remedy_of_a_plan_that_was_not_called_yet_is_checked() -> None:
    """Pregnant, on an anticoagulant, an ulcer, allergic to aspirin: willow drops for flares."""
    ids = found(with_rescue())
    for tag in ("anticoagulant", "pregnancy", "peptic-ulcer", "salicylate-allergy"):
        finding = ids[f"willow-bark.{tag}"]
        assert finding.severity is Severity.AVOID
        assert (finding.days, finding.remedies) == (WHOLE, ("drops",))
        assert "flare-up plan, which may start on any day" in finding.text
    assert ids["burden.ethanol.pregnancy"].severity is Severity.AVOID
    assert "burden.ethanol.15" in ids
    assert "flare-up plan" not in "".join(
        one.text for key, one in ids.items() if "drops" not in one.remedies
    )


def test_a_plan_adds_to_what_is_taken_on_the_fullest_day() -> None:
    """Three cups of 2/3 g of willow are 30 to 220 mg of salicin; with the drops it is more."""
    tea = remedy("willow-bark", amount="2/3")
    drops = remedy("willow-bark", form=Form.TINCTURE, name="drops")
    base = phase("base", "4 w", line("r1", "1 cup tds"))
    rescue = phase("rescue", "1 w", line("drops", "10 mL tds"))
    made = replace(course(tea, drops), protocol=Protocol("T", (base, rescue)))
    assert "burden.salicylates.240" not in found(course(tea))
    both = found(made)["burden.salicylates.240"]
    assert both.remedies == ("r1", "drops")
    # 2 g as tea and 30 mL of 1:5, 6 g: 8 g at 110 mg
    assert "up to 880 mg" in both.text
    alone = replace(rescue, stand_in=True)
    instead = found(replace(made, protocol=Protocol("T", (base, alone))))["burden.salicylates.240"]
    assert "up to 660 mg" in instead.text
    assert instead.remedies == ("drops",)


def test_a_length_counts_the_plans_own_days() -> None:
    """Two weeks of a flare-up are no four weeks, though it may begin on any day."""
    base = phase("base", "20 w", line("r1", "1 cup tds"))
    rescue = phase("rescue", "2 w", line("drops", "1 mL od"))
    drops = remedy("liquorice", form=Form.TINCTURE, name="drops")
    made = replace(course(remedy("rosehip"), drops), protocol=Protocol("T", (base, rescue)))
    assert "length.liquorice.max-course" not in found(made)
    long = replace(rescue, length=phase("x", "6 w").length)
    assert "length.liquorice.max-course" in found(
        replace(made, protocol=Protocol("T", (base, long)))
    )


def test_a_plan_that_was_called_is_checked_on_its_own_days() -> None:
    made = with_rescue()
    called = replace(made, revisions=(Flare(on=day(8), first=day(8), rescue="rescue"),))
    finding = found(called)["willow-bark.pregnancy"]
    assert finding.days == (Span.of_days(day(8), day(21)),)
    assert "flare-up plan" not in finding.text


def test_a_remedy_that_was_stopped_is_out_of_the_plan() -> None:
    made = with_rescue()
    stop = Stop(on=START, first=START, remedy="drops", reason="a rash")
    stopped = replace(made, revisions=(stop,))
    assert not any(key.startswith("willow-bark.") for key in found(stopped))
    assert "1 herb against" in scope_text(lay_out(stopped), MATERIA_MEDICA, RULES)
    later = replace(stop, on=day(8), first=day(8))
    finding = found(replace(made, revisions=(later,)))["willow-bark.pregnancy"]
    assert finding.days == (Span.of_days(START, day(7)),)


def test_a_reaction_to_a_herb_of_the_plan_is_found() -> None:
    client = Client("Una Example", reactions=(Reaction(START, "Old", ("willow-bark",), "A rash"),))
    assert "willow-bark.reaction" in found(with_rescue(client=client))


def test_what_was_checked_counts_what_is_given() -> None:
    made = with_rescue(client=Client("Una Example"))
    assert "Checked: 2 herbs" in scope_text(lay_out(made), MATERIA_MEDICA, RULES)
    unused = replace(made, remedies=(*made.remedies, remedy("ginger", name="shelf")))
    assert "Checked: 2 herbs" in scope_text(lay_out(unused), MATERIA_MEDICA, RULES)


def test_advice_is_given_on_the_plans_remedies() -> None:
    made = with_rescue(client=Client("Una Example"))
    sleepy = remedy("valerian", form=Form.TINCTURE, name="drops")
    lines = advice_sentences(
        lay_out(replace(made, remedies=(made.remedies[0], sleepy))), MATERIA_MEDICA, RULES
    )
    assert any("drops: you may be drowsy" in line.text for line in lines)


def test_amounts_of_a_plan_are_those_of_the_fullest_day() -> None:
    """10 mL four times a day of 1:5 are 8 g of willow; of 45 % they hold 14.2 g of ethanol."""
    layout = lay_out(with_rescue())
    (row,) = exposures_if_flare(layout, MATERIA_MEDICA)
    assert (row.if_flare, row.herb, row.daily_high) == ("rescue", "willow-bark", Fraction(8))
    (ethanol,) = ethanol_if_flare(layout)
    assert ethanol.if_flare == "rescue"
    assert ethanol.per_day_high == 40 * Fraction(45, 100) * Fraction(78924, 100_000)
    (over,) = exposures_if_flare(
        lay_out(
            replace(
                with_rescue(),
                protocol=Protocol(
                    "T",
                    (
                        phase("base", "4 w", line("r1", "1 cup tds")),
                        phase("rescue", "2 w", line("drops", "100 mL qds")),
                    ),
                ),
            )
        ),
        MATERIA_MEDICA,
    )
    assert over.band is Band.OVER


def test_actions_of_a_plan_are_counted() -> None:
    layout = lay_out(with_rescue())
    rows = coverage(layout, exposures_if_flare(layout, MATERIA_MEDICA), MATERIA_MEDICA)
    borne = {row.action: row.remedies for row in rows if row.phase == "rescue"}
    assert borne["analgesic"] == ("drops",)
    assert not [row for row in coverage(layout, (), MATERIA_MEDICA) if row.phase == "rescue"]
