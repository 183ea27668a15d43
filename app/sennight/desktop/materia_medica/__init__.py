"""The materia medica: the herbs that are supplied, and the practice's own beside them."""
