"""`logbook nudge now`: what is told, through what, once; and what happens when it cannot be told."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from logbook.caution import CAUTION
from tests.cli.running import CAUTION_START, LONE, Cli
from tests.cli.standins import Standins, configure


@pytest.fixture
def shown(standins: Standins) -> Standins:
    """A machine with `notify-send`."""
    standins.add("notify-send")
    return standins


def bodies(machine: Standins) -> list[str]:
    return [words[-1] for words in machine.runs_of("notify-send")]


def test_each_stage_is_told_once_on_the_first_run_that_sees_it(lone: Cli, shown: Standins) -> None:
    told = {}
    for day in range((date(2026, 7, 10) - date(2026, 5, 1)).days):
        lone.today = (date(2026, 5, 1) + timedelta(days=day)).isoformat()
        for _ in range(2 if day % 10 == 0 else 1):
            for item in lone.json("nudge", "now")["told"]:
                told[lone.today] = item["stage"]
    # Coming up 30 days before, overdue 14 days after.
    assert told == {"2026-05-11": "coming up", "2026-06-10": "due", "2026-06-24": "overdue"}
    assert [words[-2].split(":")[0] for words in shown.runs_of("notify-send")] == [
        "Coming up",
        "Due",
        "Overdue",
    ]


def test_what_is_seen_first_when_it_is_overdue_is_told_as_overdue_alone(lone: Cli, shown: Standins) -> None:
    lone.today = "2026-09-01"
    text = lone.ok("nudge", "now")
    assert "Told through notify-send:" in text
    assert "Overdue since 10 Jun 2026: Lone, pressure test" in text
    assert CAUTION_START in text
    assert lone.ok("nudge", "now").strip() == "Nothing new."
    assert len(bodies(shown)) == 1


def test_a_notification_says_what_when_why_and_the_caution(lone: Cli, shown: Standins) -> None:
    lone.today = "2026-06-10"
    lone.ok("nudge", "now")
    (words,) = shown.runs_of("notify-send")
    assert words[-3:-1] == ["--", "Due: Lone, pressure test"]
    assert (
        words[-1] == f"Since 10 Jun 2026: 12 months after the last test passed at 3 bar or more.\n{CAUTION}"
    )


def test_nothing_due_needs_no_notifier(lone: Cli, standins: Standins) -> None:
    assert lone.ok("nudge", "now").strip() == "Nothing new."
    assert lone.json("nudge", "now")["told"] == []


def test_a_snooze_silences_until_its_day_and_then_notifies_once(lone: Cli, shown: Standins) -> None:
    lone.today = "2026-06-10"
    lone.ok("nudge", "now")
    lone.ok("snooze", "1:pressure-test", "--until", "2026-06-20")
    heard = []
    for day in (
        "2026-06-11",
        "2026-06-19",
        "2026-06-20",
        "2026-06-20",
        "2026-06-21",
        "2026-06-24",
        "2026-06-25",
    ):
        lone.today = day
        heard += [(day, item["stage"]) for item in lone.json("nudge", "now")["told"]]
    assert heard == [("2026-06-20", "due"), ("2026-06-24", "overdue")]


def test_what_is_done_is_told_again_a_year_later(lone: Cli, shown: Standins) -> None:
    lone.today = "2026-06-10"
    lone.ok("nudge", "now")
    lone.ok("done", "1:pressure-test", "--passed", "--bar", "10")
    assert lone.ok("nudge", "now").strip() == "Nothing new."
    lone.today = "2027-05-12"
    assert [
        item["stage"] for item in lone.json("nudge", "now")["told"] if item["task"] == "pressure-test"
    ] == ["coming up"]


def test_a_date_put_off_by_a_longer_interval_is_told_anew(lone: Cli, shown: Standins) -> None:
    lone.today = "2026-06-10"
    lone.ok("nudge", "now")
    lone.ok("watch", "edit", "Lone", "--interval", "pressure-test=24")
    assert lone.ok("nudge", "now").strip() == "Nothing new."
    lone.today = "2027-06-10"
    told = lone.json("nudge", "now")["told"]
    assert [(item["task"], item["stage"]) for item in told if item["task"] == "pressure-test"] == [
        ("pressure-test", "due")
    ]


def test_a_day_to_come_is_not_told_as_if_it_had_come(lone: Cli, shown: Standins) -> None:
    lone.today, lone.clock = "2026-06-30", "2026-03-15"
    said = lone.refused("nudge", "now")
    assert "--today 2026-06-30 lies ahead: today is 15 Mar 2026." in said
    assert "logbook due --today 2026-06-30" in said
    assert bodies(shown) == []
    lone.clock = "2026-06-30"
    assert [item["stage"] for item in lone.json("nudge", "now")["told"]] == ["overdue"]


def test_a_day_that_has_passed_may_be_told(lone: Cli, shown: Standins) -> None:
    lone.today, lone.clock = "2026-06-30", "2026-07-20"
    assert [item["stage"] for item in lone.json("nudge", "now")["told"]] == ["overdue"]


def test_a_small_shift_of_the_date_is_told_in_every_stage_anew(lone: Cli, shown: Standins) -> None:
    told = []
    for day, interval in (
        ("2026-06-10", None),
        ("2026-06-30", None),
        ("2026-07-01", "14"),
        ("2026-07-15", None),
        ("2026-08-10", None),
        ("2026-08-11", None),
        ("2026-09-20", None),
        ("2026-12-01", None),
    ):
        lone.today = day
        if interval:
            lone.ok("watch", "edit", "Lone", "--interval", f"pressure-test={interval}")
        told += [(day, item["stage"], item["due"]) for item in lone.json("nudge", "now")["told"]]
    assert told == [
        ("2026-06-10", "due", "2026-06-10"),
        ("2026-06-30", "overdue", "2026-06-10"),
        ("2026-07-15", "coming up", "2026-08-10"),
        ("2026-08-10", "due", "2026-08-10"),
        ("2026-09-20", "overdue", "2026-08-10"),
    ]


def alike(cli: Cli, count: int) -> None:
    """So many watches whose pressure test was due on 10 March 2026."""
    for n in range(count):
        cli.ok(*(word.replace("Lone", f"Drawer {n}").replace("2025-06", "2025-03") for word in LONE))


def test_many_new_items_share_notifications_and_each_is_named_once(bare: Cli, shown: Standins) -> None:
    alike(bare, 13)
    told = bare.json("nudge", "now")["services"]
    assert len(told) == 13
    texts = bodies(shown)
    assert len(texts) == -(-len(told) // 10)
    lines = [line for text in texts for line in text.splitlines() if line != CAUTION]
    assert len(lines) == len(set(lines)) == len(told)


def test_the_tasks_of_a_watch_are_told_together_and_once_a_stage(cli: Cli, shown: Standins) -> None:
    document = cli.json("nudge", "now")
    (paper,) = [service for service in document["services"] if service["watch"] == "Paper white"]
    assert len(paper["items"]) > 1
    assert set(paper["items"]) <= {item["id"] for item in document["told"]}
    titles = [words[-2] for words in shown.runs_of("notify-send")]
    assert [title for title in titles if "Paper white" in title] == [
        "Due: Paper white, service: gaskets, pressure test"
    ]
    for day in ("2026-03-16", "2026-03-28", "2026-03-29", "2026-04-20"):  # overdue from the 29th on
        cli.today = day
        assert ("Overdue since 15 Mar 2026: Paper white" in cli.ok("nudge", "now")) is (day == "2026-03-29")


def test_the_owners_command_is_given_one_document_with_all_that_is_new(cli: Cli, shown: Standins) -> None:
    mine = shown.add("my-pager")
    configure([str(mine), "--to", "a room; rm -rf $HOME"])
    told = cli.json("nudge", "now")
    assert told["notifier"] == str(mine)
    (document,) = shown.given("my-pager")
    assert shown.runs_of("my-pager") == [["--to", "a room; rm -rf $HOME"]]
    assert set(document) == {"items", "services", "title", "text", "caution"}
    assert [item["id"] for item in document["items"]] == [item["id"] for item in told["told"]]
    assert set(document["items"][0]) >= {"id", "watch", "task", "stage", "due", "why"}
    assert document["caution"] == CAUTION
    assert shown.runs_of("notify-send") == []


def test_on_macos_the_text_is_handed_to_the_script_as_arguments(lone: Cli, standins: Standins) -> None:
    standins.add("osascript")
    lone.ok("watch", "edit", "Lone", "--name", '" & (do shell script "true") & "')
    lone.today = "2026-06-10"
    lone.ok("nudge", "now")
    (words,) = standins.runs_of("osascript")
    script = [words[n + 1] for n, word in enumerate(words) if word == "-e"]
    assert script[0] == "on run argv"
    assert not any("do shell" in line for line in script)
    assert words[-2] == 'Due: " & (do shell script "true") & ", pressure test'


def test_a_nickname_is_neither_an_option_nor_markup(lone: Cli, shown: Standins) -> None:
    lone.ok("watch", "edit", "Lone", "--name", "--<b>&amp;\\n</b>")
    lone.today = "2026-06-10"
    lone.ok("watch", "add", "Two", "--seals", "NBR", "--tested", "2025-06-10", "--tested-bar", "3")
    for n in range(3):
        lone.ok("watch", "add", f"Three {n}", "--seals", "NBR", "--bar", "3", "--worn", "0")
    lone.ok("nudge", "now")
    (words,) = shown.runs_of("notify-send")
    assert words[:2] == ["--urgency=normal", "--"]
    # The body is Pango markup in which notify-send itself reads backslashes, as C strings have them.
    assert "--&lt;b&gt;&amp;amp;\\\\n&lt;/b&gt;, pressure test" in words[-1]
    assert "<b>" not in words[-1]


def test_without_a_notifier_it_says_what_to_install_and_stays_untold(lone: Cli, standins: Standins) -> None:
    lone.today = "2026-06-10"
    answer = lone("nudge", "now")
    assert (answer.code, answer.out) == (4, "")
    assert "notify-send" in answer.err
    assert "nudge.toml" in answer.err
    standins.add("notify-send")
    assert len(lone.json("nudge", "now")["told"]) == 1


def test_a_notifier_that_fails_leaves_its_item_untold(lone: Cli, standins: Standins) -> None:
    standins.add("notify-send", 'sys.exit("the bus is \\x1b[31m not there")')
    lone.today = "2026-06-10"
    for _ in range(2):
        answer = lone("nudge", "now")
        assert answer.code == 4
        assert answer.err == "notify-send ended with code 1: the bus is \\x1b[31m not there.\n"
    standins.add("notify-send")
    assert len(lone.json("nudge", "now")["told"]) == 1
    assert lone.ok("nudge", "now").strip() == "Nothing new."


def test_of_several_notifications_only_those_that_failed_are_tried_again(
    lone: Cli, standins: Standins
) -> None:
    lone.ok(*("Two" if word == "Lone" else word for word in LONE))
    standins.add("notify-send", "sys.exit(sys.argv[-2].startswith('Due: Two') and 1 or 0)")
    lone.today = "2026-06-10"
    assert lone("nudge", "now").code == 4
    standins.add("notify-send")
    assert [item["watch"] for item in lone.json("nudge", "now")["told"]] == ["Two"]
    titles = [words[-2] for words in standins.runs_of("notify-send")]
    assert [title for title in titles if "Lone" in title] == ["Due: Lone, pressure test"]


def test_a_notifier_that_hangs_is_stopped(
    lone: Cli, standins: Standins, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("logbook.reminders.programs.LIMIT_S", 0.5)
    standins.add("notify-send", "import signal; signal.pause()")
    lone.today = "2026-06-10"
    answer = lone("nudge", "now")
    assert answer.code == 4
    assert "took longer than 0.5 seconds" in answer.err


def test_a_claim_whose_process_died_is_taken_over_after_ten_minutes(lone: Cli, shown: Standins) -> None:
    from logbook.record.file.store import Store
    from logbook.record.reading.sql import run

    lone.today = "2026-06-10"
    for minutes, told in ((9, 0), (11, 1)):
        claimed = (datetime.now(UTC) - timedelta(minutes=minutes)).isoformat(timespec="microseconds")
        with Store.open(lone.file) as store, store.transaction() as session:
            run(session, "DELETE FROM told")
            run(
                session,
                "INSERT INTO told VALUES ('1:pressure-test:2025-06-10', 'due', '', '2026-06-10', ?, NULL)",
                (claimed,),
            )
        assert len(lone.json("nudge", "now")["told"]) == told


def test_processes_at_once_tell_each_item_once(bare: Cli, shown: Standins) -> None:
    alike(bare, 5)
    words = ["nudge", "now", "--json", "--file", str(bare.file), "--today", bare.today]
    program = [sys.executable, "-m", "logbook", *words]
    running = [subprocess.Popen(program, stdout=subprocess.PIPE, stderr=subprocess.PIPE) for _ in range(3)]
    ended = [(*each.communicate(timeout=120), each.returncode) for each in running]
    assert [code for *_, code in ended] == [0, 0, 0], ended
    lines = [line for text in bodies(shown) for line in text.splitlines() if line != CAUTION]
    assert len(lines) == len(set(lines)) == len(bare("due", "--json").json["services"]) == 5


def test_a_run_outside_the_session_finds_the_desktops_bus(
    lone: Cli, shown: Standins, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    folder = Path("/tmp") / f"logbook-bus-{os.getpid()}"  # the name of a socket is limited to some 100 bytes
    folder.mkdir()
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(folder))
    lone.today = "2026-06-10"
    with socket.socket(socket.AF_UNIX) as listening:
        try:
            listening.bind(str(folder / "bus"))
            lone.ok("nudge", "now")
        finally:
            (folder / "bus").unlink(missing_ok=True)
            folder.rmdir()
    assert [bus for *_, bus in shown.ran] == [f"unix:path={folder}/bus"]


# Zones and a day on which their clocks change, each in 2026 (the rules of the tz database).
CHANGES = (
    ("Europe/Berlin", date(2026, 3, 29)),
    ("Europe/Berlin", date(2026, 10, 25)),
    ("America/New_York", date(2026, 3, 8)),
    ("America/Santiago", date(2026, 9, 6)),  # at midnight: the day begins at one o'clock
    ("Australia/Lord_Howe", date(2026, 4, 5)),  # by half an hour
    ("Pacific/Auckland", date(2026, 9, 27)),
    ("Asia/Beirut", date(2026, 3, 29)),  # at midnight
    ("Pacific/Kiritimati", date(2026, 3, 29)),  # fourteen hours ahead, no change
)


@pytest.mark.parametrize(("zone", "day"), CHANGES)
def test_clocks_that_change_neither_lose_nor_double_a_notice(
    zone: str, day: date, bare: Cli, shown: Standins, monkeypatch: pytest.MonkeyPatch
) -> None:
    bare.today = (day - timedelta(days=2)).isoformat()
    tested = day.replace(year=2025).isoformat()
    bare.ok(
        "watch", "add", "Lone", "--bar", "10", "--use", "swimming", "--fitted", "2025-01-01", "--tested",
        tested, "--tested-bar", "10", "--recorded-from", "2025-01-01", "--worn", "0", "--winds", "0",
    )  # fmt: skip
    monkeypatch.setenv("TZ", zone)
    time.tzset()
    midnight = datetime.combine(day, datetime.min.time(), UTC)
    due_on = []
    for hours in range(-30, 36, 6):
        moment = (midnight + timedelta(hours=hours)).timestamp()

        class Clock(datetime):
            """The machine's clock, stopped."""

            at = moment

            @classmethod
            def now(cls, tz=None):  # type: ignore[no-untyped-def]
                return datetime.fromtimestamp(cls.at, tz)

        monkeypatch.setattr("logbook.cli.asked.datetime", Clock)
        from logbook.cli.app import run

        before = len(shown.runs_of("notify-send"))
        assert run(["nudge", "now", "--file", str(bare.file)]) == 0
        civil = datetime.fromtimestamp(moment).astimezone().date()
        due_on += [
            (civil, words[-2])
            for words in shown.runs_of("notify-send")[before:]
            if words[-2].startswith("Due")
        ]
    assert due_on == [(day, "Due: Lone, pressure test")]
