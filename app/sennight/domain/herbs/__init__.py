"""The materia medica as values: herbs, their doses, ranges, sources and general rules."""
