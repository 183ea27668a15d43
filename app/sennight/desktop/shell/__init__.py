"""The window around the pages: rail, top bar, find, status line, settings."""
