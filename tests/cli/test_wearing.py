"""`logbook habit`, `worn`, `wore`, `confirm`."""

from __future__ import annotations

import pytest

from tests.cli.running import Cli


def test_a_habit_counts_its_times_a_day(cli: Cli) -> None:
    document = cli.json("habit", "lido", "shower 8min", "--per", "day", "2", "--from", "2026-01-01")
    (entry,) = document["entries"]
    assert (entry["per_day"], entry["from_on"], entry["to_on"]) == (2.0, "2026-01-01", None)
    assert entry["exposure"]["duration_s"] == 480
    assert cli.everything()["habits"][0]["id"] == entry["id"]


def test_a_habit_may_be_counted_by_the_week(cli: Cli) -> None:
    text = cli.ok(
        "habit", "lido", "pool", "45min", "--per", "week", "3", "--from", "2026-01-01", "--to", "2026-12-31"
    )
    assert "3 a week from 1 Jan 2026 to 31 Dec 2026" in " ".join(text.split())
    assert cli.everything()["habits"][0]["per_day"] == pytest.approx(3 / 7, abs=1e-4)


def test_a_habit_wears_the_seals_from_its_first_day(cli: Cli) -> None:
    before = cli.score("lido")["seals"][0]["channels"]["chemicals"]
    cli.ok("habit", "lido", "shower", "--per", "day", "1", "--from", "2026-01-01")
    assert cli.score("lido")["seals"][0]["channels"]["chemicals"] > before


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("shower", "--per", "day", "0"), "above 0"),
        (("shower", "--per", "day", "99"), "out of range"),
        (("shower", "--per", "month", "1"), "'month' is no span of time"),
        (("shower", "--per", "day", "1", "--from", "2026-03-16"), "lies in the future"),
        (("shower", "--per", "day", "1", "--from", "2024-04-30"), "first date, 2024-05-01"),
        (("shower", "--per", "day", "1", "--from", "2026-03-01", "--to", "2026-02-01"), "before it begins"),
        (("shower flurb", "--per", "day", "1"), "'flurb' is not understood"),
        (("shower",), "Missing option '--per'"),
    ],
)
def test_a_habit_that_cannot_be_is_refused(cli: Cli, words: tuple[str, ...], expected: str) -> None:
    assert expected in cli.refused("habit", "lido", *words)


def test_a_worn_stretch_has_days_and_hours(cli: Cli) -> None:
    document = cli.json("worn", "reed", "--from", "2026-01-01", "--to", "2026-01-10", "--hours", "14")
    (entry,) = document["entries"]
    assert (entry["from_on"], entry["to_on"], entry["hours_per_day"]) == ("2026-01-01", "2026-01-10", 14.0)
    assert "worn 14 h a day" in cli.ok(
        "worn", "reed", "--from", "2026-02-01", "--to", "2026-02-02", "--hours", "14h"
    )


@pytest.mark.parametrize(
    ("since", "until", "hours", "expected"),
    [
        ("2026-01-01", "2026-01-10", "25", "a day has no more"),
        ("2026-01-01", "2026-01-10", "-1", "out of range"),
        ("2026-01-10", "2026-01-01", "9", "before it begins"),
        ("2026-01-10", "2026-03-16", "9", "lies in the future"),
        ("2026-01-10", "2026-01-10", "lots", "is no number"),
    ],
)
def test_a_worn_stretch_that_cannot_be_is_refused(
    cli: Cli, since: str, until: str, hours: str, expected: str
) -> None:
    assert expected in cli.refused("worn", "reed", "--from", since, "--to", until, "--hours", hours)


def test_twelve_hours_are_shared_out_between_the_watches_of_a_day(cli: Cli) -> None:
    entries = cli.json("wore", "reed", "lido", "paper", "--on", "2026-03-14")["entries"]
    assert {e["watch"] for e in entries} == {"Reed green", "Lido chrono", "Paper white"}
    assert {e["hours_per_day"] for e in entries} == {4.0}
    assert {(e["from_on"], e["to_on"]) for e in entries} == {("2026-03-14", "2026-03-14")}


def test_a_watch_worn_later_that_day_shares_its_hours(cli: Cli) -> None:
    cli.ok("wore", "reed", "lido")
    entries = cli.json("wore", "paper")["entries"]
    assert {e["watch"]: e["hours_per_day"] for e in entries} == {
        "Paper white": 4.0, "Reed green": 4.0, "Lido chrono": 4.0
    }  # fmt: skip
    assert "Already on record as worn today: Reed green. Nothing was added." in cli.refused("wore", "reed")
    cli.ok("undo")
    assert {e["hours_per_day"] for e in cli.everything()["worn"]} == {6.0}


def test_hours_that_were_given_for_a_day_are_not_shared(cli: Cli) -> None:
    cli.ok("worn", "reed", "--from", "2026-03-15", "--to", "2026-03-15", "--hours", "5")
    assert [e["hours_per_day"] for e in cli.json("wore", "lido")["entries"]] == [12.0]


def test_a_watch_named_twice_is_worn_once(cli: Cli) -> None:
    assert [e["hours_per_day"] for e in cli.json("wore", "reed", "Reed green")["entries"]] == [12.0]


def test_a_day_ahead_cannot_have_been_worn(cli: Cli) -> None:
    assert "lies in the future" in cli.refused("wore", "reed", "--on", "2026-03-16")
    assert "There is no watch 'zebra'" in cli.refused("wore", "zebra")


def test_confirm_without_a_name_is_of_every_watch(cli: Cli) -> None:
    assert cli.json("confirm")["confirmed"] == ["Lido chrono", "Paper white", "Reed green"]
    assert {w["confirmed_on"] for w in cli.everything()["watches"]} == {"2026-03-15"}


def test_a_confirmed_record_is_not_silent(cli: Cli) -> None:
    cli.today = "2026-12-15"
    assert "record-silent" in [s["code"] for s in cli.score("lido")["stops"]]
    assert "Nothing else happened to Lido chrono up to 15 Dec 2026." in cli.ok("confirm", "lido")
    assert "record-silent" not in [s["code"] for s in cli.score("lido")["stops"]]
    assert "record-silent" in [s["code"] for s in cli.score("reed")["stops"]]
