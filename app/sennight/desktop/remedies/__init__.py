"""Remedies: the shelf of formulas, the editor, and the questions that it answers."""
