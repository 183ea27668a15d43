"""Widgets and habits of the window that know nothing of herbs."""
