"""What the program knows: materia medica, vocabulary and safety rules, read from its resources."""
