"""Random course files as text: every word of the directions and every kind of revision.

A revision is kept where the second reading finds it possible, so that most courses run, and a
rare one is kept all the same, so that refusals are seen too.
"""

from __future__ import annotations

from datetime import date, timedelta
from random import Random

from oracle.reading import ImpossibleError, Laid, Table, laid_out, parsed

HERBS = ("ginger", "turmeric", "nettle-leaf", "willow-bark", "hawthorn", "valerian")
STARTS = (date(2027, 1, 4), date(2027, 1, 31), date(2028, 2, 29), date(2027, 12, 29))
LENGTHS = ("days = {}", "weeks = {}", "months = {}")
RHYTHMS = (
    ("od",),
    ("bd",),
    ("tds",),
    ("qds",),
    ("mane",),
    ("nocte",),
    ("at 09:15",),
    ("at rising, 13:05,bedtime",),
    ("at mid-morning, mid-afternoon",),
    ("at breakfast,21:40",),
    ("every 4 h",),
    ("every 5h",),
    ("every 4-6 h prn",),
    ("every 3-4h prn", "max 2/day"),
    ("prn", "max 3/day"),
    ("prn", "gap 5 h"),
    ("bd", "and prn", "max 4/day"),
    ("od", "and prn", "gap 4 h"),
    ("nocte", "and prn", "gap 6h", "max 2/day"),
)
"""A rhythm, and the qualifiers that it needs."""
DAYS = (
    "on mon wed fri",
    "on sat sun",
    "alternate days",
    "every 3 days",
    "3 w on 1 w off",
    "10 d on 4 d off",
    "1 mo on 1 w off",
    "2 w on 1 mo off",
    "1 mo on 1 mo off",
    "on tue thu 2 w on 9 d off",
    "every 4 days 2 w on 1 w off",
    "5 d on 2 d off alternate days",
)
UNITS = {
    "tea": ("cup", "cups"),
    "tincture": ("mL", "tsp", "drops", "tbsp", "dropperfuls"),
    "capsule": ("capsule", "Capsules"),
    "rub": ("application", "applications"),
    "glycerite": ("mL", "tsp", "drops"),
    "syrup": ("mL", "tsp", "tbsp"),
    "juice": ("mL", "tbsp"),
    "tablet": ("tablet", "Tablets"),
    "powder": ("g", "tsp", "tbsp"),
    "product": ("piece", "pieces", "tablet"),
    "liquid product": ("mL", "tsp", "drops"),
    "product in scoops": ("scoop", "scoops"),
    "ointment": ("application", "applications"),
    "bath": ("application", "applications"),
    "steam": ("application", "applications"),
    "gargle": ("cup", "mL"),
    "mouthwash": ("mL", "tsp"),
}
TITRATED = 0.93
"""One line in so many is a titration."""
FORMS = {"liquid product": "product", "product in scoops": "product"}
"""The form of a product by what its packet tells the contents of."""
FOUR_OF_OLD = ("tea", "tincture", "capsule", "rub")
CLIENT_DAYS = (
    "",
    'bedtime = "00:30"',
    'breakfast = "08:10"\nsupper = "19:00"',
    'rising = "05:00"\nbedtime = "01:15"',
)


def after(days: int) -> str:
    """When a step comes, in weeks or in days."""
    return f"after_weeks = {days // 7}" if days % 7 == 0 else f"after_days = {days}"


def _with_revision(file: Table, revision: str) -> Table:
    """A parsed course file with one more revision."""
    course = file["course"]
    more = parsed(revision)["course"]["revision"]
    return {**file, "course": {**course, "revision": [*course.get("revision", ()), *more]}}


