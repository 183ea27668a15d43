"""The diary: what the client took."""
