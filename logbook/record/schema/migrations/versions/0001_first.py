"""The first revision: watches, seals, exposures, habits, worn stretches, events, ledger, journal."""

from __future__ import annotations

from typing import Any

from alembic import op

from logbook.record.schema.migrations.scripts import statements

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

NEW_COLUMNS: dict[str, dict[str, Any]] = {}  # the rows that the journal keeps stay as they are


def upgrade() -> None:
    for statement in statements(__file__, op.get_bind().dialect.name):
        op.get_bind().exec_driver_sql(statement)
