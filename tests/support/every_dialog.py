"""Every dialog that keeps a draft, opened in the real window as a practitioner would open it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from fractions import Fraction

from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QDialog,
)

from sennight.desktop.bench.section import BenchSection
from sennight.desktop.clients.client_dialog import ClientDialog
from sennight.desktop.course.controller import CourseController
from sennight.desktop.course.diary.diary import DiaryDialog
from sennight.desktop.course.lines.lines_editor import LinesEditor
from sennight.desktop.dispensary.section import DispensarySection
from sennight.desktop.dispensary.work import DispensaryWork
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.navigation import BENCH, Route, RouteKind
from sennight.desktop.materia_medica.section import HerbsSection
from sennight.desktop.protocols.section import ProtocolsSection
from sennight.desktop.remedies.section import RemediesSection
from sennight.desktop.shell.first_start import ask_at_first_start
from sennight.desktop.shell.main_window import MainWindow
from sennight.domain.courses.clients import Fact, Topic
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.batches import HandedOver
from sennight.domain.dispensary.stock import Held, Material
from sennight.domain.follow_up.consultations import Consultation, ConsultationKind, Part
from sennight.domain.follow_up.diaries import Taken
from sennight.domain.safety.red_flags import RedFlagCheck
from sennight.domain.supply.quantities import Quantity
from sennight.practice.consultations import add_consultation, client_consultations
from sennight.practice.diaries import enter_diary
from sennight.practice.dispensary import Made, Received, batches_left, make_batch, receive, shelf
from sennight.practice.drafts import list_drafts
from sennight.practice.red_flags import record_check
from sennight.practice.returned import had_at_home
from support.next_dialog import in_next_dialog
from support.pages import clients_of
from support.sample_practice import NOW, TEA, TODAY, Sample

Opener = Callable[[MainWindow, Sample], object]

NESTED = {"PastReactionDialog", "ClassesDialog", "SheetDialog"}
ACTS: list[Callable[[FormDialog], None]] = []
"""What is to be done in the next dialog that a dialog opens."""


def of_client(act: Callable[[MainWindow], object]) -> Opener:
    def opened(frame: MainWindow, sample: Sample) -> None:
        frame.go(Route(RouteKind.FOLDER, sample.clients["efua"]))
        act(frame)

    return opened


def course_of(frame: MainWindow, sample: Sample) -> CourseController:
    page = clients_of(frame).course
    if frame.stack.currentWidget() is not page:
        frame.go(Route(RouteKind.COURSE, sample.course))
    assert page.controller is not None
    return page.controller


def of_course(kind: str) -> Opener:
    def opened(frame: MainWindow, sample: Sample) -> None:
        course_of(frame, sample).resume(kind)

    return opened


def question(name: str, remedy: str) -> Opener:
    def opened(frame: MainWindow, _sample: Sample) -> None:
        frame.go(Route(RouteKind.REMEDY, remedy))
        frame.section(RemediesSection).remedy.ask(name)

    return opened


def letter(frame: MainWindow, sample: Sample) -> None:
    client = sample.clients["efua"]
    if not list_drafts(sample.practice):
        record_check(sample.practice, client, RedFlagCheck(TODAY, ("clot",)), now=NOW)
    of_client(lambda frame: clients_of(frame).folder.banner.write_letter())(frame, sample)


def consultation(frame: MainWindow, sample: Sample) -> None:
    client = sample.clients["efua"]
    if not client_consultations(sample.practice, client):
        written = Consultation(TODAY, ConsultationKind.FIRST, (Part("Plan", "tea"),))
        add_consultation(sample.practice, client, written)
    (entry,) = client_consultations(sample.practice, client)
    of_client(lambda frame: clients_of(frame).folder.open_consultation(entry.id))(frame, sample)


def accepting(frame: MainWindow, sample: Sample) -> None:
    controller = course_of(frame, sample)
    controller.safety.go_ahead(finding(controller))


def discussing(frame: MainWindow, sample: Sample) -> None:
    controller = course_of(frame, sample)
    controller.safety.discuss(finding(controller))


def finding(controller: CourseController) -> str:
    findings = controller.session.reading.safety.findings
    return next(one.id for one in findings if one.may_be_accepted)


def within_client(act: Callable[[ClientDialog], object]) -> Opener:
    """A dialog that the client's own opens."""

    def opened(frame: MainWindow, _sample: Sample) -> None:
        def inner(dialog: ClientDialog) -> None:
            in_next_dialog(ACTS.pop())
            try:
                act(dialog)
            finally:
                QDialog.reject(dialog)

        in_next_dialog(inner)
        clients_of(frame).new()

    return opened


