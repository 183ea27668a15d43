"""Course files: read with every mistake named, and written."""
