"""The take-home sheet."""