def within_diary(frame: MainWindow, sample: Sample) -> None:
    def inner(dialog: DiaryDialog) -> None:
        in_next_dialog(ACTS.pop())
        try:
            dialog.read_sheet()
        finally:
            QDialog.reject(dialog)

    in_next_dialog(inner)
    of_course("diary")(frame, sample)


def classes(dialog: ClientDialog) -> None:
    dialog.medicines.add(Fact("ramipril"))
    dialog.medicines._lines["ramipril"].choose_classes()


def of_phase(act: Callable[[LinesEditor], object]) -> Opener:
    def opened(frame: MainWindow, sample: Sample) -> None:
        lines = course_of(frame, sample).view.lines
        lines.table.setCurrentIndex(lines.model.index(0, 0))
        act(lines)

    return opened


def dispensary_of(frame: MainWindow) -> DispensaryWork:
    return frame.section(DispensarySection).work


def delivery(frame: MainWindow) -> str:
    """A delivery in stock; the first time it is received."""
    practice = dispensary_of(frame).around.practice
    if not shelf(practice).deliveries:
        herb = Material("ginger", Held.DRIED, Unit.G)
        came = Received(herb, Fraction(500), "Hedgerow Supplies", "N-17")
        receive(practice, came, day=TODAY, now=NOW)
    return shelf(practice).deliveries[0].id


def minimum(frame: MainWindow, _sample: Sample) -> None:
    delivery(frame)
    dispensary_of(frame).set_minimum(-1)


def count_all(frame: MainWindow, _sample: Sample) -> None:
    delivery(frame)
    dispensary_of(frame).count_all()


def batch(frame: MainWindow) -> str:
    """A batch of the shelf's tea; the first time it is made."""
    practice = dispensary_of(frame).around.practice
    if not batches_left(practice):
        amount, made = Quantity(Fraction(100), Unit.G), Made("Oriel Tansy")
        make_batch(practice, TEA, amount, made, today=TODAY, now=NOW)
    return batches_left(practice)[0][0].id


def left(frame: MainWindow, sample: Sample) -> None:
    """The course's tea was handed over; the first time it is."""
    practice = dispensary_of(frame).around.practice
    if not had_at_home(practice, sample.course):
        amount, client = Quantity(Fraction(50), Unit.G), sample.clients["efua"]
        handed = HandedOver(
            batch(frame), client, sample.course, TEA.id, TODAY, amount, 1, "Oriel Tansy"
        )
        with practice.file.writing() as unit:
            unit.dispensary.hand_over(handed, recorded=NOW)
    of_course("left")(frame, sample)


def own_range(frame: MainWindow, _sample: Sample) -> None:
    frame.go(Route(RouteKind.HERB, "ginger"))
    frame.section(HerbsSection).herb.ask_range()


def putting_off(frame: MainWindow, sample: Sample) -> None:
    """A diary that was begun and is not entered since stands on Bench."""
    enter_diary(sample.practice, sample.course, [Taken(date(2027, 1, 5), "tea", 1)])
    frame.go(BENCH)
    frame.section(BenchSection).bench.ask_day(1)


