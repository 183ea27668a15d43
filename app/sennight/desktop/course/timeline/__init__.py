"""The time axis of a course."""
