"""Giving a course to the client: what, how, a look before it, and where to."""
