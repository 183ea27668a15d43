"""How much of each remedy a course needs, in whole containers, and how long what is held lasts."""
