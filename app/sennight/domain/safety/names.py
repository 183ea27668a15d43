"""What the ids of a course, its herbs and its rules are called, and a sentence about them."""

from __future__ import annotations

from dataclasses import dataclass

from sennight.domain.courses.clients import Fact
from sennight.domain.courses.courses import Course
from sennight.domain.directions.plain_words import listed
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.safety.rules import SafetyRules
from sennight.domain.tag_words import lower_first


@dataclass(frozen=True, slots=True)
class Names:
    """What ids are called: a course's remedies, the herbs, the tags of the rules."""

    course: Course
    materia_medica: MateriaMedica
    rules: SafetyRules

    def herb(self, herb_id: str) -> str:
        """A herb's name; the id in words where no record is held."""
        known = self.materia_medica.herb(herb_id)
        return known.name if known else herb_id.replace("-", " ")

    def remedy(self, remedy_id: str) -> str:
        """A remedy's name."""
        return self.course.remedy(remedy_id).name

    def remedies(self, remedy_ids: tuple[str, ...]) -> str:
        """Names of remedies as a list."""
        return listed([self.remedy(remedy_id) for remedy_id in remedy_ids]) if remedy_ids else ""

    def fact(self, fact: Fact) -> str:
        """What a fact of the client is called, without a medicine's dose."""
        return fact.name or self.label(fact.tag)

    def medicine(self, name: str) -> str:
        """A medicine by its name as it was typed, or by its tag."""
        return self.label(name) if self.rules.records.is_medicine(name) else name

    @property
    def course_herbs(self) -> tuple[str, ...]:
        """The ids of the herbs in the course's remedies."""
        held = (
            ingredient.herb for remedy in self.course.remedies for ingredient in remedy.ingredients
        )
        return tuple(dict.fromkeys(held))

    def label(self, tag: str) -> str:
        """A tag in words."""
        words, record = self.rules.words, self.rules.records.label(tag)
        return record if record and tag not in words.labels else words.label(tag)

    def phrase(self, tag: str) -> str:
        """A tag, or another herb, as it follows a herb's name."""
        if self.materia_medica.herb(tag):
            return f"with {lower_first(self.herb(tag))}"
        return self.rules.words.joined.get(tag) or f"with {self.label(tag)}"


@dataclass(frozen=True, slots=True)
class Sentence:
    """A statement in words: what it is about, and what is said of that.

    `lead` is empty where the body says itself what it is about.
    """

    lead: str
    body: str
