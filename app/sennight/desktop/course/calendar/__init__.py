"""The course as weeks, months and days."""
