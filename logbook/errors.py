"""The one family of errors that people may meet: a sentence, the field or line at fault, an exit code."""

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
    """A word of a one-line entry that has no meaning there; `line` and `column` carry the caret."""

    code = "not-understood"

    def __init__(self, message: str, *, line: str, column: int, where: str | None = None) -> None:
        super().__init__(message, where=where or f"column {column + 1}")
        self.line = line
        self.column = column

    def pointer(self) -> str:
        """The line with a caret under the word, on two lines."""
        return f"{self.line}\n{' ' * self.column}^"


class NotFound(BadInput):
    """A name or an id that the record does not hold."""

    code = "not-found"


class Refused(LogbookError):
    """A thing this program will not do to this record, such as open a foreign file."""

    code = "refused"
    exit_code = 3


class RecordTrouble(LogbookError):
    """The record could not be read or written."""

    code = "record"
    exit_code = 4


class NoRecord(RecordTrouble):
    """There is none where one was looked for."""


class InUse(RecordTrouble):
    """Another holds the record, as for as long as was waited."""


class SystemTrouble(LogbookError):
    """A program of the system, such as its scheduler or its notifier, is missing or did not do its part."""

    code = "system"