OPENED: dict[str, Opener] = {
    "ClientDialog": lambda frame, _: clients_of(frame).new(),
    "ClientDialog of a client": of_client(lambda frame: clients_of(frame).folder.change()),
    "FactsDialog": of_client(lambda frame: clients_of(frame).folder.change_facts(Topic.MEDICINES)),
    "ReactionsDialog": of_client(
        lambda frame: clients_of(frame).folder.change_facts(Topic.REACTIONS)
    ),
    "PersonDialog": of_client(lambda frame: clients_of(frame).folder.change_facts(None)),
    "ConsultationDialog": consultation,
    "HeadingsDialog": of_client(lambda frame: clients_of(frame).folder.choose_headings()),
    "PastReactionDialog": within_client(lambda dialog: dialog.reactions.ask()),
    "ClassesDialog": within_client(classes),
    "StartDialog": of_client(lambda frame: clients_of(frame).folder.start_course()),
    "RedFlagsDialog": of_client(lambda frame: clients_of(frame).folder.ask_for_flags()),
    "ReferralDialog": letter,
    "RecordFlare": of_course("flare"),
    "TakePause": of_course("pause"),
    "MoveOn": of_course("advance"),
    "ChangeLength": of_course("extend"),
    "ChangeDirections": of_course("redirect"),
    "StopRemedy": of_course("stop"),
    "EndCourse": of_course("end"),
    "StayAsItIs": of_course("stay"),
    "ReactionDialog": of_course("reaction"),
    "AimsDialog": of_course("aims"),
    "DiaryDialog": of_course("diary"),
    "SheetDialog": within_diary,
    "ScoresDialog": of_course("scores"),
    "LeftDialog": left,
    "SaveAsProtocolDialog": of_course("save-as-protocol"),
    "AcceptDialog": accepting,
    "DiscussDialog": discussing,
    "StrikeOut": of_course("strike"),
    "JoinPhase": of_course("join"),
    "TakeFormula": of_course("formula"),
    "ChangeFormula": of_course("formula-without/tea/ginger"),
    "RenamePhase": of_phase(lambda lines: lines.bar.rename()),
    "PhaseDialog": of_phase(lambda lines: lines.bar.holds()),
    "GateDialog": of_course("gate"),
    "LineDialog": of_phase(lambda lines: lines.open_line()),
    "ReceiveDialog": lambda frame, _: dispensary_of(frame).receive(),
    "ReceiveDialog of a batch": lambda frame, _: dispensary_of(frame).put_on_shelf(batch(frame)),
    "StockDialog": lambda frame, _: dispensary_of(frame).change(delivery(frame)),
    "StocktakeDialog": count_all,
    "MinimumDialog": minimum,
    "SettingsDialog": lambda frame, _: dispensary_of(frame).change_settings(),
    "PricesDialog": lambda frame, _: dispensary_of(frame).set_prices(),
    "PrepareDialog": lambda frame, _: dispensary_of(frame).prepare(),
    "hand_over_dialog.HandOverDialog": lambda frame, _: dispensary_of(frame).hand_over(
        batch(frame)
    ),
    "NameDialog": lambda frame, _: frame.section(ProtocolsSection).work.new(),
    "NewRemedyDialog": lambda frame, _: frame.section(RemediesSection).new(),
    "BalanceDialog": question("balance", "tea"),
    "TopUpDialog": question("top-up", "drops"),
    "ScaleDialog": question("scale", "drops"),
    "StrengthDialog": question("strength", "drops"),
    "ChildDoseDialog": question("young", "drops"),
    "OwnHerbDialog": lambda frame, _: frame.section(HerbsSection).new(),
    "OwnRangeDialog": own_range,
    "FirstStartDialog": lambda frame, sample: ask_at_first_start(sample.practice, frame._settings),
    "CardDialog": lambda frame, _: frame.change_card(),
    "PutOffDialog": putting_off,
}
"""The dialogs that keep one, and how each is opened."""


def in_dialog(
    name: str,
    act: Callable[[FormDialog], None],
    frame: MainWindow,
    sample: Sample,
    opener: Opener | None = None,
) -> None:
    """Open the dialog of that name, act in it, and close whatever came up."""
    acted_in: list[bool] = []

    def acted(dialog: FormDialog) -> None:
        try:
            act(dialog)
        finally:
            QDialog.reject(dialog)
            acted_in.append(True)

    if name in NESTED:
        ACTS.append(acted)
    else:
        in_next_dialog(acted)
    (opener or OPENED[name])(frame, sample)
    for _ in range(100):  # one that is part of the page holds nothing up
        if not acted_in:
            QTest.qWait(5)
    assert acted_in, name
