"""What to say to a Python that is too old. Written so that an old Python 3 can read it."""

import shutil
import sys


def explain(script: str) -> str:
    """Say which Python is needed, and which one of this machine would do."""
    lines = [
        "Sennight needs Python 3.11 or newer; this is Python {}.{}.".format(*sys.version_info)
    ]
    for minor in range(20, 10, -1):
        name = f"python3.{minor}"
        if shutil.which(name):
            lines.append(f"This machine has a newer one. Run: {name} {script}")
            break
    else:
        lines.append("On Debian or Ubuntu: sudo apt-get install python3 python3-venv")
        lines.append("(Debian 12, Ubuntu 24.04 or newer)")
    return "\n".join(lines)
