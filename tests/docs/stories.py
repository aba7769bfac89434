"""A page of the docs as a story: the files that it shows, then its commands, in order, on one record."""

from __future__ import annotations

import re
import shlex
from dataclasses import dataclass
from pathlib import Path

from logbook.cli.app import run
from tests.cli.running import machine_says

ROOT = Path(__file__).parent.parent.parent
DOCS = ROOT / "docs"
TODAY = "2026-03-15"
_BLOCK = re.compile(r"^```(\w+)(?: file=(\S+))?\n(.*?)^```", re.DOTALL | re.MULTILINE)


@dataclass(frozen=True)
class Story:
    """What a page shows: files by name, and command lines."""

    files: dict[str, str]
    commands: list[str]


@dataclass(frozen=True)
class Told:
    """A command line and how it was answered."""

    line: str
    code: int
    out: str
    err: str


def story_of(page: str) -> Story:
    """Every block that names a file, and every command of the shell blocks."""
    files, commands = {}, []
    for kind, name, body in _BLOCK.findall(page):
        if name:
            files[name] = body
        elif kind == "sh":
            commands += [line for line in body.splitlines() if line.startswith("logbook ")]
    return Story(files, commands)


def expected_code(line: str) -> int:
    """The exit code that a command line says it has, as in `# exits 2`; else 0."""
    said = re.search(r"# exits (\d+)$", line)
    return int(said[1]) if said else 0


def tell(line: str) -> int:
    """Run one command line of a story, on its day."""
    words = shlex.split(line, comments=True)
    with machine_says(TODAY):
        return run([*words[1:], "--today", TODAY])
