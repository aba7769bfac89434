"""The SQL script of a revision, statement by statement, as SQLite or another database takes it."""

from __future__ import annotations

import re
from pathlib import Path

ELSEWHERE = "-- elsewhere: "  # begins a line of a script that SQLite passes over


def statements(module: str, dialect: str) -> list[str]:
    """What the `.sql` file beside a revision's module says, for one database."""
    script = Path(module).with_suffix(".sql").read_text(encoding="utf-8")
    if dialect != "sqlite":
        script = script.replace(ELSEWHERE, "")
        for word in (" WITHOUT ROWID, STRICT", " STRICT"):
            script = script.replace(word, "")
        # References to a table that is made anew fall with it there; lines of `ELSEWHERE` bring them back.
        script = re.sub(r"(?m)^(DROP TABLE \w+);", r"\1 CASCADE;", script)
        script = script.replace(" INTEGER", " BIGINT")
    lines = [line for line in script.splitlines() if not line.startswith("--")]
    return [statement for statement in "\n".join(lines).split(";") if statement.strip()]
