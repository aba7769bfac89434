"""The first revision: watches, seals, exposures, habits, worn stretches, events, ledger, journal."""

from __future__ import annotations

from pathlib import Path

from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    script = Path(__file__).with_suffix(".sql").read_text(encoding="utf-8")
    if op.get_bind().dialect.name != "sqlite":
        script = (
            script.replace(" WITHOUT ROWID, STRICT", "").replace(" STRICT", "").replace(" INTEGER", " BIGINT")
        )
    for statement in script.split(";\n"):
        if statement.strip():
            op.get_bind().exec_driver_sql(statement)
