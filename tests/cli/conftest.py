"""The command line on a real record in a temporary folder."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.cli.running import LIDO, LONE, PAPER, REED, Cli
from tests.cli.standins import Standins
from tests.once import work_out_once


@pytest.fixture(autouse=True)
def _insights_once(monkeypatch: pytest.MonkeyPatch) -> None:
    work_out_once(monkeypatch)


@pytest.fixture(scope="session")
def three_watches(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A record with three watches, made once by the command line; every test works on a copy of it."""
    folder = tmp_path_factory.mktemp("three-watches")
    with pytest.MonkeyPatch.context() as surrounding:
        surrounding.setenv("TZ", "UTC")
        surrounding.setenv("HOME", str(folder))
        for name in ("XDG_CONFIG_HOME", "LOGBOOK_PRACTICE", "LOGBOOK_FILE", "LOGBOOK_URL"):
            surrounding.delenv(name, raising=False)
        made = Cli(folder / "record.logbook")
        for words in (REED, PAPER, LIDO):
            made.ok(*words)
    return made.file


@pytest.fixture
def bare(tmp_path: Path) -> Cli:
    """A command line whose record does not exist yet."""
    return Cli(tmp_path / "record.logbook")


@pytest.fixture
def cli(bare: Cli, three_watches: Path) -> Cli:
    """A record with a diver's watch, a dress watch and a chronograph."""
    shutil.copy2(three_watches, bare.file)
    return bare


@pytest.fixture
def wet_cli(cli: Cli) -> Cli:
    """The same with a dive, a snorkelling trip and a passed test of Reed green."""
    cli.ok(
        "wet",
        "reed: dive 18m 41min sea 15C rinsed on 2026-02-20 09:30",
        "reed: snorkel 40min 15C on 2026-02-21",
    )
    cli.ok(
        "event", "reed", "pressure-test", "--passed", "--bar", "20", "--medium", "water", "--on", "2026-03-01"
    )
    return cli


@pytest.fixture
def lone(bare: Cli) -> Cli:
    """A watch that is kept dry; its pressure test is due on 10 June 2026, all else later."""
    bare.ok(*LONE)
    return bare


@pytest.fixture
def standins(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Standins:
    """A machine without scheduler and notifier until a test adds one."""
    made = Standins(tmp_path)
    monkeypatch.setenv("PATH", str(made.folder))
    monkeypatch.delenv("DBUS_SESSION_BUS_ADDRESS", raising=False)
    return made
