"""Reads diary sheets from photos: bytes and a grid in, what each box says out; all of it here."""
