"""The questions that a formula can be asked; each answer is told before it is applied."""

from sennight.desktop.remedies.answers.asker import Asker

__all__ = ["Asker"]
