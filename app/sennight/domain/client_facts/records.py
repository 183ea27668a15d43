"""All records of medicines, classes and conditions, and what follows from each."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from sennight.domain.client_facts.conditions import Condition, UnclearName
from sennight.domain.client_facts.medicines import (
    Medicine,
    MedicineClass,
    Property,
    UsedFor,
)

ORAL_MEDICINE = "oral-medicine-any"
"""The class of every medicine that is swallowed."""


@dataclass(frozen=True, slots=True)
class Meaning:
    """What follows from a fact: tags that hold, effects and handling of a medicine, questions.

    `tags` are classes and conditions, the nearest first. `used_for` are the conditions that a
    medicine is given for. `either` are the records that an unclear name may stand for.
    """

    tags: tuple[str, ...] = ()
    effects: frozenset[str] = frozenset()
    handling: frozenset[str] = frozenset()
    used_for: tuple[UsedFor, ...] = ()
    perhaps: tuple[str, ...] = ()
    either: tuple[str, ...] = ()


NOTHING = Meaning()


@dataclass(frozen=True, slots=True)
class FactRecords:
    """The records, each kind by its id; unclear names by theirs, which end in a question mark."""

    medicines: Mapping[str, Medicine] = field(default_factory=dict)
    classes: Mapping[str, MedicineClass] = field(default_factory=dict)
    properties: Mapping[str, Property] = field(default_factory=dict)
    conditions: Mapping[str, Condition] = field(default_factory=dict)
    unclear_medicines: Mapping[str, UnclearName] = field(default_factory=dict)
    unclear_conditions: Mapping[str, UnclearName] = field(default_factory=dict)

    def label(self, tag: str) -> str | None:
        """The words for a record or an unclear name; None where there is no such record."""
        for records in (self.medicines, self.classes, self.conditions):
            if tag in records:
                return records[tag].label
        unclear = self.unclear_medicines.get(tag) or self.unclear_conditions.get(tag)
        return unclear.name if unclear else None

    def is_medicine(self, tag: str) -> bool:
        """Whether a tag is a medicine, a class of them, or an unclear name of one."""
        return any(tag in kind for kind in (self.medicines, self.classes, self.unclear_medicines))

    def is_condition(self, tag: str) -> bool:
        """Whether a tag is a condition, or an unclear name of one."""
        return tag in self.conditions or tag in self.unclear_conditions

    def medicine_meaning(self, tag: str, classes: tuple[str, ...] | None = None) -> Meaning:
        """What follows from a medicine, a class or an unclear name of one.

        `classes` are those that a practitioner chose in place of the record's own; then nothing
        else of the record holds but that it is swallowed, or not.
        """
        if classes is not None:
            swallowed = ORAL_MEDICINE in self.medicine_meaning(tag).tags
            return self._of_classes(classes, swallowed=swallowed)
        if tag in self.medicines:
            return self._of_medicine(self.medicines[tag])
        if tag in self.classes:
            return self._of_classes((tag,), swallowed=self.classes[tag].by_mouth)
        if tag in self.unclear_medicines:
            unclear = self.unclear_medicines[tag]
            return _either(unclear, map(self.medicine_meaning, unclear.until_known))
        return NOTHING

    def condition_meaning(self, tag: str) -> Meaning:
        """What follows from a condition or an unclear name of one."""
        if tag in self.unclear_conditions:
            unclear = self.unclear_conditions[tag]
            return _either(unclear, map(self.condition_meaning, unclear.until_known))
        if tag not in self.conditions:
            return NOTHING
        tags = _closed((tag,), self._implied)
        perhaps = (possible for held in tags for possible in self.conditions[held].perhaps)
        return Meaning(
            tags,
            perhaps=tuple(possible for possible in dict.fromkeys(perhaps) if possible not in tags),
        )

    def _of_medicine(self, medicine: Medicine) -> Meaning:
        properties = (*medicine.effects, *medicine.handling)
        brought = tuple(self.properties[property_tag].brings for property_tag in properties)
        swallowed = (ORAL_MEDICINE,) if medicine.by_mouth else ()
        tags = self._with_parents((*medicine.classes, *filter(None, brought), *swallowed))
        return Meaning(
            tuple(tag for tag in tags if tag not in medicine.not_held),
            frozenset(medicine.effects),
            frozenset(medicine.handling),
            medicine.used_for,
        )

    def _of_classes(self, classes: tuple[str, ...], *, swallowed: bool) -> Meaning:
        known = tuple(self.classes[tag] for tag in classes if tag in self.classes)
        effects = dict.fromkeys(
            effect for medicine_class in known for effect in medicine_class.effects
        )
        handling = dict.fromkeys(
            way for medicine_class in known for way in medicine_class.handling
        )
        brought = (self.properties[property_tag].brings for property_tag in (*effects, *handling))
        mouth = (ORAL_MEDICINE,) if swallowed else ()
        tags = self._with_parents((*classes, *filter(None, brought), *mouth))
        used = tuple(
            dict.fromkeys(use for medicine_class in known for use in medicine_class.used_for)
        )
        return Meaning(tags, frozenset(effects), frozenset(handling), used)

    def _with_parents(self, tags: tuple[str, ...]) -> tuple[str, ...]:
        return _closed(tags, self._parents)

    def _parents(self, tag: str) -> tuple[str, ...]:
        return self.classes[tag].parents if tag in self.classes else ()

    def _implied(self, tag: str) -> tuple[str, ...]:
        return self.conditions[tag].implies if tag in self.conditions else ()


def _closed(tags: tuple[str, ...], above: Callable[[str], tuple[str, ...]]) -> tuple[str, ...]:
    """Tags with all that lie above them, each once."""
    closed: dict[str, None] = {}
    waiting = list(tags)
    while waiting:
        tag = waiting.pop(0)
        if tag not in closed:
            closed[tag] = None
            waiting += above(tag)
    return tuple(closed)


def _either(unclear: UnclearName, meanings: Iterable[Meaning]) -> Meaning:
    """All that may follow from a name of which it is not known what it stands for."""
    held = tuple(meanings)
    return Meaning(
        tuple(
            dict.fromkeys((*unclear.until_known, *(t for meaning in held for t in meaning.tags)))
        ),
        frozenset().union(*(meaning.effects for meaning in held)),
        frozenset().union(*(meaning.handling for meaning in held)),
        either=unclear.records,
    )
