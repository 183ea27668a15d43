"""Sennight: phased courses of herbal treatment, planned in weeks."""

__version__ = "0.1.0"
