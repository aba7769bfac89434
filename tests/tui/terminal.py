"""The whole program on a terminal of its own: what is typed goes through a real pty, in one write."""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import struct
import sys
import termios
import time
from datetime import date
from pathlib import Path
from types import TracebackType

ROWS, COLUMNS = 24, 80
PATIENCE_S = 60.0  # the longest wait, on a busy machine; never the usual one
_ESCAPES = re.compile(rb"\x1b(?:\[[0-?]*[ -/]*[@-~]|\][^\x07\x1b]*(?:\x07|\x1b\\)|[PX^_].*?\x1b\\|[@-Z\\-_])")


class Terminal:
    """`logbook` on a record, in a pty of 80 by 24."""

    def __init__(self, path: Path, today: date) -> None:
        self._said = b""
        words = [sys.executable, "-m", "logbook", "--file", str(path), "--today", today.isoformat()]
        self._pid, self._end = pty.fork()
        if self._pid == 0:
            # The size stands before the program asks for it.
            fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", ROWS, COLUMNS, 0, 0))
            os.execv(sys.executable, words)

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if kind is not None:
            os.kill(self._pid, 9)
        os.close(self._end)
        os.waitpid(self._pid, 0)

    def wait_for(self, words: str) -> None:
        """Go on once the program has painted `words`; what it paints after that is looked at anew."""
        end = time.monotonic() + PATIENCE_S
        while words.replace(" ", "") not in (text := self._painted()):
            if not self._read(end - time.monotonic()):
                raise AssertionError(f"waited in vain for {words!r}; painted: {text[-3000:]}")
        self._said = b""

    def type(self, keys: str) -> None:
        """All of `keys` at once: no time passes between two of them."""
        os.write(self._end, keys.encode())

    def leave(self) -> None:
        """Quit, and wait until the program has ended."""
        self.type("\x11")
        end = time.monotonic() + PATIENCE_S
        while self._read(end - time.monotonic()):
            pass

    def _painted(self) -> str:
        """What was painted, without blanks: a run of blanks may be painted as a move of the cursor."""
        return "".join(_ESCAPES.sub(b"", self._said).decode(errors="replace").split())

    def _read(self, patience_s: float) -> bool:
        """Take what the program says; False when it says nothing in time, or no more."""
        if not select.select([self._end], [], [], max(0.0, patience_s))[0]:
            return False
        try:
            piece = os.read(self._end, 65536)
        except OSError:  # the other end is closed
            return False
        self._said += piece
        return bool(piece)
