"""The first revision: watches, seals, exposures, habits, worn stretches, events, ledger, journal."""

from __future__ import annotations

from pathlib import Path

from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def statements(dialect: str) -> list[str]:
    """The script beside this file, as a database takes it."""
    script = Path(__file__).with_suffix(".sql").read_text(encoding="utf-8")
    if dialect != "sqlite":
        for word in (" WITHOUT ROWID, STRICT", " STRICT"):
            script = script.replace(word, "")
        script = script.replace(" INTEGER", " BIGINT")
    lines = [line for line in script.splitlines() if not line.startswith("--")]
    return [statement for statement in "\n".join(lines).split(";") if statement.strip()]


def upgrade() -> None:
    for statement in statements(op.get_bind().dialect.name):
        op.get_bind().exec_driver_sql(statement)
