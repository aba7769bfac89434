"""Every example of the commands page runs, in order, on one record; every command stands on the page."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from logbook.caution import CAUTION
from logbook.cli.app import run

ROOT = Path(__file__).parent.parent.parent
PAGE = (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")
TODAY = "2026-03-15"


def examples(page: str) -> list[str]:
    """Every line of the shell blocks."""
    blocks = re.findall(r"```sh\n(.*?)```", page, re.DOTALL)
    return [line for block in blocks for line in block.splitlines() if line.startswith("logbook ")]


def test_the_examples_of_the_commands_page_run_as_one_story(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("LOGBOOK_FILE", str(tmp_path / "story.logbook"))
    for line in examples(PAGE):
        code = run([*shlex.split(line)[1:], "--today", TODAY])
        shown = capsys.readouterr()
        assert code == 0, f"{line}\n{shown.err}"
        if re.match(r"logbook (check|score|shelf|outlook|forecast|visits)\b(?!.*--csv)", line):
            assert CAUTION.split(". ")[0] in " ".join(shown.out.split()), line


def test_the_readmes_first_watch_runs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("LOGBOOK_FILE", str(tmp_path / "first.logbook"))
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    lines = [line.removeprefix(".venv/bin/") for line in readme.splitlines() if line.startswith(".venv/bin/")]
    commands = [line for line in lines if line != "logbook"]
    assert len(commands) == 3
    for line in commands:
        code = run([*shlex.split(line)[1:], "--today", TODAY])
        assert code == 0, capsys.readouterr().err


def test_every_command_stands_on_the_page(capsys: pytest.CaptureFixture[str]) -> None:
    run(["--help"])
    listed = re.findall(r"^  ([a-z]+)  ", capsys.readouterr().out.split("Commands:")[1], re.MULTILINE)
    assert len(listed) > 20
    for command in listed:
        assert f"logbook {command}" in PAGE, command
