"""What a client takes: forms, ingredients, what a dose contains, how it is made and kept."""
