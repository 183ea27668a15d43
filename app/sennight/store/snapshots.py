"""A protocol with its remedies as canonical JSON, for the copy that a course keeps.

Numbers are exact text (`5/2`), lengths `6 w`, directions the short form. Keys are sorted, so
the same value always gives the same text and the same digest. `SCHEMA` goes up when the shape
changes, and the readers of older shapes stay.
"""

from __future__ import annotations

import hashlib
import json
from fractions import Fraction
from functools import lru_cache
from typing import Any

from sennight.domain.courses.protocols import (
    AdviceLine,
    Ceiling,
    CountFrom,
    Gate,
    Line,
    Phase,
    Protocol,
    Step,
    Threshold,
)
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.parser import parse_timing
from sennight.domain.kept import kept
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import (
    Base,
    Ingredient,
    Method,
    Portion,
    Remedy,
    TeaMaking,
)
from sennight.store.decoding import decoding
from sennight.store.errors import UnreadableError
from sennight.store.tables.base import read_directions, read_length

SCHEMA = 1

Formulas = tuple[Protocol, tuple[Remedy, ...]]
"""A protocol and the remedies that its lines speak of."""


def digest_of(content: str) -> str:
    """The SHA-256 of a snapshot's text, in hexadecimal."""
    return hashlib.sha256(content.encode("utf-8")).hexdigest()


@kept(8)
def write_snapshot(protocol: Protocol, remedies: tuple[Remedy, ...]) -> str:
    """The canonical text of a protocol with its remedies."""
    ceilings = [[ceiling.most, *ceiling.remedies] for ceiling in protocol.ceilings]
    # What an earlier program could not hold is there only where it holds something, so that the
    # digests of earlier courses stay as they are.
    # Canonical: sorted keys, no spaces, exact numbers as text. So the same formulas have the same
    # digest on every machine and in every version of the program, and are stored once.
    content = {
        "protocol": {
            **({"ceilings": ceilings} if ceilings else {}),
            "name": protocol.name,
            "aims": list(protocol.aims),
            "phases": [_phase_out(phase) for phase in protocol.phases],
        },
        "remedies": [_remedy_out(remedy) for remedy in remedies],
    }
    return json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def write_remedy(remedy: Remedy) -> str:
    """The canonical text of one remedy."""
    return json.dumps(
        _remedy_out(remedy), sort_keys=True, separators=(",", ":"), ensure_ascii=False
    )


@lru_cache(maxsize=2048)
def read_remedy(content: str) -> Remedy:
    """The remedy of a text; raises UnreadableError."""
    with decoding("its formula"):
        return _remedy_in(json.loads(content))


@lru_cache(maxsize=2048)
def read_snapshot(schema: int, content: str) -> Formulas:
    """The values of a snapshot; raises UnreadableError for a shape that is not known."""
    if schema != SCHEMA:
        raise UnreadableError(
            f"its protocol is written in shape {schema}, and this program reads shape {SCHEMA}"
        )
    with decoding("its protocol"):
        return _formulas(json.loads(content))


def whole_snapshot(schema: int, content: bytes, digest: str) -> Formulas:
    """The same, where the text is the one that the digest was made of; raises UnreadableError."""
    if hashlib.sha256(content).hexdigest() != digest:
        raise UnreadableError("its protocol does not match the checksum kept with it")
    with decoding("its protocol"):
        text = content.decode("utf-8")
    return read_snapshot(schema, text)


def _formulas(snapshot: dict[str, Any]) -> Formulas:
    protocol = snapshot["protocol"]
    return (
        Protocol(
            protocol["name"],
            tuple(_phase_in(phase) for phase in protocol["phases"]),
            tuple(protocol["aims"]),
            tuple(Ceiling(tuple(ids), most) for most, *ids in protocol.get("ceilings", ())),
        ),
        tuple(_remedy_in(remedy) for remedy in snapshot["remedies"]),
    )


@kept(64)
def _phase_out(phase: Phase) -> dict[str, object]:
    advice = {"advice": [_advice_out(advice) for advice in phase.advice]} if phase.advice else {}
    least = {} if phase.at_least_weeks is None else {"at_least_weeks": phase.at_least_weeks}
    trigger = {"trigger": phase.trigger} if phase.trigger else {}
    return {
        **advice,
        **least,
        **trigger,
        "id": phase.id,
        "purpose": phase.purpose,
        "length": None if phase.length is None else str(phase.length),
        "lines": [_line_out(line) for line in phase.lines],
        "gate": _gate_out(phase.gate) if phase.gate else None,
        "stand_in": phase.stand_in,
    }


def _gate_out(gate: Gate) -> list[str | int | None]:
    """A fall by percent as ever, so that older protocols keep their digests."""
    if gate.wants is Threshold.FALL_PERCENT and gate.by_weeks is None:
        return [gate.measure, int(gate.amount)]
    return [gate.measure, str(Fraction(gate.amount)), str(gate.wants), gate.by_weeks]


def _gate_in(
    measure: str,
    amount: str | int,
    wants: str = Threshold.FALL_PERCENT,
    by_weeks: int | None = None,
) -> Gate:
    threshold, value = Threshold(wants), Fraction(amount)
    return Gate(measure, int(value) if threshold.is_percent else value, threshold, by_weeks)


