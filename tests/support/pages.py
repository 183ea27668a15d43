"""The window's pages, as tests reach for them."""

from __future__ import annotations

from sennight.desktop.course.controller import CourseController
from sennight.desktop.shell.clients_section import ClientsSection
from sennight.desktop.shell.main_window import MainWindow


def clients_of(frame: MainWindow) -> ClientsSection:
    """The section of the clients: `clients`, `folder` and `course` are its pages."""
    return frame.section(ClientsSection)


def controller_of(frame: MainWindow) -> CourseController:
    """The course that is open."""
    controller = clients_of(frame).course.controller
    assert controller is not None
    return controller
