"""Time from the start of the process to the painted Shelf, beside a bare table, in a pseudo-terminal.

Usage: python benchmarks/start_up.py [ROUNDS]. Both programs run in turn in a terminal of the same size, on
records of 40 watches; the ratio of the medians counts, since the machine's speed drops out of it.
"""

from __future__ import annotations

import os
import pty
import select
import signal
import sqlite3
import statistics
import struct
import sys
import tempfile
import time
from datetime import date
from fcntl import ioctl
from pathlib import Path
from termios import TIOCSWINSZ

WATCHES = 40
BARE = """
import sqlite3, sys
from textual.app import App
from textual.widgets import DataTable

class Bare(App):
    def compose(self):
        yield DataTable()

    def on_mount(self):
        table = self.query_one(DataTable)
        table.add_columns("watch", "mark", "use", "left", "limited", "water", "next")
        for row in sqlite3.connect(sys.argv[1]).execute("SELECT * FROM shown"):
            table.add_row(*map(str, row))

Bare().run()
"""


def main(rounds: int) -> None:
    """Both in turn, then the medians and their ratio."""
    with tempfile.TemporaryDirectory() as folder:
        bare, record = Path(folder) / "bare.db", Path(folder) / "record.logbook"
        _make_bare(bare)
        _make_record(record)
        ours = [sys.executable, "-m", "logbook", "--file", str(record)]
        theirs = [sys.executable, "-c", BARE, str(bare)]
        times: dict[str, list[float]] = {"bare table": [], "Shelf": []}
        for n in range(rounds + 1):
            pairs = [("bare table", theirs, b"Watch 01"), ("Shelf", ours, b"Watch 01")]
            for name, command, sight in pairs if n % 2 else reversed(pairs):
                seconds = until_seen(command, sight)
                if n:  # the first round warms the disk cache
                    times[name].append(seconds)
    for name, found in times.items():
        print(f"{name}: median {statistics.median(found):.3f} s, fastest {min(found):.3f} s of {rounds}")
    medians = [statistics.median(found) for found in times.values()]
    fastest = [min(found) for found in times.values()]
    print(f"ratio of medians {medians[1] / medians[0]:.2f}, of the fastest {fastest[1] / fastest[0]:.2f}")


def until_seen(command: list[str], sight: bytes) -> float:
    """Seconds until a text is on the terminal; the program is ended then."""
    started = time.perf_counter()
    pid, terminal = pty.fork()
    if pid == 0:
        os.environ.update(TERM="xterm-256color", COLORTERM="truecolor")
        os.execvp(command[0], command)
    ioctl(terminal, TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    seen = b""
    try:
        while sight not in seen:
            if not select.select([terminal], [], [], 20)[0]:
                raise TimeoutError(f"{command} did not show {sight!r}")
            seen += os.read(terminal, 65536)
        return time.perf_counter() - started
    finally:
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)
        os.close(terminal)


def _make_bare(path: Path) -> None:
    with sqlite3.connect(path) as connection:
        connection.execute("CREATE TABLE shown (a, b, c, d, e, f, g)")
        rows = [
            (f"Watch {n:02d}", "10 bar", "no stop", 64, "crown", "yesterday", "Mar") for n in range(WATCHES)
        ]
        connection.executemany("INSERT INTO shown VALUES (?, ?, ?, ?, ?, ?, ?)", rows)


def _make_record(path: Path) -> None:
    from logbook.model.fitting import Fitted, initial_seals
    from logbook.model.values import Watch
    from logbook.record.file.practice_file import load_practice
    from logbook.record.file.store import Store
    from logbook.record.writing import watches

    practice, day = load_practice(), date(2025, 3, 1)
    with Store.open(path, create=True) as store:
        for n in range(WATCHES):
            watch = Watch(f"Watch {n:02d}", "water-resistant", 10e5, day, day, use="swimming")
            seals = initial_seals(watch, "NBR", Fitted(None, day, day), {})
            watches.add(store, watch, seals, (), practice)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10)
