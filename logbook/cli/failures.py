"""The end of a command that failed: one sentence or one JSON document, and its exit code."""

from __future__ import annotations

import json
import os
import sys
import traceback

from logbook.cli.output import WIDTH, UnsaidError, cells, write
from logbook.errors import BadInput, LogbookError, NotUnderstood
from logbook.model.text import printable

INTERRUPTED = 130
SENTENCE_LENGTH = 1_000
BEFORE_THE_WORD = 50  # characters of a long line that are still shown


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
    if as_json and not isinstance(known, UnsaidError):
        write(json.dumps({"error": _document(known)}))
    else:
        write(_sentences(known), sys.stderr)
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
    return f"{text}\n{_pointer(error)}" if isinstance(error, NotUnderstood) else text


def _pointer(error: NotUnderstood) -> str:
    """The line with a caret under the word; of a long line, the part around the word."""
    line, column = printable(error.line), error.column
    start = max(0, column - BEFORE_THE_WORD)
    shown = ("…" if start else "") + line[start : start + WIDTH - 2]
    before = cells(shown[: column - start + (1 if start else 0)])
    return f"{shown}\n{' ' * before}^"
