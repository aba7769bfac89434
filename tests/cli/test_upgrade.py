"""Records of earlier revisions, opened by a command: nothing breaks, nothing wakes, nobody is told twice."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.cli.running import Cli
from tests.cli.standins import Standins

FIXTURES = Path(__file__).parent.parent / "record" / "fixtures"
DAYS = {"0001": "2026-03-16", "0002": "2026-03-03"}  # the day after each was last written
COMMANDS = [
    ("shelf",), ("due",), ("due", "--tasks"), ("visits",), ("check", "blue", "dive 18m 40min"),
    ("check", "--any", "rain"), ("score", "gran"), ("log",), ("undo",), ("undo", "--list"), ("nudge", "now"),
    ("calendar", "{folder}/watches.ics"), ("export",),
]  # fmt: skip


def of_before(number: str, folder: Path) -> Cli:
    """A record as its own version left it."""
    path = folder / "record.logbook"
    shutil.copyfile(FIXTURES / f"record-{number}.logbook", path)
    path.chmod(0o600)  # as every record is; a checkout may give the file any mode
    return Cli(path, DAYS[number])


@pytest.fixture
def of_0002(tmp_path: Path, standins: Standins) -> Cli:
    standins.add("notify-send")
    return of_before("0002", tmp_path)


@pytest.mark.parametrize("number", DAYS)
@pytest.mark.parametrize("words", COMMANDS)
def test_any_command_may_be_the_first_on_a_record_of_before(
    number: str, words: tuple[str, ...], tmp_path: Path, standins: Standins
) -> None:
    standins.add("notify-send")
    cli = of_before(number, tmp_path)
    line = [word.format(folder=tmp_path) for word in words]
    first, again = cli(*line), cli(*line)
    for answer in (first, again):
        assert answer.code == (2 if words[0] == "due" else 0), answer
        assert "Traceback" not in answer.out + answer.err
        assert not answer.err or answer.err.startswith("the clock is behind")
        assert answer.out.strip()


def told(cli: Cli) -> set[str]:
    """The watches that a run tells of."""
    return {service["watch"] for service in cli.json("nudge", "now")["services"]}


def test_what_was_told_before_the_upgrade_is_told_no_second_time(of_0002: Cli) -> None:
    """Lido's gaskets and Field's service were told as overdue; what stands by the rules of now was not."""
    news = of_0002("nudge", "now", "--json").json
    assert {service["watch"] for service in news["services"]} == {"Blue bezel", "Gran's chrono"}
    assert all(service["label"] == "to a workshop now" for service in news["services"])
    for day in ("2026-03-03", "2026-03-04", "2026-03-09"):
        of_0002.today = day
        assert told(of_0002) <= {"Blue bezel"}, day  # due, then overdue from 11 March on
    assert told(of_0002) == set()


def test_a_seal_of_unknown_age_that_was_told_stays_told_when_it_is_all_that_asks(of_0002: Cli) -> None:
    """Field's pressure test, told too, is done: its gaskets alone are no news."""
    of_0002.ok("event", "field", "pressure-test", "--passed", "--bar", "3", "--medium", "air")
    assert "Field watch" not in told(of_0002)


def test_what_was_snoozed_before_the_upgrade_stays_silent_until_its_day(of_0002: Cli) -> None:
    """The faults that came after the snoozes are taken back; by then only what is snoozed is left to ask."""
    for _ in range(2):
        of_0002.ok("undo")
    silent = {item["id"]: item["snoozed_until"] for item in of_0002("due", "--json").json["snoozed"]}
    assert silent == {
        "2:gaskets:2019-01-01:used-up": "2026-05-01",
        "2:pressure-test:2026-02-23:pushers-damaged-15": "2026-06-01",
    }
    woken = {}
    for day in ("2026-03-03", "2026-04-30", "2026-05-01", "2026-05-31", "2026-06-01", "2026-06-02"):
        of_0002.today = day
        woken[day] = "Gran's chrono" in told(of_0002)
    assert [day for day, is_told in woken.items() if is_told] == ["2026-05-01", "2026-06-01"]


def test_a_snooze_of_the_first_revision_holds(tmp_path: Path, standins: Standins) -> None:
    """A strap that was snoozed although nothing asked for it yet."""
    standins.add("notify-send")
    cli = of_before("0001", tmp_path)
    cli.ok("watch", "edit", "lido", "--interval", "strap=1")
    cli.today = "2026-04-19"
    assert [item["id"] for item in cli("due", "--json").json["snoozed"]] == ["3:strap:2026-03-15"]
    assert "3:strap:2026-03-15" not in {item["id"] for item in cli.json("nudge", "now")["told"]}
    cli.today = "2026-04-20"
    assert cli("due", "--json").json["snoozed"] == []
    assert "3:strap:2026-03-15" in {item["id"] for item in cli.json("nudge", "now")["told"]}
