"""Runs programs of the system by argument list: no shell, a time limit, and a sentence when one fails."""

from __future__ import annotations

import os
import signal
import subprocess
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import IO

from logbook.errors import SystemTrouble
from logbook.model.text import printable

LIMIT_S = 20.0


@dataclass(frozen=True, slots=True)
class Ran:
    """How a program ended and what it said."""

    program: str
    code: int
    out: bytes
    err: bytes

    def trouble(self) -> SystemTrouble:
        """The sentence for an exit code other than 0, with the first line of what the program said."""
        said = self.err.decode(errors="replace").strip().splitlines()
        words = f": {printable(said[0], 200)}" if said else ""
        return SystemTrouble(f"{self.program} ended with code {self.code}{words}.", where=self.program)

    def or_trouble(self) -> Ran:
        """Returns itself; raises SystemTrouble when the program failed."""
        if self.code != 0:
            raise self.trouble()
        return self


def run(
    words: Sequence[str],
    *,
    stdin: bytes = b"",
    surroundings: Mapping[str, str] | None = None,
    limit_s: float | None = None,
) -> Ran:
    """Runs a program to its end; `surroundings` are environment variables on top of those of this process.

    Raises SystemTrouble when it cannot be started or takes longer than the limit, by default 20 seconds. Its
    output goes through files, so that nothing it leaves running in the background is waited for.
    """
    program = printable(words[0], 200)
    limit_s = LIMIT_S if limit_s is None else limit_s
    with tempfile.TemporaryFile() as given, tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err:
        given.write(stdin)
        given.seek(0)
        try:
            child = subprocess.Popen(
                list(words), stdin=given, stdout=out, stderr=err,
                env={**os.environ, **(surroundings or {})}, start_new_session=True,
            )  # fmt: skip
        except OSError as error:
            sentence = f"{program} could not be started: {error.strerror or error}."
            raise SystemTrouble(sentence, where=program) from None
        try:
            code = child.wait(limit_s)
        except subprocess.TimeoutExpired:
            sentence = f"{program} took longer than {limit_s:g} seconds and was stopped."
            raise SystemTrouble(sentence, where=program) from None
        finally:
            if child.poll() is None:
                _stop(child)
        return Ran(program, code, _said(out), _said(err))


def _stop(child: subprocess.Popen[bytes]) -> None:
    """Ends a program and everything that it started."""
    if hasattr(os, "killpg"):
        os.killpg(child.pid, signal.SIGKILL)
    else:
        child.kill()
    child.wait()


def _said(file: IO[bytes]) -> bytes:
    file.seek(0)
    return file.read()
