"""A form more, steam inhalations, which an older program does not know.

Nothing in the file changes; the number makes an older program refuse it.
"""

revision = "0027"
down_revision = "0026"


def upgrade() -> None:
    """Nothing is to be done."""
