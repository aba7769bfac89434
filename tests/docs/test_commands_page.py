"""The commands page names every command, the caution shows with every number, and the README's lines run."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from logbook.caution import CAUTION
from logbook.cli.app import run
from tests.docs.stories import DOCS, ROOT, Told, tell

PAGE = (DOCS / "commands.md").read_text(encoding="utf-8")
SHOWS_A_NUMBER = re.compile(
    r"logbook (check|score|shelf|chance|forecast|visits|due|dossier|calendar)\b(?!.*--csv)"
)


def test_the_caution_shows_with_every_score_verdict_and_due_date(told: Callable[[str], list[Told]]) -> None:
    numbers = [each for each in told("commands.md") if SHOWS_A_NUMBER.match(each.line)]
    assert len(numbers) > 8
    for each in numbers:
        assert CAUTION.split(". ")[0] in " ".join(each.out.split()), each.line


def test_the_readmes_first_watch_runs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("LOGBOOK_FILE", str(tmp_path / "first.logbook"))
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    lines = [line.removeprefix(".venv/bin/") for line in readme.splitlines() if line.startswith(".venv/bin/")]
    commands = [line for line in lines if line != "logbook"]
    assert len(commands) == 3
    for line in commands:
        assert tell(line) == 0, capsys.readouterr().err


def test_every_command_stands_on_the_page(capsys: pytest.CaptureFixture[str]) -> None:
    run(["--help"])
    listed = re.findall(r"^  ([a-z]+)  ", capsys.readouterr().out.split("Commands:")[1], re.MULTILINE)
    assert len(listed) > 20
    for command in listed:
        assert f"logbook {command}" in PAGE, command
