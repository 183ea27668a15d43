"""Calendar entries of a course, and what changes in them when it is published again."""
