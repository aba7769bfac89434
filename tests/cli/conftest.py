"""The command line on a real record in a temporary folder."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.running import LIDO, PAPER, REED, Cli


@pytest.fixture
def bare(tmp_path: Path) -> Cli:
    """A command line whose record does not exist yet."""
    return Cli(tmp_path / "record.logbook")


@pytest.fixture
def cli(bare: Cli) -> Cli:
    """A record with a diver's watch, a dress watch and a chronograph."""
    for words in (REED, PAPER, LIDO):
        bare.ok(*words)
    return bare


@pytest.fixture
def wet_cli(cli: Cli) -> Cli:
    """The same with two dives' worth of water and a test; entries 4 to 6 are of Reed green."""
    cli.ok("wet", "reed: dive 18m 41min sea 15C rinsed on 2026-02-20 09:30", "reed: snorkel 40min 15C on 2026-02-21")
    cli.ok("event", "reed", "pressure-test", "--passed", "--bar", "20", "--medium", "water", "--on", "2026-03-01")
    return cli
