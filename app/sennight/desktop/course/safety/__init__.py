"""Findings on the course page, and what is done about them."""
