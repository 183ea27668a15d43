"""`python -m sennight` is the same as `sennight`."""

from __future__ import annotations

import sys

from sennight.cli import main

if __name__ == "__main__":
    sys.exit(main())
