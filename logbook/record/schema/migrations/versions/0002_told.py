"""What came from a file, and what the owner was told: imports, notices, calendar entries, dates named."""

from __future__ import annotations

from typing import Any

from alembic import op

from logbook.record.schema.migrations.scripts import statements

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

NEW_COLUMNS: dict[str, dict[str, Any]] = {}  # the rows that the journal keeps stay as they are


def upgrade() -> None:
    for statement in statements(__file__, op.get_bind().dialect.name):
        op.get_bind().exec_driver_sql(statement)
