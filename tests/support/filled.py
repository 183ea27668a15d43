"""A filled practice of invented people: the values, and the use cases that put them in a file.

`tests/databases` keeps a dump of such a file for every released schema; what is read from it
must be these values still.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction

from sennight.domain.courses.accepts import Accept, TakenThen
from sennight.domain.courses.clients import Client, Fact, Harm, Outcome, Reaction, Sex, Topic
from sennight.domain.courses.courses import (
    Advance,
    Course,
    End,
    Extend,
    Flare,
    Pause,
    PauseMode,
    Redirect,
    Revision,
    Stop,
)
from sennight.domain.courses.protocols import (
    AdviceLine,
    Ceiling,
    CountFrom,
    Gate,
    Line,
    Protocol,
    Step,
)
from sennight.domain.day import ClientDay, Moment
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.parser import parse_timing
from sennight.domain.dispensary.batches import HandedOver
from sennight.domain.dispensary.preparing import Rounding
from sennight.domain.dispensary.stock import Held, Material
from sennight.domain.follow_up.consultations import (
    Appointment,
    Consultation,
    ConsultationKind,
    Part,
)
from sennight.domain.follow_up.diaries import DayNote, Reported, Score, Taken
from sennight.domain.follow_up.measures import Better, Measure
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import Level
from sennight.domain.herbs.own_herbs import OwnCaution, OwnHerb, OwnRange
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Base, Ingredient, Method, Portion, Remedy, TeaMaking
from sennight.domain.safety.red_flags import RedFlagCheck
from sennight.domain.supply.needs import Allowance
from sennight.domain.supply.quantities import Quantity
from sennight.domain.supply.settings import SupplySettings
from sennight.practice.card import change_practice_card
from sennight.practice.clients import ClientEntry, add_client, change_client
from sennight.practice.consultations import (
    add_consultation,
    correct_consultation,
    save_headings,
    strike_out_attachment,
    strike_out_consultation,
)
from sennight.practice.courses import course_entry, list_courses, save_course, start_course
from sennight.practice.diaries import enter_diary, enter_scores, enter_whole_diary
from sennight.practice.dispensary import (
    DispensarySettings,
    Made,
    Received,
    keep_settings,
    make_batch,
    receive,
)
from sennight.practice.drafts import DraftKey, Typed, keep_draft
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import (
    drop_own_range,
    save_herb_note,
    save_own_herb,
    save_own_range,
)
from sennight.practice.pricing import PriceRule, Prices, keep_prices
from sennight.practice.protocols import add_protocol
from sennight.practice.publications import record_publication
from sennight.practice.red_flags import record_check
from sennight.practice.remedies import save_remedy
from sennight.practice.returned import Returned, enter_returned
from sennight.practice.wanted import keep_minimum
from sennight.store.entries import NewPaper
from support.samples import line, phase, take

START = date(2027, 1, 4)
NOW = datetime(2027, 1, 4, 9, 30, tzinfo=UTC)
CARD = PracticeCard(
    "The Weld Rooms",
    "Oriel Tansy",
    ("2 Madder Row", "Testford"),
    "01632 960000",
    "a@example.org",
    "112",
    ("Made up for one client", "Not tested by anyone"),
)
CLIENT = Client(
    name="Ärla Прикладова 例",
    born=date(1970, 5, 1),
    zone="Europe/London",
    weight_kg=Fraction(139, 2),
    conditions=(Fact("peptic-ulcer", START, date(2027, 6, 1)), Fact("osteoarthritis")),
    medicines=(Fact("anticoagulant"),),
    allergies=(Fact("asteraceae-allergy"),),
    day=ClientDay.at({Moment.BREAKFAST: time(8), Moment.BEDTIME: time(0, 30)}),
)
ARCHIVED = Client("Bram Sample")
REACTION = Reaction(date(2026, 11, 3), "Cold tea", ("yarrow", "sage"), "Itching, a rash")
ARCHIVED_WITH_REACTION = Client(
    "Bram Sample",
    medicines=(Fact("iron", at=(time(8), Moment.BEDTIME)),),
    reactions=(REACTION,),
)
"""As it is from schema 0002 on."""
SECOND_REACTION = Reaction(
    date(2026, 11, 9), "A tea at home", ("chamomile",), "Sneezing", Harm.MILD, Outcome.LESS
)
ARCHIVED_WITH_NAMES = Client(
    "Bram Sample",
    conditions=(Fact("hypertension", name="high blood pressure"),),
    medicines=(
        Fact("apixaban", date(2026, 6, 1), at=(time(8), time(20)), dose="5 mg"),
        Fact("ramipril", classes=("ace-inhibitor",), not_for=("hypertension",)),
        Fact("", name="something blue", classes=()),
    ),
    allergies=(Fact("fennel"),),
    reactions=(REACTION, SECOND_REACTION),
    asked=(Topic.MEDICINES, Topic.ALLERGIES),
    sex=Sex.MALE,
)
"""As it is from schema 0005 on."""
STRUCK_REACTION = Reaction(
    date(2026, 11, 10),
    "A tea at home",
    ("sage",),
    "Itching",
    void="another client's",
    void_on=date(2026, 11, 11),
)
"""From schema 0012 on."""
CHECK = RedFlagCheck(date(2026, 11, 3), ("hot-joint", "clot"))
CLEARED = RedFlagCheck(date(2026, 11, 5), ("clot",), "the doctor saw the joint")
"""From schema 0012 on."""
REMEDIES = (
    Remedy(
        "7ea0",
        "Nettle and ginger",
        Form.TEA,
        (Ingredient("nettle-leaf", Fraction(2)), Ingredient("ginger", Fraction(1, 3))),
        TeaMaking(Fraction(3), Fraction(250), Method.DECOCTION, 15),
    ),
    Remedy(
        "71c0",
        "Turmeric drops",
        Form.TINCTURE,
        (Ingredient("turmeric", Fraction(30), Fraction(3), Fraction(60)),),
        drops_per_ml=Fraction(40),
    ),
    Remedy(
        "cab0",
        "Boswellia",
        Form.CAPSULE,
        (Ingredient("boswellia", mg=Fraction(400), filling=Filling.EXTRACT),),
    ),
    Remedy("4b00", "Knee rub", Form.RUB, (Ingredient("arnica", Fraction(1), Fraction(10)),)),
)
MORE_REMEDIES = (
    Remedy(
        "5f00",
        "Elder syrup",
        Form.SYRUP,
        (Ingredient("elderflower", Fraction(1), Fraction(2), Fraction(25)),),
        base=Base("simple syrup", Fraction(3), Fraction(85)),
    ),
    Remedy(
        "c4ea",
        "Comfrey cream",
        Form.CREAM,
        (
            Ingredient("comfrey", filling=Filling.INFUSED_OIL, percent=Fraction(25, 2)),
            Ingredient("rosemary", filling=Filling.ESSENTIAL_OIL, drops=Fraction(6)),
        ),
        base=Base("plain cream"),
        batch_g=Fraction(30),
    ),
    Remedy(
        "90d0",
        "Marshmallow",
        Form.POWDER,
        (Ingredient("marshmallow", Fraction(1)),),
        spoon_g=Fraction(5, 2),
        stirred_into="porridge",
    ),
)
"""On the shelf from schema 0011 on, with all that their forms have."""
MEASURED_REMEDIES = (
    Remedy(
        "d409",
        "Valerian drops",
        Form.TINCTURE,
        (Ingredient("valerian", Fraction(1), Fraction(5), Fraction(60)),),
        dropperful=Portion(Fraction(30), Unit.DROP),
    ),
    Remedy(
        "5c00",
        "Glucosamine powder",
        Form.PRODUCT,
        (Ingredient("glucosamine", mg=Fraction(1500), filling=Filling.SUBSTANCE),),
        mg_in=Portion(Fraction(2), Unit.SCOOP),
    ),
)
"""On the shelf from schema 0020 on."""
CONTAINED_REMEDIES = (
    Remedy(
        "5c01",
        "Magnesium powder",
        Form.PRODUCT,
        (Ingredient("magnesium", mg=Fraction(200), filling=Filling.SUBSTANCE),),
        mg_in=Portion(Fraction(1), Unit.SCOOP),
        container=Portion(Fraction(40), Unit.SCOOP),
    ),
)
"""On the shelf from schema 0025 on."""
TEA, DROPS, CAPSULES, RUB = (remedy.id for remedy in REMEDIES)
PROTOCOL = Protocol(
    "Warm joints",
    (
        replace(
            phase(
                "loading",
                "6 w",
                line(TEA, "1 cup tds ac", (4, "1 cup bd")),
                line(RUB, "1 application bd"),
            ),
            gate=Gate("pain", 30),
        ),
        phase("maintenance", None, line(DROPS, "2.5 mL bd 12 w on 3 w off")),
        phase("rescue", "5 d", line(CAPSULES, "2 capsule tds pc"), stand_in=True),
    ),
    ("anti-inflammatory", "bitter"),
)
FULL_PROTOCOL = Protocol(
    "Whole joints",
    (
        replace(
            phase("loading", "6 w", line(TEA, "1-2 cup tds"), line(DROPS, "2.5 mL bd")),
            advice=(
                AdviceLine(
                    "walk for 20 minutes",
                    parse_timing("od on mon wed fri"),
                    remind=True,
                    diary=True,
                ),
                AdviceLine("leave out coffee"),
            ),
            at_least_weeks=6,
        ),
        phase(
            "long term",
            None,
            Line(TEA, take("1 cup bd 12 w on 3 w off"), (), CountFrom.COURSE, note="with honey"),
            Line(
                RUB, take("1 application tds"), (Step(10, take("1 application bd")),), site="knee"
            ),
        ),
    ),
    (),
    (Ceiling((RUB, DROPS), 4),),
)
"""From schema 0008 on."""
PROTOCOL_WITH_TRIGGER = replace(
    FULL_PROTOCOL,
    phases=(
        *FULL_PROTOCOL.phases,
        replace(phase("rescue", "5 d", line(TEA, "1 cup qds")), trigger="the knee is hot"),
    ),
)
"""From schema 0018 on."""
REVISIONS: tuple[Revision, ...] = (
    Extend(on=START, phase="loading", by=1, in_weeks=True, reason="slow start"),
    Pause(on=START, first=date(2027, 1, 20), last=date(2027, 1, 22), mode=PauseMode.FREEZE),
    Redirect(on=START, remedy=TEA, first=date(2027, 1, 25), directions=take("1/2 cup od")),
    Flare(on=date(2027, 2, 1), first=date(2027, 2, 1), rescue="rescue", reason="cold snap"),
    Advance(on=date(2027, 2, 8), to="maintenance", first=date(2027, 2, 10)),
    Stop(on=date(2027, 5, 1), remedy=RUB, first=date(2027, 5, 1), reason="rash"),
    End(on=date(2027, 8, 1), first=date(2027, 9, 1)),
)
ACCEPTS = (Accept("avoid-turmeric-anticoagulant", "the doctor knows and watches"),)
ACCEPTS_WITH_GROUNDS = (
    *ACCEPTS,
    Accept(
        "over.ginger",
        "she has had as much before",
        START,
        (TakenThen(TEA, "loading", Fraction(10, 3), Unit.CUP, "0123456789ab"),),
        ("peptic-ulcer", "anticoagulant"),
    ),
    Accept("ginger.pregnancy", "wrong client", START, (), (), "another client's", START),
)
DISCUSSED = (Accept("turmeric.peptic-ulcer", "stomach watched", START, (), ("peptic-ulcer",)),)
"""As they are from schema 0012 on."""
TAKEN = (Taken(START, TEA, 2), Taken(START + timedelta(1), TEA, 0))
OWN_MEASURE = Measure(
    "grip", "Grip", Better.MORE, high=Fraction(60), unit="kg", matters=Fraction(5)
)
SCORES = (Score(START, "pain", Fraction(13, 2)),)
NOTES = (DayNote(START, "Slept well after the tea"),)


OWN_HERB = OwnHerb(
    "own-5eed",
    "Testwort",
    latin="Herba exempli",
    family="Exemplaceae",
    part="leaf",
    other_names=("Sampleweed", "Ärla's leaf"),
    actions=("bitter",),
    constituents=("tannins",),
    cautions=(OwnCaution("peptic-ulcer", Level.CAUTION, "may sting"),),
    min_age=Fraction(12),
    min_ethanol=Fraction(45, 2),
    remark="grown behind the rooms",
    reference="own notebook, p. 3",
)
OWN_RANGES = (
    OwnRange("nettle-leaf", TakenAs.TEA, Fraction(4), Fraction(10), reference="own notebook"),
    OwnRange("own-5eed", TakenAs.LIQUID, Fraction(5, 2), Fraction(6), Fraction(5)),
)
DRAFT_KEY, DRAFT_TITLE = DraftKey("new-client"), "New client"
DRAFT = Typed({"Name": "Ärla", "asked": True}, {"Name": "", "asked": None})
HERB_NOTES = {"ginger": "fresh root works better", "own-5eed": "pick in June"}


GIVEN = (
    (NewPaper("handout", "äп-warm-joints-handout-2027-01-04-no1.pdf", b"%PDF sheet"),),
    (
        NewPaper("handout", "äп-warm-joints-handout-2027-01-04-no2.pdf", b"%PDF sheet"),
        NewPaper("reminders", "reminders-2027-01-04-no2.ics", b"BEGIN:VCALENDAR" * 99),
    ),
)
"""From schema 0009 on."""


NETTLE = Received(
    Material("nettle-leaf", Held.DRIED, Unit.G),
    Fraction(500),
    "Hedgerow Supplies",
    "N-17",
    date(2027, 6, 1),
    Fraction(25, 2),
)
CONSULTATION_HEADINGS = ("Story", "Plan")
CONSULTATION = Consultation(
    START,
    ConsultationKind.FIRST,
    (Part("Story", "Naïve knees,\nworse on stairs"), Part("Plan", "tea, and a walk a day")),
    75,
    Appointment(START + timedelta(days=21), time(9, 30)),
)
CONSULTATION_BY_TELEPHONE = Consultation(
    START, ConsultationKind.TELEPHONE, (Part("Story", "slept well"),)
)
"""From schema 0016 on."""
PRICES = Prices(PriceRule(Fraction(1, 2), step=Fraction(1, 20)), {"tea": PriceRule()}, "€")
MINIMUM = Fraction(250)
SETTINGS = DispensarySettings(
    SupplySettings(
        Allowance(Fraction(1, 4), Fraction(1, 20)), Fraction(200), Fraction(75), Fraction(90), 5
    ),
    Rounding({Unit.G: Fraction(1, 100), Unit.ML: Fraction(1, 5)}),
)
LEFT = Quantity(Fraction(20), Unit.G)
BATCH_AMOUNT = Quantity(Fraction(70), Unit.G)
"""From schema 0010 on."""


def fill(practice: OpenPractice) -> None:
    """Put everything into an empty practice, with corrections and older versions behind it."""
    _own_herbs(practice)
    change_practice_card(practice, PracticeCard("Before"))
    change_practice_card(practice, CARD)
    archived = add_client(practice, ARCHIVED)
    change_client(practice, ClientEntry(archived, ARCHIVED_WITH_REACTION, archived=True))
    change_client(practice, ClientEntry(archived, ARCHIVED_WITH_NAMES, archived=True))
    with practice.file.writing() as unit:
        for reaction in (REACTION, SECOND_REACTION, STRUCK_REACTION):
            unit.reactions.add(archived, reaction, course_id=None, recorded=NOW)
    record_check(practice, archived, CHECK, now=NOW)
    record_check(practice, archived, CLEARED, now=NOW)
    client = add_client(practice, Client("Before"))
    change_client(practice, ClientEntry(client, CLIENT, "01632 960001", "prefers mornings"))
    save_remedy(practice, replace(REMEDIES[0], name="Before"))
    save_remedy(practice, REMEDIES[0], note="dry the ginger well")
    for remedy in (*MORE_REMEDIES, *MEASURED_REMEDIES, *CONTAINED_REMEDIES):
        save_remedy(practice, remedy)
    protocol = add_protocol(practice, PROTOCOL, remedies=REMEDIES, note="for cold weather")
    add_protocol(practice, PROTOCOL_WITH_TRIGGER, remedies=REMEDIES)
    _revised_course(practice, start_course(practice, client, protocol, START, now=NOW))
    keep_draft(practice, DRAFT_KEY, DRAFT, title=DRAFT_TITLE)
    _dispense(practice, client)
    _consult(practice, client)


def _consult(practice: OpenPractice, client: str) -> None:
    """From schema 0016 on."""
    save_headings(practice, ("Before",))
    save_headings(practice, CONSULTATION_HEADINGS)
    made = add_consultation(practice, client, replace(CONSULTATION, minutes=None))
    correct_consultation(practice, made, CONSULTATION)
    struck = add_consultation(practice, client, CONSULTATION_BY_TELEPHONE)
    strike_out_consultation(practice, struck, reason="of another client", on=START)
    with practice.file.writing() as unit:
        for name in ("letter.pdf", "wrong.png"):
            number = unit.consultations.attachments.add(made, name, b"%PDF-1", recorded=NOW)
    strike_out_attachment(practice, number, reason="of another client", on=START)


def _dispense(practice: OpenPractice, client: str) -> None:
    """From schema 0010 on."""
    receive(practice, NETTLE, day=START, now=NOW)
    made = Made("Oriel Tansy", note="smells fresh")
    batch = make_batch(practice, REMEDIES[0], BATCH_AMOUNT, made, today=START, now=NOW)
    (course,) = list_courses(practice, client)
    with practice.file.writing() as unit:
        handed = HandedOver(batch.id, client, course.id, TEA, START, BATCH_AMOUNT, 1, "OT")
        unit.dispensary.hand_over(handed, recorded=NOW)
    keep_prices(practice, PRICES, now=NOW)  # from schema 0022 on
    keep_minimum(practice, NETTLE.material, MINIMUM, now=NOW)
    keep_settings(practice, SETTINGS, now=NOW)  # from schema 0026 on
    for note in ("a little", "about a fifth"):
        count = Returned(course.id, TEA, START, LEFT, Fraction(5), Fraction(1), note=note)
        enter_returned(practice, (count,), today=START, now=NOW)


def _own_herbs(practice: OpenPractice) -> None:
    """From schema 0003 on."""
    save_own_herb(practice, replace(OWN_HERB, name="Before"))
    save_own_herb(practice, OWN_HERB)
    save_own_range(practice, replace(OWN_RANGES[0], high=Fraction(9)))
    save_own_range(practice, OwnRange("ginger", TakenAs.POWDER, Fraction(1), Fraction(2)))
    drop_own_range(practice, "ginger", TakenAs.POWDER)
    for one in OWN_RANGES:
        save_own_range(practice, one)
    for herb, text in HERB_NOTES.items():
        save_herb_note(practice, herb, "before")
        save_herb_note(practice, herb, text)


def _revised_course(practice: OpenPractice, course_id: str) -> None:
    for count in range(1, len(REVISIONS) + 1):
        entry = course_entry(practice, course_id)
        changed = replace(entry.course, revisions=REVISIONS[:count], accepts=ACCEPTS_WITH_GROUNDS)
        changed = replace(changed, discussed=DISCUSSED)
        save_course(practice, entry, changed, now=NOW + timedelta(days=count))
    enter_diary(practice, course_id, [Taken(START, TEA, 3), TAKEN[1]])
    enter_diary(practice, course_id, TAKEN[:1])
    enter_scores(practice, course_id, SCORES)
    enter_scores(practice, course_id, (), own=[OWN_MEASURE])  # from schema 0015 on
    for words in ("Slept", NOTES[0].words):
        said = Reported(notes=(replace(NOTES[0], words=words),))
        enter_whole_diary(practice, course_id, said)  # from schema 0024 on
    for content in (b"\x00first", b"second"):
        record_publication(practice, course_id, kind="reminders", content=content, now=NOW)
    client_id = course_entry(practice, course_id).client_id
    with practice.file.writing() as unit:  # from schema 0009 on
        for papers in GIVEN:
            unit.papers.add(client_id, papers, course_id=course_id, given=NOW)


def course(course_id: str, schema: str = "9999") -> Course:
    """The filled practice's course as last saved, in a file of a schema."""
    course = Course(
        course_id, CLIENT, REMEDIES, PROTOCOL, START, revisions=REVISIONS, accepts=ACCEPTS
    )
    if schema < "0012":
        return course
    return replace(course, accepts=ACCEPTS_WITH_GROUNDS, discussed=DISCUSSED)
