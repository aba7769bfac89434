"""Processes that use a record as another window would, and may be killed or starved."""

from __future__ import annotations

import os
import select
import signal
import sys
import traceback
from collections.abc import Callable
from dataclasses import dataclass

PATIENCE_S = 60.0


@dataclass
class Child:
    """A forked process and the lines that it says."""

    pid: int
    said: int
    rest: bytes = b""

    def listen(self, seconds: float) -> list[str]:
        """Whole lines that arrive within a time; none when nothing is said."""
        ready, _, _ = select.select([self.said], [], [], seconds)
        if not ready:
            return []
        *lines, self.rest = (self.rest + os.read(self.said, 65536)).split(b"\n")
        return [line.decode() for line in lines]

    def kill(self) -> list[str]:
        """Ends it at once, wherever it is; returns what it had still said."""
        os.kill(self.pid, signal.SIGKILL)
        return self.wait()

    def wait(self) -> list[str]:
        """Hears it out and collects it; a half-said line does not count."""
        heard = b""
        while piece := os.read(self.said, 65536):
            heard += piece
        os.close(self.said)
        os.waitpid(self.pid, 0)
        *lines, self.rest = (self.rest + heard).split(b"\n")
        return [line.decode() for line in lines]


def start(work: Callable[[Callable[[str], None]], None]) -> Child:
    """Forks a process that does `work`, which is given a function to say a line with."""
    reading, writing = os.pipe()
    pid = os.fork()
    if pid:
        os.close(writing)
        return Child(pid, reading)
    try:
        os.close(reading)
        work(lambda line: os.write(writing, line.encode() + b"\n"))
    except BaseException as error:
        os.write(writing, f"error {type(error).__name__}: {error}\n".encode())
        traceback.print_exc(file=sys.__stderr__)
    finally:
        os._exit(0)
