"""Tables of a course as CSV."""
