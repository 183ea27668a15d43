"""Decisions on a course: each says what it will change before it does."""
