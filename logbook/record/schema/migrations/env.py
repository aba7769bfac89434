"""Runs the record's revisions on the connection it is given, inside the transaction that is open there."""

from __future__ import annotations

from alembic import context

connection = context.config.attributes["connection"]
context.configure(connection=connection)
with context.begin_transaction():
    context.run_migrations()
