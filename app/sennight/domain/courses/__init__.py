"""A client, a protocol, the course made of both, its revisions, and the stretches that follow."""
