"""The errors that people may meet, each with a sentence, the field or line at fault, and an exit code."""

from __future__ import annotations


class LogbookError(Exception):
    """Something a person can read and act on; never shown with a traceback."""

    code = "error"
    exit_code = 4

    def __init__(self, message: str, *, where: str | None = None) -> None:
        super().__init__(message)
        self.message = message
        self.where = where


class BadInput(LogbookError):
    """What was given is wrong or incomplete; nothing was written."""

    code = "bad-input"
    exit_code = 3


class NothingLeft(BadInput):
    """There is nothing to undo or to redo; nothing is wrong either."""


class NotUnderstood(BadInput):
    """A word in a one-line entry has no meaning there; `line` and `column` place the caret."""

    code = "not-understood"

    def __init__(self, message: str, *, line: str, column: int, where: str | None = None) -> None:
        super().__init__(message, where=where or f"column {column + 1}")
        self.line = line
        self.column = column

    def pointer(self) -> str:
        """The line with a caret under the word, on two lines."""
        return f"{self.line}\n{' ' * self.column}^"


class NotFound(BadInput):
    """The record does not hold this name or id."""

    code = "not-found"


class Refused(LogbookError):
    """This program will not do that to this record, such as open a foreign file."""

    code = "refused"
    exit_code = 3


class RecordTrouble(LogbookError):
    """The record could not be read or written."""

    code = "record"
    exit_code = 4


class NoRecord(RecordTrouble):
    """There is no record at the place that was given."""


class InUse(RecordTrouble):
    """Something else holds the record, and waiting did not help."""


class SystemTrouble(LogbookError):
    """A program of the system, such as its scheduler or its notifier, is missing or failed."""

    code = "system"
