"""Charts, described once as neutral drawings; window, PDF and pictures only paint them."""
