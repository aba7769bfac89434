"""A clock that is behind the record: every answer that hangs on the day says so."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from logbook.cli.app import app
from tests.cli.running import Answer, Cli, machine_says
from tests.cli.standins import Standins

SAID = "the clock is behind: 14 Mar 2026 is on record already; set the clock"


@pytest.fixture
def behind(cli: Cli) -> Cli:
    """A record that holds a swim of 14 March, on a machine where it is 2 March."""
    cli.ok("wet", "lido: pool 60min on 2026-03-14")
    cli.today = "2026-03-02"
    return cli


def flat(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize(
    "words",
    [
        ("due",),
        ("due", "--tasks"),
        ("visits",),
        ("calendar", "{folder}/w.ics"),
        ("chance", "lido"),
        ("forecast", "lido"),
        ("log",),
        ("wet", "lido: rain 20min"),
        ("doctor",),
        ("dossier", "lido", "{folder}/w.md", "--replace"),
    ],
)
def test_an_answer_by_the_day_says_that_the_clock_is_behind(
    behind: Cli, words: tuple[str, ...], tmp_path: Path
) -> None:
    line = [word.format(folder=tmp_path) for word in words]
    text = behind(*line).out
    assert SAID in flat(text)
    paths = (str(tmp_path), str(behind.file))
    assert max(len(one) for one in text.splitlines() if not any(path in one for path in paths)) <= 80
    assert behind(*line, "--json").json["clock_behind_by"] == "2026-03-14"


def test_the_page_for_the_watchmaker_says_it_too(behind: Cli, tmp_path: Path) -> None:
    page = tmp_path / "lido.md"
    behind.ok("dossier", "lido", str(page))
    assert "the clock is behind: 14 Mar 2026 is on record already" in flat(page.read_text(encoding="utf-8"))
    behind.ok("doctor", "--clock-is-right")
    behind.ok("dossier", "lido", str(page), "--replace")
    assert "clock is behind" not in page.read_text(encoding="utf-8")


def test_a_nudge_says_it_where_a_scheduler_keeps_complaints(behind: Cli, standins: Standins) -> None:
    standins.add("notify-send")
    for _ in range(2):  # something is new, then nothing is
        answer = behind("nudge", "now")
        assert answer.code == 0
        assert SAID in flat(answer.err)
    as_json = behind("nudge", "now", "--json")
    assert (as_json.json["clock_behind_by"], as_json.err) == ("2026-03-14", "")


@pytest.mark.parametrize("words", [("due",), ("visits",), ("calendar", "{folder}/w.ics"), ("nudge", "now")])
def test_a_clock_that_is_right_is_not_spoken_of(
    behind: Cli, words: tuple[str, ...], standins: Standins, tmp_path: Path
) -> None:
    standins.add("notify-send")
    line = [word.format(folder=tmp_path) for word in words]
    behind.ok("doctor", "--clock-is-right")
    for today in ("2026-03-02", "2026-03-13", "2026-03-15"):
        behind.today = today
        answer = behind(*line)
        assert "clock is behind" not in flat(answer.out + answer.err)
        assert behind(*line, "--json").json["clock_behind_by"] is None


def test_a_day_ahead_is_a_slip_between_two_zones_and_no_clock_that_is_behind(behind: Cli) -> None:
    behind.today = "2026-03-13"
    assert behind("due", "--json").json["clock_behind_by"] is None
    behind.today = "2026-03-12"
    assert behind("due", "--json").json["clock_behind_by"] == "2026-03-14"


def by_its_own_clock(cli: Cli, day: str, *words: str) -> Answer:
    with machine_says(day):
        result = CliRunner().invoke(app, [*words, "--file", str(cli.file)])
    return Answer(result.exit_code, result.stdout, result.stderr)


def test_by_its_own_clock_a_change_that_was_written_later_counts_too(cli: Cli) -> None:
    """What was typed just now was typed long after 16 March 2026."""
    assert by_its_own_clock(cli, "2026-03-16", "due", "--json").json["clock_behind_by"] > "2026-03-17"
    assert cli("due", "--json").json["clock_behind_by"] is None  # a day that was asked for is no clock
