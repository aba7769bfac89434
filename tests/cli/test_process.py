"""The entry point in a process of its own: exit codes, pipes, what is loaded, where the record is."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from logbook.cli import app as command_line
from tests.cli.running import Cli

HEAVY = ("textual", "sqlmodel", "sqlalchemy", "alembic", "pint", "numpy", "gsw", "rainflow", "pydantic")
Run = Callable[..., "subprocess.CompletedProcess[str]"]


@pytest.fixture
def run() -> Run:
    """`python -m logbook` with these words, away from any terminal."""

    def start(*words: str, **surrounding: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "logbook", *words],
            capture_output=True,
            text=True,
            stdin=subprocess.DEVNULL,
            timeout=60,
            env={**os.environ, **surrounding},
            check=False,
        )

    return start


def loaded_by(code: str) -> set[str]:
    """Which of the heavy libraries a piece of code loads."""
    tail = f"import sys; print([m for m in {HEAVY!r} if m in sys.modules], file=sys.stderr)"
    done = subprocess.run(
        [sys.executable, "-c", f"{code}\n{tail}"], capture_output=True, text=True, timeout=60, check=True
    )
    return set(json.loads(done.stderr.splitlines()[-1].replace("'", '"')))


def test_the_command_line_loads_nothing_heavy() -> None:
    assert loaded_by("import logbook.cli.app") == set()


@pytest.mark.parametrize("command", ["shelf", "due", "score reed", "check reed pool", "log", "settings"])
def test_a_command_that_reads_loads_nothing_heavy(cli: Cli, command: str) -> None:
    words = [*command.split(), "--file", str(cli.file), "--today", cli.today]
    code = f"from logbook.cli.app import run\nassert run({words!r}) in (0, 2)"
    # A check of water works out its pressure from the sea water of TEOS-10; chance, bands and forecast are
    # worked out on grids and draws.
    allowed = {"check": {"gsw", "numpy"}, "shelf": {"numpy"}, "score": {"numpy"}, "due": {"numpy"}}
    assert loaded_by(code) <= allowed.get(command.split()[0], set())


@pytest.mark.parametrize(
    ("before", "words"),
    [
        ((), "undo"),
        (("undo",), "redo"),
        ((), "strike last"),
        ((), "nothing-else reed"),
        ((), "worn reed"),
        ((), "settings --units imperial"),
        ((), "watch retire paper"),
        ((), "habit reed shower 5min --per day 1"),
    ],
)
def test_a_command_that_writes_loads_all_that_it_needs(
    wet_cli: Cli, run: Run, before: tuple[str, ...], words: str
) -> None:
    for command in before:
        wet_cli.ok(command)
    done = run(*words.split(), "--file", str(wet_cli.file), "--today", wet_cli.today)
    assert (done.returncode, done.stderr) == (0, "")


def test_opening_the_whole_screen_does_not_load_the_command_line() -> None:
    code = (
        "import sys, logbook.__main__ as m\n"
        "given = m.opening(['--file', 'x', '--today=2026-03-15'])\n"
        "assert given == {'--file': 'x', '--today': '2026-03-15'}\n"
        "assert 'typer' not in sys.modules"
    )
    assert loaded_by(code) == set()


def test_exit_codes_reach_the_shell(cli: Cli, run: Run) -> None:
    here = ("--file", str(cli.file), "--today", cli.today)
    assert run("shelf", *here).returncode == 0
    assert run("due", *here).returncode == 2
    assert run("due", "--nonsense").returncode == 3
    assert run("shelf", "--file", str(cli.file) + ".none").returncode == 4
    assert "--file needs a path" in run("shelf", "--file", "").stderr
    assert "requires an argument" in run("shelf", "--file").stderr
    assert run("check", "paper", "dive 30m", "--exit-code", *here).returncode == 6
    done = run("shelf", "--json", *here)
    assert json.loads(done.stdout)["watches"]
    assert done.stderr == ""


def test_without_a_command_the_whole_screen_is_opened(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    import logbook.__main__ as entry

    opened: list[tuple[object, object, object]] = []

    def screen(path: object, *, today: object = None, units: object = None) -> int:
        opened.append((path, str(today), units))
        return 7

    monkeypatch.setattr("logbook.tui.app.run", screen)
    monkeypatch.setattr(entry, "need_terminal", lambda: None)
    file = str(tmp_path / "x.logbook")
    monkeypatch.setattr(sys, "argv", ["logbook", "--file", file, "--today", "2026-03-15", "--units=imperial"])
    assert entry.main() == 7
    monkeypatch.setattr(sys, "argv", ["logbook"])
    entry.main()
    assert opened == [(Path(file), "2026-03-15", "imperial"), (None, "None", None)]


def test_matrices_are_multiplied_in_one_thread_unless_their_owner_says_otherwise(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    import logbook.__main__ as entry

    monkeypatch.setattr(sys, "argv", ["logbook", "--version"])
    for said, threads in ((None, "1"), ("2", "2")):
        monkeypatch.delenv("OPENBLAS_NUM_THREADS")
        if said is not None:
            monkeypatch.setenv("OPENBLAS_NUM_THREADS", said)
        assert entry.main() == 0
        assert os.environ["OPENBLAS_NUM_THREADS"] == threads


def test_without_a_terminal_the_whole_screen_is_refused(run: Run) -> None:
    done = run()
    assert done.returncode == 3
    assert "needs a terminal" in done.stderr
    done = run("--today", "yesterday")
    assert done.returncode == 3
    assert "write it as 2026-03-15" in done.stderr


def test_the_record_is_the_file_given_then_the_environments_then_the_data_folders(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    given, named = tmp_path / "given.logbook", tmp_path / "named.logbook"
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("LOGBOOK_FILE", str(named))
    assert command_line.run(["watch", "add", "Given", "--file", str(given)]) == 0
    assert command_line.run(["watch", "add", "Named"]) == 0
    monkeypatch.delenv("LOGBOOK_FILE")
    assert command_line.run(["watch", "add", "Usual"]) == 0
    for found, name in (
        (given, "Given"),
        (named, "Named"),
        (next((tmp_path / "data").rglob("*.logbook")), "Usual"),
    ):
        assert [w["name"] for w in Cli(found).json("shelf")["watches"]] == [name]


def test_a_reader_that_goes_away_is_nobodys_fault(wet_cli: Cli) -> None:
    command = [sys.executable, "-m", "logbook", "export", "--file", str(wet_cli.file)]
    writer = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert writer.stdout is not None
    assert writer.stderr is not None
    writer.stdout.close()
    assert writer.stderr.read() == b""
    assert writer.wait(timeout=60) == 0
    writer.stderr.close()


def test_a_terminal_that_knows_only_ascii_gets_an_answer(cli: Cli, run: Run) -> None:
    done = run("shelf", "--file", str(cli.file), "--today", cli.today, PYTHONIOENCODING="ascii")
    assert done.returncode == 0
    assert "Reed green" in done.stdout


def test_a_shared_database_is_named_by_its_url(run: Run, tmp_path: Path) -> None:
    done = run("backup", str(tmp_path / "copy"), LOGBOOK_URL="postgresql+psycopg://nobody@127.0.0.1:1/none")
    assert done.returncode == 3
    assert "that database's own tools" in done.stderr


def shell(cli: Cli, command: str) -> subprocess.CompletedProcess[str]:
    """A command as a shell runs it, its streams led elsewhere or closed."""
    line = f'exec "$0" -m logbook --file "$1" --today {cli.today} {command}'
    return subprocess.run(
        ["/bin/sh", "-c", line, sys.executable, str(cli.file)],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


@pytest.mark.parametrize("words", ["shelf", "shelf --json", "wet 'reed: rain'", "wet 'reed: rain' --json"])
def test_an_answer_that_finds_no_room_is_a_sentence_that_says_what_is_on_record(cli: Cli, words: str) -> None:
    before = len(cli.everything()["exposures"])
    done = shell(cli, f"{words} > /dev/full")
    assert done.returncode == 4
    assert done.stderr.startswith("The answer could not be printed: No space left on device.")
    wrote = "wet" in words
    assert len(cli.everything()["exposures"]) == before + wrote
    assert ("What was to be written down is on record." in done.stderr) == wrote


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("shelf >&-", 0),
        ("shelf <&- 2>&-", 0),
        ("wet 'reed: rain' >&- 2>&- <&-", 0),
        ("nonsense >&- 2>&- <&-", 3),
        ("nonsense 2> /dev/full", 3),
        ("import - <&-", 3),
        ("<&- 2>&-", 3),
    ],
)
def test_closed_streams_are_no_trouble_and_the_record_takes_the_number_of_none(
    cli: Cli, words: str, code: int
) -> None:
    done = shell(cli, words)
    assert done.returncode == code, done
    assert "went wrong" not in done.stdout + done.stderr
    assert cli.json("doctor")["sound"] is True


def test_no_screen_opens_where_the_stream_that_it_is_painted_on_is_no_terminal(cli: Cli) -> None:
    master, terminal = os.openpty()
    try:
        done = subprocess.run(
            [sys.executable, "-m", "logbook", "--file", str(cli.file)],
            stdin=terminal,
            stdout=terminal,
            stderr=subprocess.PIPE,
            text=True,
            timeout=60,
            check=False,
        )
    finally:
        os.close(master)
        os.close(terminal)
    assert done.returncode == 3
    assert "needs a terminal" in done.stderr
