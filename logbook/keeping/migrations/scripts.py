"""The SQL script of a revision, statement by statement, as SQLite or another database takes it."""

from __future__ import annotations

from pathlib import Path


def statements(module: str, dialect: str) -> list[str]:
    """What the `.sql` file beside a revision's module says, for one database."""
    script = Path(module).with_suffix(".sql").read_text(encoding="utf-8")
    if dialect != "sqlite":
        for word in (" WITHOUT ROWID, STRICT", " STRICT"):
            script = script.replace(word, "")
        script = script.replace(" INTEGER", " BIGINT")
    lines = [line for line in script.splitlines() if not line.startswith("--")]
    return [statement for statement in "\n".join(lines).split(";") if statement.strip()]
