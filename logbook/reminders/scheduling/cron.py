"""The nudge as one line in the owner's crontab, after crontab(5); every other line stays as it is."""

from __future__ import annotations

import shutil

from logbook.errors import Refused
from logbook.reminders import programs
from logbook.reminders.scheduling.job import Job, Piece

MARK = b"# installed by logbook nudge"
LONGEST = 990  # cron refuses a command of 1000 bytes
_PLAIN = {"LC_ALL": "C"}  # so that cron says in English that there is no crontab
_IN_QUOTES = {"\\": "\\''", "'": "'\"'\"'", "%": "\\%"}
_NONE_YET = (b"no crontab", b"No such file")


class Cron:
    """A crontab line that runs daily; runs that the machine slept through are not made up."""

    name = "cron"

    def is_here(self) -> bool:
        return shutil.which("crontab") is not None

    def pieces(self, job: Job) -> list[Piece]:
        return [Piece(None, crontab_line(job))]

    def install(self, job: Job) -> None:
        _write(_without_ours(_read()) + crontab_line(job))

    def remove(self) -> bool:
        if not self.is_here():
            return False
        before = _read()
        after = _without_ours(before)
        if after == before:
            return False
        _write(after)
        return True


def crontab_line(job: Job) -> bytes:
    """The whole line: minute and hour, the command for `sh`, and the comment that marks it as ours."""
    surroundings = [f"{key}={quoted(value)}" for key, value in job.surroundings.items()]
    command = " ".join([*surroundings, *map(quoted, job.words)]).encode()
    # Cron mails what a command prints: a failure should be mailed, "Nothing new." should not.
    line = b"%d %d * * * %s >/dev/null %s\n" % (job.minute, job.hour, command, MARK)
    if len(line) > LONGEST:
        raise Refused(f"The line for the crontab would be {len(line)} bytes long; {LONGEST} fit.")
    return line


def quoted(word: str) -> str:
    r"""Quotes a word for `sh` inside a crontab.

    It goes in single quotes, where `sh` takes each sign as it is. Cron takes `%` as the end of the command
    unless a backslash is before it, and some crons take `\\` as `\`. So the quotes are closed and opened
    after each backslash of the word, to keep it apart from both.
    """
    return f"'{''.join(_IN_QUOTES.get(char, char) for char in word)}'"


def _read() -> bytes:
    found = programs.run(("crontab", "-l"), surroundings=_PLAIN)
    if found.code == 0:
        return found.out
    if any(words in found.err for words in _NONE_YET):
        return b""
    raise found.trouble()


def _write(content: bytes) -> None:
    if content:
        programs.run(("crontab", "-"), stdin=content, surroundings=_PLAIN).or_trouble()
    else:
        programs.run(("crontab", "-r"), surroundings=_PLAIN).or_trouble()


def _without_ours(crontab: bytes) -> bytes:
    """The other lines unchanged, the last one with a line end."""
    lines = [line for line in crontab.splitlines(keepends=True) if not line.rstrip().endswith(MARK)]
    if lines and not lines[-1].endswith(b"\n"):
        lines[-1] += b"\n"
    return b"".join(lines)
