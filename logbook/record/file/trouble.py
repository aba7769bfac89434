"""What the database says when it cannot, as one sentence for people."""

from __future__ import annotations

import re
import sqlite3
from pathlib import Path

from logbook.errors import BadInput, InUse, LogbookError, NoRecord, RecordTrouble, Refused

RESTORE = "`logbook restore` brings a backup back"
_DAMAGED = "{where} is damaged ({what}); " + RESTORE + "."
_IF_IT_WAS = f" If it was one, {RESTORE}."

# What a driver raises; the second where its own message quotes a text that is no UTF-8.
OF_SQLITE = (sqlite3.Error, UnicodeDecodeError)

_IN_USE = "{where} is in use by another program and stayed so for ten seconds; nothing was written."
_SENTENCES = {
    "SQLITE_BUSY": _IN_USE,
    "SQLITE_LOCKED": _IN_USE,
    "SQLITE_FULL": "The disk is full: nothing was written to {where}, and what was there is still there.",
    "SQLITE_IOERR": "{where} could not be read or written (disk full, or failing); nothing was changed.",
    "SQLITE_READONLY": "{where} may not be written to: the file or its folder is read-only.",
    "SQLITE_CANTOPEN": "{where} could not be opened: the folder is missing, or you have no right to it.",
    "SQLITE_PERM": "{where} could not be opened: you have no right to it.",
    "SQLITE_AUTH": "{where} could not be opened: you have no right to it.",
    "SQLITE_CORRUPT": _DAMAGED,
}
_FAMILIES = (
    "SQLITE_IOERR",
    "SQLITE_BUSY",
    "SQLITE_LOCKED",
    "SQLITE_READONLY",
    "SQLITE_CANTOPEN",
    "SQLITE_CORRUPT",
)
_UNKNOWN_FORMAT = "unsupported file format"  # of a header; SQLite has no code of its own for it


def explain(error: BaseException, place: Path | str) -> LogbookError:
    """The error of a database driver, or of a text that it cannot store, as one of ours."""
    original = getattr(error, "orig", None) or error
    if isinstance(original, UnicodeEncodeError):
        return BadInput("A text holds characters that cannot be stored; please type it again.")
    if isinstance(original, UnicodeDecodeError):
        return damaged(place, "its tables are not readable")
    if isinstance(original, OverflowError):
        return BadInput("A number is too large to be stored.")
    if is_integrity(error):
        return _integrity(str(original))
    sentence = f"The record {place} could not be used: {_first_line(original)}."
    return foreseen(original, place) or RecordTrouble(sentence, where=str(place))


def foreseen(original: BaseException, place: Path | str) -> LogbookError | None:
    name = getattr(original, "sqlite_errorname", None) or ""
    if name == "SQLITE_NOTADB":
        return foreign(place)
    if str(original) == _UNKNOWN_FORMAT:
        name = "SQLITE_CORRUPT"
    sentence = _SENTENCES.get(next((f for f in _FAMILIES if name.startswith(f)), name))
    if sentence is None:
        return None
    words = sentence.format(where=f"The record {place}", what=_first_line(original))
    kind = InUse if sentence is _IN_USE else RecordTrouble
    return kind(words, where=str(place))


def is_integrity(error: BaseException) -> bool:
    return "IntegrityError" in (type(error).__name__, type(getattr(error, "orig", None)).__name__)


def damaged(place: Path | str, what: str) -> RecordTrouble:
    """A record that holds what no version of logbook wrote there; of a server its own backups are the way."""
    sentence = _DAMAGED.format(where=f"The record {place}", what=what)
    told = sentence if isinstance(place, Path) else without_advice(sentence)
    return RecordTrouble(told, where=str(place))


def unopened(error: OSError, path: Path | str) -> RecordTrouble:
    """What the system says of a file that was to be opened."""
    if isinstance(error, FileNotFoundError):
        return NoRecord(f"There is no record at {path}.", where=str(path))
    return RecordTrouble(f"The record {path} could not be opened: {error.strerror}.", where=str(path))


def without_advice(sentence: str) -> str:
    """The sentence of a file that is no record in use, for which no backup is to be brought back."""
    return sentence.replace(f"; {RESTORE}", "").replace(_IF_IT_WAS, "")


def _first_line(error: BaseException) -> str:
    return (str(error).splitlines() or [type(error).__name__])[0].rstrip(".")


def is_busy(error: BaseException) -> bool:
    """True when a database error only says that somebody else holds the lock."""
    name = getattr(getattr(error, "orig", None) or error, "sqlite_errorname", None) or ""
    return name.startswith("SQLITE_BUSY")


def foreign(place: Path | str) -> Refused:
    sentence = f"{place} is not a logbook record; it belongs to another program."
    return Refused(sentence + (_IF_IT_WAS if isinstance(place, Path) else ""), where=str(place))


def _integrity(message: str) -> LogbookError:
    """A constraint said no: a name given twice, or a value out of the record's ranges."""
    if "name_key" in message:
        return BadInput("There is already a watch of that name (capitals do not count).", where="name")
    if rule := re.search(r"\bck_(\w+)", message):
        name = rule[1]
        return BadInput(f"The record does not take this value: it breaks the rule {name}.", where=name)
    if "FOREIGN KEY" in message or "foreign key" in message:
        return BadInput("This belongs to something that is not in the record.", where="id")
    return BadInput(f"The record does not take this: {message.splitlines()[0]}.")
