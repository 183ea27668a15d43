"""Runs the migrations on the connection that the program hands over.

There is no ini file and no URL: which file is migrated, and in which transaction, is the
program's business, and so is the backup before it.
"""

from alembic import context

connection = context.config.attributes.get("connection")
if connection is None:
    raise SystemExit("A practice file is migrated by opening it with the program, not from here.")

context.configure(connection=connection, render_as_batch=True)
with context.begin_transaction():
    context.run_migrations()
