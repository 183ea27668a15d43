"""What follows from a course: actions, amounts and the day in words."""
