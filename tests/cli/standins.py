"""Stand-ins for programs of the system: real programs in a folder, which note how they were run."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

_NOTE = """#!{python} -IS
import fcntl, json, os, sys
given = "" if sys.stdin is None else sys.stdin.buffer.read().decode()
with open({log!r}, "a") as log:
    fcntl.flock(log, fcntl.LOCK_EX)
    log.write(json.dumps([{name!r}, sys.argv[1:], given, os.environ.get("DBUS_SESSION_BUS_ADDRESS")]) + "\\n")
"""
_CRONTAB = """
tab = {tab!r}
if sys.argv[1:] == ["-l"]:
    if not os.path.exists(tab):
        sys.exit("no crontab for you")
    sys.stdout.buffer.write(open(tab, "rb").read())
elif sys.argv[1:] == ["-r"]:
    os.remove(tab)
elif sys.argv[1:] == ["-"]:
    open(tab, "wb").write(given.encode())
else:
    sys.exit("usage")
"""


class Standins:
    """A search path that holds only what a test puts there."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder / "programs"
        self.folder.mkdir()
        self.log = folder / "log"
        self.crontab = folder / "crontab"

    def add(self, name: str, then: str = "") -> Path:
        """A program that notes its arguments and its input, then runs some Python."""
        path = self.folder / name
        path.write_text(_NOTE.format(python=sys.executable, log=str(self.log), name=name) + then)
        path.chmod(0o755)
        return path

    def add_crontab(self) -> None:
        """A `crontab` that keeps its table in a file."""
        self.add("crontab", _CRONTAB.format(tab=str(self.crontab)))

    def take(self, name: str) -> None:
        (self.folder / name).unlink()

    @property
    def ran(self) -> list[tuple[str, list[str], str, str | None]]:
        """Program, arguments, input and session bus of every run."""
        return (
            [tuple(json.loads(line)) for line in self.log.read_text().splitlines()]
            if self.log.exists()
            else []
        )

    def runs_of(self, name: str) -> list[list[str]]:
        """The arguments of every run of one program."""
        return [words for program, words, _, _ in self.ran if program == name]

    def given(self, name: str) -> list[Any]:
        """The JSON documents that a program was given."""
        return [json.loads(text) for program, _, text, _ in self.ran if program == name]


def configure(words: Sequence[str]) -> Path:
    """Names the owner's own command."""
    from logbook.record.file.places import nudge_path

    path = nudge_path()
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"command = {json.dumps(list(words))}\n")
    return path
