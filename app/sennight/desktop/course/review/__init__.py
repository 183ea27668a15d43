"""The review of a course: how it goes, what was taken, what was told last, and the decision."""
