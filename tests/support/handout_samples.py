"""A practice, clients and courses of our own invention, for the printed sheets."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any

from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, Flare, Pause, PauseMode, Revision
from sennight.domain.courses.protocols import Phase, Protocol
from sennight.domain.courses.stretches import lay_out
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Method, Remedy, TeaMaking
from sennight.domain.take_home.choices import Print, Reach, SheetChoices
from sennight.domain.take_home.document import TakeHome
from sennight.domain.take_home.facts import TakeHomeFacts
from sennight.domain.take_home.whole import take_home
from sennight.publish.handout.document import handout_pdf
from support.samples import line, phase

WHOLE = SheetChoices(reach=Reach.WHOLE)
MADE_ON = date(2026, 12, 30)
START = date(2027, 1, 6)
CARD = PracticeCard(
    "Withy Lane Herbal Practice",
    "Orla Fenwright, medical herbalist",
    ("4 Withy Lane", "Marlow Brook"),
    "01632 960 118",
    "hello@withylane.example",
    emergency="999",
)
HERBS = {
    "nettle-leaf": "Nettle leaf",
    "meadowsweet": "Meadowsweet",
    "ginger": "Ginger",
    "turmeric": "Turmeric",
    "celery-seed": "Celery seed",
    "boswellia": "Boswellia",
    "comfrey-root": "Comfrey root",
    "cayenne": "Cayenne",
    "lemon-balm": "Lemon balm",
}


def by_parts(herb: str, parts: int, ratio: int | None = None, ethanol: int = 0) -> Ingredient:
    liquid = (Fraction(ratio), Fraction(ethanol)) if ratio else (None, None)
    return Ingredient(herb, Fraction(parts), *liquid)


JOINT_TEA = Remedy(
    "t1",
    "Joint tea",
    Form.TEA,
    (by_parts("nettle-leaf", 2), by_parts("meadowsweet", 2), by_parts("ginger", 1)),
    TeaMaking(Fraction(3)),
)
TINCTURE = Remedy(
    "t2",
    "Warming tincture",
    Form.TINCTURE,
    (by_parts("turmeric", 30, 3, 60), by_parts("celery-seed", 70, 5, 50)),
)
CAPSULES = Remedy(
    "t3",
    "Boswellia capsules",
    Form.CAPSULE,
    (Ingredient("boswellia", mg=Fraction(400), filling=Filling.EXTRACT),),
)
RUB = Remedy(
    "t4",
    "Comfrey and cayenne rub",
    Form.RUB,
    (by_parts("comfrey-root", 3, 5), by_parts("cayenne", 1, 20, 60)),
)
NIGHT_TEA = Remedy(
    "t5",
    "Night tea",
    Form.TEA,
    (by_parts("lemon-balm", 1),),
    TeaMaking(Fraction(5, 2), method=Method.DECOCTION, minutes=15),
)
REMEDIES = (JOINT_TEA, TINCTURE, CAPSULES, RUB, NIGHT_TEA)

LOADING = phase(
    "loading",
    "6 w",
    line("t1", "1 cup tds", (4, "1 cup bd")),
    line("t2", "5 mL bd ac 3 w on 1 w off"),
    line("t3", "2 capsules bd with food"),
    line("t4", "1 application prn max 4/day gap 4 h"),
)
MAINTENANCE = phase(
    "maintenance",
    "6 w",
    line("t1", "1 cup bd"),
    line("t2", "2.5 mL bd ac 3 w on 1 w off"),
    line("t3", "1 capsule od with food alternate days"),
    line("t5", "1/2 cup nocte on mon wed fri"),
)
ON_AND_ON = Phase("maintenance", "maintenance", None, MAINTENANCE.lines)
RESCUE = Phase(
    "flare-up",
    "rescue",
    phase("flare-up", "7 d").length,
    (line("t1", "1 cup qds"), line("t4", "1 application every 4-6 h prn")),
)
REVISIONS: tuple[Revision, ...] = (
    Pause(
        on=date(2027, 2, 24),
        first=date(2027, 3, 1),
        last=date(2027, 3, 3),
        mode=PauseMode.SKIP,
    ),
    Flare(on=date(2027, 2, 8), first=date(2027, 2, 8), rescue="flare-up", last=date(2027, 2, 14)),
)


def sample_course(
    *phases: Phase,
    name: str = "Una Example",
    remedies: tuple[Remedy, ...] = REMEDIES,
    revisions: tuple[Revision, ...] = (),
) -> Course:
    return Course(
        "c0ffee", Client(name), remedies, Protocol("Joints", phases), START, None, revisions
    )


def three_months(name: str = "Una Example") -> Course:
    """Twelve weeks with all that a handout has to show."""
    return sample_course(LOADING, MAINTENANCE, RESCUE, name=name, revisions=REVISIONS)


def year() -> Course:
    """364 days of five remedies."""
    return sample_course(LOADING, ON_AND_ON, RESCUE, revisions=REVISIONS)


def many_remedies(count: int, herbs_in_each: int = 3) -> Course:
    """Twelve weeks of many remedies of every form, with names of every length."""
    forms = (Form.TEA, Form.TINCTURE, Form.CAPSULE, Form.RUB)
    units = ("cup", "mL", "capsule", "application")
    ways = ("tds", "bd ac", "qds pc", "prn max 3/day", "od alternate days", "every 2 h")
    herbs = list(HERBS) * 9
    remedies = tuple(
        Remedy(
            f"r{n}",
            f"Remedy {n + 1} {'of a rather longer name ' * (n % 4)}".strip(),
            forms[n % 4],
            tuple(by_parts(herb, 1, 5) for herb in herbs[:herbs_in_each]),
            TeaMaking(Fraction(3)) if forms[n % 4] is Form.TEA else None,
        )
        for n in range(count)
    )
    lines = tuple(line(f"r{n}", f"1 {units[n % 4]} {ways[n % 6]}") for n in range(count))
    return sample_course(phase("base", "12 w", *lines), remedies=remedies)


def document_of(course: Course, card: PracticeCard = CARD, **more: Any) -> TakeHome:  # noqa: ANN401 - whatever the facts have
    """What the client of a course takes home; to its end unless choices say otherwise."""
    facts: dict[str, Any] = {"today": MADE_ON, "choices": WHOLE} | more
    return take_home(TakeHomeFacts(lay_out(course), card, herb_names=HERBS, **facts))


def sheet_pdf(
    course: Course, paper: str = "A4", letters: Print = Print.STANDARD, card: PracticeCard = CARD
) -> bytes:
    """Card and sheet of a course, to its end."""
    choices = SheetChoices(paper, letters, reach=Reach.WHOLE)
    return handout_pdf(document_of(course, card, choices=choices), choices)
