"""What a label warns of beyond the remedy's form, by the safety rules and the herbs' records."""

from __future__ import annotations

from sennight.domain.remedies.form_facts import Taking
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.safety.for_client import Place
from sennight.practice.course_reading import CourseReading
from sennight.practice.safety import safety_rules


def makes_sleepy(reading: CourseReading, remedy: str, formula: Remedy) -> bool:
    """Whether a remedy that is swallowed may make this client sleepy.

    It may where one of its herbs adds up with others to what a theme tells about driving, and
    where a finding of such a theme is about it, whatever was decided on the finding.
    """
    if formula.form.facts.taking is not Taking.SWALLOWED:
        return False
    rules = safety_rules()
    themes = [theme for theme in rules.themes if theme.place is Place.DRIVING]
    sums = {name for theme in themes for name in theme.adds_up}
    groups = [rule.group for rule in rules.counts if rule.id in sums]
    known = reading.materia_medica.herbs
    herbs = [known[part.herb] for part in formula.ingredients if part.herb in known]
    about = {theme.id for theme in themes}
    return any(group.holds(herb) for group in groups for herb in herbs) or any(
        finding.theme in about and remedy in finding.remedies for finding in reading.safety.found
    )