def _line_out(line: Line) -> dict[str, object]:
    words = {"site": line.site, "note": line.note}
    from_course = line.count_from is CountFrom.COURSE
    return {
        "remedy": line.remedy,
        "take": str(line.directions),
        "steps": [_step_out(step) for step in line.steps],
        **({"count_from": str(line.count_from)} if from_course else {}),
        **{key: text for key, text in words.items() if text},
    }


def _step_out(step: Step) -> list[int | str]:
    """When it comes, as weeks where they are whole ones, else as a length: `10 d`."""
    weeks, days = divmod(step.after_days, 7)
    return [str(step.after) if days else weeks, str(step.directions)]


def _advice_out(advice: AdviceLine) -> list[str | bool | None]:
    timing = None if advice.timing is None else str(advice.timing)
    return [advice.text, timing, advice.remind, advice.diary]


@kept(256)
def _remedy_out(remedy: Remedy) -> dict[str, object]:
    tea, base = remedy.tea, remedy.base
    # What is not said is not written, so that older formulas keep their digests.
    more: dict[str, object] = {
        "base": [base.name, str(base.parts), str(base.sugar)] if base else None,
        "batch_g": None if remedy.batch_g is None else str(remedy.batch_g),
        "spoon_g": None if remedy.spoon_g is None else str(remedy.spoon_g),
        "stirred_into": remedy.stirred_into or None,
        "dropperful": _measure_out(remedy.dropperful),
        "mg_in": _measure_out(remedy.mg_in),
        "container": _measure_out(remedy.container),
    }
    return {
        **{key: value for key, value in more.items() if value is not None},
        "id": remedy.id,
        "name": remedy.name,
        "form": str(remedy.form),
        "drops_per_ml": str(remedy.drops_per_ml),
        "tea": [str(tea.grams_per_cup), str(tea.water_ml), str(tea.method), tea.minutes]
        if tea
        else None,
        "ingredients": [_ingredient_out(ingredient) for ingredient in remedy.ingredients],
    }


def _measure_out(measure: Portion | None) -> list[str] | None:
    return None if measure is None else [str(measure.amount), str(measure.unit)]


def _ingredient_out(ingredient: Ingredient) -> dict[str, object]:
    numbers = {
        "parts": ingredient.parts,
        "ratio": ingredient.ratio,
        "ethanol": ingredient.ethanol,
        "mg": ingredient.mg,
        "percent": ingredient.percent,
        "drops": ingredient.drops,
    }
    written = {key: str(value) for key, value in numbers.items() if value is not None}
    filling = {} if ingredient.filling is None else {"filling": str(ingredient.filling)}
    return {"herb": ingredient.herb, **written, **filling}


def _phase_in(phase: dict[str, Any]) -> Phase:
    return Phase(
        phase["id"],
        phase["purpose"],
        None if phase["length"] is None else read_length(phase["length"]),
        tuple(_line_in(line) for line in phase["lines"]),
        _gate_in(*phase["gate"]) if phase["gate"] else None,
        phase["stand_in"],
        tuple(_advice_in(*advice) for advice in phase.get("advice", ())),
        phase.get("at_least_weeks"),
        phase.get("trigger", ""),
    )


def _advice_in(text: str, timing: str | None, remind: bool, diary: bool) -> AdviceLine:  # noqa: FBT001 - a list's entries
    return AdviceLine(text, None if timing is None else parse_timing(timing), remind, diary)


def _line_in(line: dict[str, Any]) -> Line:
    return Line(
        line["remedy"],
        read_directions(line["take"]),
        tuple(_step_in(*step) for step in line["steps"]),
        CountFrom(line.get("count_from", CountFrom.ANCHOR)),
        line.get("site", ""),
        line.get("note", ""),
    )


def _step_in(after: int | str, directions: str) -> Step:
    days = 7 * after if isinstance(after, int) else read_length(after).count
    return Step(days, read_directions(directions))


_NUMBERS = ("parts", "ratio", "ethanol", "mg", "percent", "drops")


def _remedy_in(remedy: dict[str, Any]) -> Remedy:
    tea = None
    if remedy["tea"]:
        grams, water, method, minutes = remedy["tea"]
        tea = TeaMaking(Fraction(grams), Fraction(water), Method(method), minutes)
    return Remedy(
        remedy["id"],
        remedy["name"],
        Form.named(remedy["form"]),
        tuple(_ingredient_in(ingredient) for ingredient in remedy["ingredients"]),
        tea,
        Fraction(remedy["drops_per_ml"]),
        _base_in(remedy.get("base")),
        _number_in(remedy.get("batch_g")),
        _number_in(remedy.get("spoon_g")),
        remedy.get("stirred_into", ""),
        _measure_in(remedy.get("dropperful")),
        _measure_in(remedy.get("mg_in")),
        _measure_in(remedy.get("container")),
    )


def _base_in(base: list[str] | None) -> Base | None:
    if base is None:
        return None
    name, parts, sugar = base
    return Base(name, Fraction(parts), Fraction(sugar))


def _measure_in(measure: list[str] | None) -> Portion | None:
    if measure is None:
        return None
    amount, unit = measure
    return Portion(Fraction(amount), Unit(unit))


def _number_in(text: str | None) -> Fraction | None:
    return None if text is None else Fraction(text)


def _ingredient_in(ingredient: dict[str, str]) -> Ingredient:
    numbers = {key: Fraction(ingredient[key]) for key in _NUMBERS if key in ingredient}
    filling = Filling(ingredient["filling"]) if "filling" in ingredient else None
    return Ingredient(ingredient["herb"], **numbers, filling=filling)
