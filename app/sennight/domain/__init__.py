"""Pure values and rules: no Qt, no SQL, no files, no clock (today is a parameter)."""