class Maker:
    """Makes one course file after another from a seed."""

    def __init__(self, seed: int) -> None:
        self.random = Random(seed)  # noqa: S311 - repeatable choices, no secrets

    def course(self) -> str:
        """The text of a course file."""
        pick = self.random
        self.start = pick.choice((*STARTS, date(2027, 1, 1) + timedelta(pick.randrange(800))))
        self.remedies = {
            f"r{n}": pick.choice(FOUR_OF_OLD if pick.random() < 0.5 else tuple(UNITS))
            for n in range(pick.randint(1, 3))
        }
        zone = pick.choice(("Europe/London", "America/New_York", "Asia/Kolkata", "UTC"))
        client = f'version = 1\n[client]\nname = "Una"\nzone = "{zone}"\n'
        client += f"[client.day]\n{pick.choice(CLIENT_DAYS)}\n"
        client += "".join(self.remedy(name) for name in self.remedies)
        text = client + self.protocol() + f"[course]\nstart = {self.start}\n"
        if pick.random() < 0.3:
            text += f"until = {self.start + timedelta(pick.randint(150, 250))}\n"
        return self.revised(text)

    def remedy(self, name: str) -> str:
        pick, form = self.random, self.remedies[name]
        told = {
            "tea": f"grams_per_cup = {pick.choice((3, 2.5))}",
            "gargle": "grams_per_cup = 4",
            "bath": "grams_per_bath = 50",
            "steam": "grams_per_bowl = 10",
            "powder": "grams_per_tsp = 2.5",
            "tincture": pick.choice(
                ("ml_per_dropperful = 0.75", "drops_per_ml = 34\ndrops_per_dropperful = 30")
            ),
            "liquid product": 'mg_in = "5 mL"',
            "product in scoops": 'mg_in = "2 scoops"',
            "glycerite": pick.choice(("", "drops_per_ml = 26", 'base = "water"\nbase_parts = 3')),
            "syrup": 'base = "syrup"\nbase_parts = 7',
        }.get(form, "")
        herbs = pick.sample(HERBS, pick.randint(1, 2))
        parts = ", ".join(f'{{ herb = "{herb}", {self.part(form)} }}' for herb in herbs)
        form = FORMS.get(form, form)
        return f'[[remedy]]\nid = "{name}"\nform = "{form}"\n{told}\nparts = [{parts}]\n'

    def part(self, form: str) -> str:
        pick = self.random
        if form in ("capsule", "tablet", "product", *FORMS):
            kind = pick.choice(("", ', as = "extract"'))
            return f"mg = {pick.choice((200, 350))}{kind}"
        if form in ("tea", "powder", "bath", "steam", "gargle", "juice"):
            return f"parts = {pick.randint(1, 3)}"
        if form == "ointment":
            return f"percent = {pick.choice((2.5, 10))}"
        ratio, ethanol = pick.choice(("1:3", "1:5")), pick.choice((25, 45.5, 60))
        parts = f'parts = {pick.randint(1, 30)}, ratio = "{ratio}"'
        return parts if form == "glycerite" else f"{parts}, ethanol = {ethanol}"

    def protocol(self) -> str:
        pick = self.random
        self.phases = [f"p{n}" for n in range(pick.randint(1, 3))]
        text = '[protocol]\nname = "Any"\n'
        for name in self.phases:
            last = name == self.phases[-1] and pick.random() < 0.4
            length = "open = true" if last else self.length()
            lines = self.lines(may_count=True)
            text += f'[[protocol.phase]]\nid = "{name}"\n{length}\n{lines}'
        if pick.random() < 0.3:
            bounded = [f'"{name}"' for name in self.remedies if pick.random() < 0.8]
            bounded = bounded or ['"r0"']
            text += f"[[protocol.ceiling]]\nremedies = [{', '.join(bounded)}]\n"
            text += f"most_per_day = {pick.randint(1, 6)}\n"
        stand_in = pick.choice(("", "stand_in = true\n"))
        text += f'[[protocol.phase]]\nid = "sos"\npurpose = "rescue"\n{self.length(9)}\n{stand_in}'
        return text + self.lines()

    def length(self, most: int = 40) -> str:
        unit = self.random.choice(LENGTHS)
        most = most if "days" in unit else 6 if "weeks" in unit else 2
        return unit.format(self.random.randint(1, most))

    def lines(self, *, may_count: bool = False) -> str:
        pick = self.random
        text = ""
        for name in pick.sample(list(self.remedies), pick.randint(1, len(self.remedies))):
            text += f'[[protocol.phase.line]]\nremedy = "{name}"\n'
            kind = pick.random()
            if kind > TITRATED:
                text += self.titration(name)
                continue
            text += f'take = "{self.take(name)}"\n'
            if kind < 0.3:
                days = sorted(pick.sample(range(1, 36), pick.randint(1, 2)))
                steps = (f'{{ {after(n)}, take = "{self.take(name)}" }}' for n in days)
                text += f"steps = [{', '.join(steps)}]\n"
            if may_count and pick.random() < 0.3:
                text += 'count_from = "course"\n'
        return text

    def titration(self, name: str) -> str:
        """A dose that changes every few days, at the same times of the day."""
        pick = self.random
        often = pick.choice(("tds", "bd ac", "nocte", "bd and prn max 2/day", "od alternate days"))
        unit = UNITS[self.remedies[name]][0]
        takes = [f"{number} {unit} {often}" for number in ("1/2", "1", "1.5", "2", "3", "4")]
        days = sorted(pick.sample(range(2, 30), len(takes) - 1))
        steps = (
            f'{{ {after(n)}, take = "{told}" }}' for n, told in zip(days, takes[1:], strict=True)
        )
        return f'take = "{takes[0]}"\nsteps = [{", ".join(steps)}]\n'

    def take(self, remedy: str) -> str:
        pick = self.random
        rhythm, *words = pick.choice(RHYTHMS)
        words += [pick.choice(("ac", "pc", "with food"))] * (pick.random() < 0.3)
        words += [pick.choice(DAYS)] * (pick.random() < 0.6)
        pick.shuffle(words)
        number = pick.choice(("1", "2", "2.5", "1/2", "½", "1/3", "1-2", "½ - 3/4", "1/3–1"))
        gap = pick.choice((" ", "", "  "))
        unit = pick.choice(UNITS[self.remedies[remedy]])
        told = f"{number}{gap}{unit} {' '.join((rhythm, *words))}"
        return told.upper() if pick.random() < 0.1 else told

    def revised(self, text: str) -> str:
        """The course with some revisions."""
        pick, file = self.random, parsed(text)
        laid = laid_out(file)
        for _ in range(pick.choice((0, 1, 2, 3, 4, 6))):
            revision = self.revision(laid)
            try:
                laid = laid_out(_with_revision(file, revision))
            except ImpossibleError:
                if pick.random() < 0.04:
                    return text + revision
            else:
                text, file = text + revision, laid.file
        return text

    def revision(self, laid: Laid) -> str:
        pick = self.random
        days = (laid.last - laid.start).days
        since = laid.start + timedelta(pick.randint(0, min(days, 120)))
        to = min(since + timedelta(pick.randint(0, 20)), laid.last)
        change = pick.choice(tuple(self.fields(since, to)))
        fields = self.fields(since, to)[change]
        on = laid.start + timedelta(pick.randint(0, min(days, 40)))
        struck = '\nvoid = "entered in error"' if pick.random() < 0.1 else ""
        return (
            f'[[course.revision]]\non = {min(on, since)}\nchange = "{change}"\n{fields}{struck}\n'
        )

    def alike(self, remedy: str) -> str:
        """Another remedy of the same form, or the remedy itself where there is none."""
        form = self.remedies[remedy]
        others = [name for name, its in self.remedies.items() if its == form and name != remedy]
        return self.random.choice(others) if others else remedy

    def fields(self, since: date, to: date) -> dict[str, str]:
        pick = self.random
        remedy = pick.choice(list(self.remedies))
        number = pick.choice((-3, -1, 1, 2, 5))
        unit = pick.choice(("weeks", "days"))
        begin, both = f"from = {since}", f"from = {since}\nto = {to}"
        maybe = pick.choice((begin, both))
        return {
            "extend": f'phase = "{pick.choice(self.phases)}"\n{unit} = {number}',
            "advance": f'to = "{pick.choice(self.phases)}"\n{begin}',
            "pause": f'{both}\nmode = "{pick.choice(("skip", "freeze"))}"',
            "flare": f'{maybe}\nrescue = "sos"',
            "redirect": f'remedy = "{remedy}"\n{maybe}\ntake = "{self.take(remedy)}"',
            "stop": f'remedy = "{remedy}"\n{begin}\nreason = "tired of it"',
            "end": begin,
            "join": f'remedy = "{remedy}"\n{maybe}\ntake = "{self.take(remedy)}"',
            "stay": "",
            "reformulate": f'remedy = "{remedy}"\n{begin}\nwith = "{self.alike(remedy)}"',
        }
