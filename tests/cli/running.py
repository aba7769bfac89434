"""Running the command line on a real record, and the watches that the tests put in it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any
from unittest.mock import patch

from typer.main import get_command
from typer.testing import CliRunner

from logbook.cli.app import app

TODAY = "2026-03-15"
CAUTION_START = "This score does not replace a pressure test."
REED = (
    "watch",
    "add",
    "Reed green",
    "--mark",
    "divers",
    "--bar",
    "20",
    "--crown",
    "screwed",
    "--seals",
    "NBR",
    "--use",
    "diving",
    "--fitted",
    "2025-02-01",
    "--tested",
    "2025-06-10",
    "--tested-bar",
    "20",
    "--recorded-from",
    "2025-02-01",
    "--worn",
    "9",
)
PAPER = (
    "watch",
    "add",
    "Paper white",
    "--mark",
    "water-resistant",
    "--marked",
    "30m",
    "--seals",
    "NBR",
    "--movement",
    "quartz",
    "--use",
    "dry",
    "--worn",
    "4",
    "--group",
    "desk",
)
LIDO = (
    "watch",
    "add",
    "Lido chrono",
    "--marked",
    "100m",
    "--pushers",
    "--seals",
    "FKM",
    "--use",
    "swimming",
    "--bought",
    "2024-05-01",
    "--fitted",
    "2025-03-01",
    "--tested",
    "2025-12-01",
    "--tested-bar",
    "10",
    "--recorded-from",
    "2025-03-01",
)
LONE = (
    "watch", "add", "Lone", "--bar", "10", "--use", "swimming", "--fitted", "2025-06-01", "--tested",
    "2025-06-10", "--tested-bar", "10", "--recorded-from", "2025-06-01", "--worn", "0", "--winds", "0",
)  # fmt: skip

_command_of = cache(get_command)  # the parser is put together once, as it is for one process


@contextmanager
def machine_says(day: str) -> Iterator[None]:
    """The machine's clock is on this day."""
    with patch("logbook.cli.asked.this_day", lambda: date.fromisoformat(day)):
        yield


@dataclass
class Answer:
    """What a command said and how it ended."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """Standard output as the one JSON document that it is."""
        return json.loads(self.out)


@dataclass
class Cli:
    """The command line on one record, on one day, by a machine whose clock says `clock` or that same day."""

    file: Path
    today: str = TODAY
    clock: str | None = None

    def __call__(self, *words: str, stdin: str | bytes | None = None) -> Answer:
        """Run a command as typed, with the record and the day added after its arguments."""
        line = [*words, "--file", str(self.file), "--today", self.today]
        with machine_says(self.clock or self.today), patch("typer.testing._get_command", _command_of):
            result = CliRunner().invoke(app, line, input=stdin)
        return Answer(result.exit_code, result.stdout, result.stderr)

    def ok(self, *words: str, stdin: str | bytes | None = None) -> str:
        """The plain answer of a command that succeeds."""
        answer = self(*words, stdin=stdin)
        assert answer.code == 0, (words, answer)
        assert answer.err == "", (words, answer)
        return answer.out

    def json(self, *words: str, stdin: str | bytes | None = None) -> Any:
        """The JSON answer of a command that succeeds."""
        answer = self(*words, "--json", stdin=stdin)
        assert answer.code == 0, (words, answer)
        assert answer.err == "", (words, answer)
        return answer.json

    def refused(self, *words: str, stdin: str | bytes | None = None) -> str:
        """The sentence with which a command is refused; the record is as it was before."""
        before = self._content()
        answer = self(*words, stdin=stdin)
        assert answer.code == 3, (words, answer)
        assert answer.out == "", (words, answer)
        assert answer.err.strip(), (words, answer)
        assert self._content() == before, words
        as_json = self(*words, "--json", stdin=stdin)
        assert as_json.code == 3, (words, as_json)
        assert as_json.err == "", (words, as_json)
        assert as_json.json["error"]["message"].split()[0] == answer.err.split()[0]
        assert self._content() == before, words
        return answer.err

    def _content(self) -> bytes | None:
        """The record byte by byte, or None where there is none."""
        return self.file.read_bytes() if self.file.exists() else None

    def everything(self) -> Any:
        """The whole record, or None where there is none."""
        if not self.file.exists():
            return None
        answer = self("export", "--json")
        assert answer.code == 0, answer
        return answer.json

    def score(self, name: str) -> Any:
        """The score of a watch."""
        return self.json("score", name)


def without_cost(entries: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
    """Entries without what they took, as the export has them."""
    return [
        {key: value for key, value in entry.items() if key not in ("took", "meaning", "entry")}
        for entry in entries
    ]
