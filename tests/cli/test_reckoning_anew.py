"""Constants that changed: commands make the ledger anew, tell it on a terminal alone, and can be stopped."""

from __future__ import annotations

import os
import pty
import select
import signal
import sqlite3
import sys
import time
from pathlib import Path

import pytest

from logbook.cli.failures import INTERRUPTED
from logbook.record.ledger import backlog, ledger
from tests.cli.running import TODAY, Cli

PATIENCE_S = 60.0
# A command in a process of its own, to which one exposure is much; `{wait}` stands between two of them.
COMMAND = """
import signal, sys
from logbook.cli.app import run
from logbook.record.ledger import backlog, bulk

def slowly(*args, blocks=bulk.blocks):
    for block in blocks(*args):
        yield block
        {wait}

backlog.MUCH = bulk.BLOCK = 1
bulk.blocks = slowly
sys.exit(run({words!r}))
"""


@pytest.fixture
def stale(wet_cli: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Cli:
    """A record whose owner has changed a constant since."""
    mine = tmp_path / "practice.toml"
    mine.write_text("[constants.H_salt]\nvalue = 200\n", encoding="utf-8")
    monkeypatch.setenv("LOGBOOK_PRACTICE", str(mine))
    return wet_cli


def ledger_in(path: Path) -> list[tuple[object, ...]]:
    """The constants behind the ledger, and its rows."""
    connection = sqlite3.connect(path)
    try:
        constants = connection.execute("SELECT practice_fingerprint FROM meta").fetchall()
        rows = connection.execute("SELECT * FROM ledger_share ORDER BY exposure_id, seal_id").fetchall()
    finally:
        connection.close()
    return constants + rows


def on_a_terminal(code: str, *, once: str = "", then: bytes = b"") -> tuple[int, str]:
    """Exit code and all that a process says on a terminal; `then` is typed once it has said `once`."""
    pid, terminal = pty.fork()
    if pid == 0:
        # A runner in the background may have Ctrl-C ignored, and what is ignored is handed down.
        signal.signal(signal.SIGINT, signal.default_int_handler)
        os.environ.update(TERM="xterm-256color", COLUMNS="80")
        os.execv(sys.executable, [sys.executable, "-c", code])
    said = b""
    end_s = time.monotonic() + PATIENCE_S  # for the whole: a bar that turns never falls silent
    while select.select([terminal], [], [], max(0.0, end_s - time.monotonic()))[0]:
        try:
            piece = os.read(terminal, 65536)
        except OSError:  # the other end is closed
            break
        if not piece:
            break
        said += piece
        if then and once.encode() in said:
            os.write(terminal, then)
            then = b""
    else:
        os.kill(pid, signal.SIGKILL)
    os.close(terminal)
    _, status = os.waitpid(pid, 0)
    return os.waitstatus_to_exitcode(status), said.decode()


def shelf_of(cli: Cli, wait: str = "") -> str:
    words = ["shelf", "--file", str(cli.file), "--today", TODAY]
    return COMMAND.format(words=words, wait=wait or "pass")


def test_a_terminal_is_told_how_many_exposures_are_done(stale: Cli) -> None:
    before = ledger_in(stale.file)
    code, said = on_a_terminal(shelf_of(stale))
    assert code == 0
    assert "Reckoning anew" in said
    assert "2 of 2 exposures" in said
    assert "Reed green" in said
    assert ledger_in(stale.file) != before


def test_ctrl_c_leaves_the_ledger_as_it_was(stale: Cli) -> None:
    before = ledger_in(stale.file)
    code, said = on_a_terminal(shelf_of(stale, "signal.pause()"), once="0 of 2 exposures", then=b"\x03")
    assert code == INTERRUPTED
    assert "Interrupted." in said
    assert "Reed green" not in said
    assert ledger_in(stale.file) == before


def test_a_short_record_is_made_anew_without_a_word_on_a_terminal_too(stale: Cli) -> None:
    code, said = on_a_terminal(shelf_of(stale).replace("backlog.MUCH = bulk.BLOCK = 1", ""))
    assert code == 0
    assert "Reed green" in said
    assert "exposures" not in said


@pytest.mark.parametrize(
    "words", [("shelf",), ("score", "reed"), ("wet", "reed: pool 30min 27C on 2026-03-14")]
)
def test_away_from_a_terminal_nothing_is_said_of_it(
    stale: Cli, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    monkeypatch.setattr(backlog, "MUCH", 1)
    before = ledger_in(stale.file)
    answer = stale(*words)
    assert (answer.code, answer.err) == (0, "")
    assert "anew" not in answer.out
    assert ledger_in(stale.file)[0] != before[0]


def test_a_command_that_writes_makes_a_long_ledger_anew_first(
    stale: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    """So that it can be told and stopped by itself; a short one goes with what is written."""
    made: list[int] = []
    refresh_all = ledger.refresh_all
    monkeypatch.setattr(ledger, "refresh_all", lambda *args: (made.append(1), refresh_all(*args)))
    stale.ok("wet", "reed: pool 30min 27C on 2026-03-14")
    assert made == []
    monkeypatch.delenv("LOGBOOK_PRACTICE")
    monkeypatch.setattr(backlog, "MUCH", 1)
    stale.ok("wet", "reed: pool 30min 27C on 2026-03-13")
    assert made == [1]
    assert "is sound" in stale.ok("doctor")
