"""What clients take and have, by the names that people use: medicines, conditions, allergies."""
