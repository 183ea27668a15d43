"""A course laid out for people: weeks, days, stages and single doses."""
