"""Questions at a terminal, and a record that would begin in a folder that does not exist."""

from __future__ import annotations

import os
import pty
import select
import subprocess
import sys
from pathlib import Path

import pytest

from logbook.cli import asking
from logbook.cli.failures import StoppedError
from tests.cli.running import PAPER, Cli

PATIENCE_S = 60.0


def at_a_terminal(words: list[str], answer: bytes) -> tuple[int, str]:
    """Exit code and all that stands on the terminal of a command that is answered once it asks."""
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "logbook", *words]
    process = subprocess.Popen(command, stdin=theirs, stdout=theirs, stderr=theirs, close_fds=True)
    os.close(theirs)
    shown, answered = b"", False
    while select.select([ours], [], [], PATIENCE_S)[0]:
        try:
            piece = os.read(ours, 65_536)
        except OSError:  # the other end is closed
            break
        if not piece:
            break
        shown += piece
        if not answered and b"[y/n]" in shown:
            os.write(ours, answer)
            answered = True
    os.close(ours)
    return process.wait(PATIENCE_S), " ".join(shown.decode().split())


def test_at_a_real_terminal_a_past_plan_is_asked_about_before_nothing_else_is_said(cli: Cli) -> None:
    cli.ok("plan", "lido", "pool 30min", "--from", "2026-04-01")
    words = ["nothing-else", "lido", "--file", str(cli.file), "--today", "2026-04-10"]
    code, shown = at_a_terminal(words, b"n\n")
    assert code == 0
    assert "of Lido chrono, 1 Apr 2026, pool 1.5 m, 30 min, pool 27 °C, not rinsed, happen? [y/n]" in shown
    assert "which did not happen. Nothing else happened to Lido chrono up to 10 Apr 2026." in shown
    assert cli.json("plan")["plans"] == []


def test_an_answer_is_asked_for_until_it_is_one(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from io import StringIO

    monkeypatch.setattr(sys, "stdin", StringIO("perhaps\n\n Yes \nn\n"))
    assert asking.yes("Did it happen?") is True
    assert asking.yes("Did it happen?") is False
    shown = capsys.readouterr()
    assert (shown.out, shown.err.count("Did it happen? [y/n] ")) == ("", 4)
    with pytest.raises(StoppedError):
        asking.yes("Did it happen?")


@pytest.mark.parametrize(
    "words",
    [PAPER, ("settings", "--salinity", "38"), ("restore", "{backup}")],
    ids=["watch add", "settings", "restore"],
)
def test_a_record_that_would_begin_in_a_new_folder_is_refused(
    cli: Cli, tmp_path: Path, words: tuple[str, ...]
) -> None:
    backup = tmp_path / "backup.logbook"
    cli.ok("backup", str(backup))
    slip = Cli(tmp_path / "docments" / "watches" / "record.logbook")
    answer = slip(*(word.format(backup=backup) for word in words))
    assert (answer.code, answer.out) == (3, "")
    said = " ".join(answer.err.split())
    assert said.startswith(f"There is no folder {slip.file.parent}, so no record was begun there: create the")
    assert not (tmp_path / "docments").exists()


def test_the_same_slip_in_the_environment_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from typer.testing import CliRunner

    from logbook.cli.app import app

    monkeypatch.setenv("LOGBOOK_FILE", str(tmp_path / "no" / "record.logbook"))
    result = CliRunner().invoke(app, list(PAPER))
    assert result.exit_code == 3
    assert "There is no folder" in result.stderr
    assert not (tmp_path / "no").exists()


def test_the_rooms_refuse_the_same_slip_before_they_open(tmp_path: Path) -> None:
    from logbook.errors import Refused
    from logbook.tui.app import run

    with pytest.raises(Refused, match="create the folder first, or correct the path"):
        run(tmp_path / "no" / "record.logbook")
    assert not (tmp_path / "no").exists()
