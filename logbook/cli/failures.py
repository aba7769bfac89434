"""The end of a command that failed: one sentence or one JSON document, and its exit code."""

from __future__ import annotations

import json
import os
import sys
import traceback

from logbook.errors import BadInput, LogbookError, NotUnderstood
from logbook.reckoning.text import printable

INTERRUPTED = 130
OURS = 4
SENTENCE_LENGTH = 1_000


class UsageMistake(BadInput):
    """A command, option or argument that does not exist, is missing, or is one too many."""

    code = "usage"


class StoppedError(LogbookError):
    """Stopped by the person at the keyboard."""

    code = "interrupted"
    exit_code = INTERRUPTED

    def __init__(self) -> None:
        super().__init__("Interrupted.")


def report(error: BaseException, *, as_json: bool) -> int:
    """Says what went wrong, on standard output as JSON or on standard error as a sentence; the exit code."""
    if os.environ.get("LOGBOOK_DEBUG") and not isinstance(error, StoppedError):
        traceback.print_exception(error)
    known = error if isinstance(error, LogbookError) else _unforeseen(error)
    if as_json:
        print(json.dumps({"error": _document(known)}))
    else:
        print(_sentences(known), file=sys.stderr)
    return known.exit_code


def _unforeseen(error: BaseException) -> LogbookError:
    if isinstance(error, OSError):
        name = f"{error.filename}: " if error.filename else ""
        return LogbookError(f"{name}{error.strerror or error}.", where=str(error.filename or "") or None)
    if isinstance(error, MemoryError):
        return LogbookError("There is not enough memory for this.")
    return LogbookError(
        f"Something went wrong in logbook itself ({type(error).__name__}: {error}); "
        f"LOGBOOK_DEBUG=1 shows where."
    )


def _document(error: LogbookError) -> dict[str, object]:
    document: dict[str, object] = {"code": error.code, "message": error.message, "where": error.where}
    if isinstance(error, NotUnderstood):
        document |= {"line": error.line, "column": error.column}
    return document


def _sentences(error: LogbookError) -> str:
    text = printable(error.message, SENTENCE_LENGTH)
    return f"{text}\n{error.pointer()}" if isinstance(error, NotUnderstood) else text
