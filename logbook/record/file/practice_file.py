"""Reads the constants of the model: the shipped file and, where there is one, the owner's override."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import logbook
from logbook.errors import RecordTrouble
from logbook.model.practice import Practice, parse
from logbook.record.file.places import override_is_named, override_path


def shipped_path() -> Path:
    return Path(logbook.__file__).parent / "practice.toml"


def load_practice() -> Practice:
    """Every constant in force.

    Raises BadInput naming key and line when the override is wrong, RecordTrouble when it cannot be read.
    """
    path = override_path()
    override = _read(path) if override_is_named() or path.exists() else None
    return _parsed(_read(shipped_path()), override, str(path))


@lru_cache(maxsize=4)
def _parsed(shipped: str, override: str | None, name: str) -> Practice:
    """What the texts say; the same texts are not looked through twice."""
    return parse(shipped, override=override, override_name=name)


def _read(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        reason = error.strerror if isinstance(error, OSError) else "it is not UTF-8 text"
        raise RecordTrouble(
            f"The constants in {path} could not be read: {reason}.", where=str(path)
        ) from None
