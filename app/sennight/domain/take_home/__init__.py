"""What a client takes home, as a neutral document: words, tables and marks, nothing drawn."""
