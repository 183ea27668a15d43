"""The check of a course against what is known of the client."""
