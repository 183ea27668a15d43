"""Pieces that several pages show: ranges, directions, tags, phases."""
