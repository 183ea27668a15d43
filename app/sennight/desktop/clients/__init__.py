"""The clients: the list of them, and each one's folder."""
