"""The lines of a phase: remedies and directions."""
