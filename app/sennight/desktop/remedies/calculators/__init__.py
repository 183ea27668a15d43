"""Calculators for a formula; each says what it would change before it is applied."""
