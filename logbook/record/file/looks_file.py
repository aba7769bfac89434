"""The owner's `looks.toml`: in which colours the rooms are drawn on this machine. No record knows of it."""

from __future__ import annotations

import os
import tomllib
from pathlib import Path
from typing import Any

from logbook.errors import BadInput, RecordTrouble
from logbook.model.practice_check import line_of
from logbook.model.ranges import one_of
from logbook.model.text import did_you_mean, printable
from logbook.record.file.places import looks_path

THEMES = ("deep", "sand", "terminal")  # deep water by night, sand by day, the terminal's own colours
USUAL = THEMES[0]
_LONGEST = 10_000  # bytes; more is not what stands in such a file


def kept_theme() -> str | None:
    """The theme that the owner chose; None where none was chosen.

    Raises BadInput naming file, line and key, RecordTrouble when the file cannot be read.
    """
    path = looks_path()
    text = _text(path)
    if text is None:
        return None
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadInput(f"{path} is not valid TOML: {printable(str(error))}.", where=str(path)) from None
    except RecursionError:
        raise BadInput(f"{path} is not valid TOML: it is nested too deeply.", where=str(path)) from None
    for key in found:
        if key != "theme":
            offer = did_you_mean(key, ["theme"])
            raise _fault(text, path, key, f"there is no such key, only `theme`.{offer}")
    return _checked(found["theme"], text, path) if found else None


def keep_theme(theme: str) -> Path:
    """Keep a theme for the next start, in place of whatever stands in the file; returns where.

    Raises BadInput for a theme that there is not, RecordTrouble when the file cannot be written.
    """
    from logbook.record.file.writing_files import write_private

    check_theme(theme)
    path = looks_path()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        sentence = f"{path} could not be written: {error.strerror}."
        raise RecordTrouble(sentence, where=str(path)) from None
    # A link to a file elsewhere stays a link.
    write_private(Path(os.path.realpath(path)), f'theme = "{theme}"\n', replace=True)
    return path


def check_theme(theme: str, where: str = "theme") -> str:
    """Hand a theme's name back; raises BadInput when there is no such theme."""
    return one_of(theme, THEMES, "choice of colours", where)


def _text(path: Path) -> str | None:
    reason = "it is not UTF-8 text"
    try:
        if not path.is_file():  # anything else could be waited on for ever
            if not path.exists():
                return None
            reason = "it is not a file"
        else:
            with path.open("rb") as file:
                content = file.read(_LONGEST + 1)
            if len(content) <= _LONGEST:
                return content.decode()
            reason = f"it is longer than {_LONGEST:,} bytes"
    except OSError as error:
        reason = error.strerror or str(error)
    except UnicodeDecodeError:
        pass
    raise RecordTrouble(f"{path} could not be read: {reason}.", where=str(path))


def _checked(theme: Any, text: str, path: Path) -> str:
    if not isinstance(theme, str):
        raise _fault(text, path, "theme", 'it must be a name in quotes, such as theme = "sand".')
    try:
        return check_theme(theme)
    except BadInput as error:
        raise _fault(text, path, "theme", error.message) from None


def _fault(text: str, path: Path, key: str, sentence: str) -> BadInput:
    line = line_of(text, key)
    return BadInput(f"{path}, line {line}, {printable(key, 40)}: {sentence}", where=f"{path}:{line}")
