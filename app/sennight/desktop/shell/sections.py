"""The sections that the window has: a further one is one more entry here."""

from __future__ import annotations

from sennight.desktop.bench.section import BenchSection
from sennight.desktop.dispensary.section import DispensarySection
from sennight.desktop.kit.section import Section
from sennight.desktop.materia_medica.section import HerbsSection
from sennight.desktop.protocols.section import ProtocolsSection
from sennight.desktop.remedies.section import RemediesSection
from sennight.desktop.shell.clients_section import ClientsSection

SECTIONS: tuple[type[Section], ...] = (
    BenchSection,
    ClientsSection,
    ProtocolsSection,
    RemediesSection,
    HerbsSection,
    DispensarySection,
)
"""In the order of the rail; the window begins with the first."""
