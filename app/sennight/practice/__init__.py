"""The use cases: what a practitioner does."""
