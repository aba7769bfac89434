"""What the database says when it cannot, as one sentence for people."""

from __future__ import annotations

import re
from pathlib import Path

from logbook.errors import BadInput, LogbookError, RecordTrouble, Refused

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
    "SQLITE_CORRUPT": "{where} is damaged; `logbook restore` brings a backup back.",
}
_FAMILIES = (
    "SQLITE_IOERR",
    "SQLITE_BUSY",
    "SQLITE_LOCKED",
    "SQLITE_READONLY",
    "SQLITE_CANTOPEN",
    "SQLITE_CORRUPT",
)


def explain(error: BaseException, place: Path | str) -> LogbookError:
    """The error of a database driver, or of a text that it cannot store, as one of ours."""
    original = getattr(error, "orig", None) or error
    where = f"The record {place}"
    if isinstance(original, UnicodeEncodeError):
        return BadInput("A text holds characters that cannot be stored; please type it again.")
    if isinstance(original, OverflowError):
        return BadInput("A number is too large to be stored.")
    if "IntegrityError" in (type(error).__name__, type(original).__name__):
        return _integrity(str(original))
    name = getattr(original, "sqlite_errorname", None) or ""
    if name == "SQLITE_NOTADB":
        return foreign(place)
    family = next((f for f in _FAMILIES if name.startswith(f)), name)
    sentence = _SENTENCES.get(family)
    if sentence is None:
        return RecordTrouble(f"{where} could not be used: {_first_line(original)}.", where=str(place))
    return RecordTrouble(sentence.format(where=where), where=str(place))


def _first_line(error: BaseException) -> str:
    return (str(error).splitlines() or [type(error).__name__])[0].rstrip(".")


def is_busy(error: BaseException) -> bool:
    """True when a database error only says that somebody else holds the lock."""
    name = getattr(getattr(error, "orig", None) or error, "sqlite_errorname", None) or ""
    return name.startswith("SQLITE_BUSY")


def foreign(place: Path | str) -> Refused:
    return Refused(f"{place} is not a logbook record; it belongs to another program.", where=str(place))


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
