"""Earlier versions of a course, and how it stood on a past day."""
