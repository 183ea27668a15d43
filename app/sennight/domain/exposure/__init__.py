"""What a course gives of each herb and of ethanol, day by day, against the published ranges."""
