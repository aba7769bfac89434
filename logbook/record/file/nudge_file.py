"""Reads the owner's `nudge.toml`: the command that is to show the reminders."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from logbook.errors import BadInput, RecordTrouble
from logbook.model.practice_check import line_of
from logbook.model.text import did_you_mean, printable
from logbook.record.file.places import nudge_path

_EXAMPLE = 'command = ["program", "argument"]'


def nudge_command() -> tuple[str, ...] | None:
    """The program and its arguments; None where the owner chose none.

    Raises BadInput naming file, line and key, RecordTrouble when the file cannot be read.
    """
    path = nudge_path()
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return None
    except (OSError, UnicodeDecodeError) as error:
        reason = error.strerror if isinstance(error, OSError) else "it is not UTF-8 text"
        raise RecordTrouble(f"{path} could not be read: {reason}.", where=str(path)) from None
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadInput(f"{path} is not valid TOML: {error}.", where=str(path)) from None
    for key in found:
        if key != "command":
            offer = did_you_mean(key, ["command"])
            raise _fault(text, path, key, f"there is no such key, only `command`.{offer}")
    if "command" not in found:
        return None
    return _checked(found["command"], text, path)


def _checked(command: Any, text: str, path: Path) -> tuple[str, ...]:
    if not isinstance(command, list) or not all(isinstance(word, str) for word in command):
        raise _fault(text, path, "command", f"it must be a list of texts, such as {_EXAMPLE}.")
    if not command or not command[0].strip():
        raise _fault(text, path, "command", f"it names no program; write it as {_EXAMPLE}.")
    if any("\0" in word for word in command):
        raise _fault(text, path, "command", "no word of a command can hold a NUL character.")
    return tuple(command)


def _fault(text: str, path: Path, key: str, sentence: str) -> BadInput:
    line = line_of(text, key)
    return BadInput(f"{path}, line {line}, {printable(key, 40)}: {sentence}", where=f"{path}:{line}")
