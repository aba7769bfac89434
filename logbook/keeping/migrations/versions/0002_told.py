"""What came from a file, and what the owner was told: imports, notices, calendar entries, dates named."""

from __future__ import annotations

from alembic import op

from logbook.keeping.migrations.scripts import statements

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    for statement in statements(__file__, op.get_bind().dialect.name):
        op.get_bind().exec_driver_sql(statement)
