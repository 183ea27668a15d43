"""Bench: what wants attention, by day."""
