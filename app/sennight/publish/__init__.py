"""Files for others: course files, calendars, tables and print. Domain values in, bytes out."""
