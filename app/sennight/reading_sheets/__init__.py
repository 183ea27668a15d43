"""Reads diary sheets from photos: bytes and a grid in, what each box says out; all of it here."""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
"""NumPy asks at its import: for matrices as small as these, threads take longer to begin."""
