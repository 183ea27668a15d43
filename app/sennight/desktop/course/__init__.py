"""The course page: timeline, calendar, lines and what follows."""
