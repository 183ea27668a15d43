"""The questions that a formula can be asked; each answer is told before it is applied."""

from sennight.desktop.remedies.answers.asker import CalculatorMenu

__all__ = ["CalculatorMenu"]
